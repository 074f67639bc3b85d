/** A pitch lap: its size, its grid of channels, how much pitch it takes, and how much of it touches the glass. */

/** A lap as it is planned; lengths mm. */
export interface Lap {
  /** of the pitch */
  readonly diameter: number;
  readonly thickness: number;
  /** from the middle of one channel to the middle of the next */
  readonly spacing: number;
  /** width of a channel */
  readonly channel: number;
  /** from the lap's centre to the middle of a channel, across and along; [0, 0] puts a crossing in the centre */
  readonly offset: readonly [x: number, y: number];
  /** diameter of the disc it is poured on; default that of the lap */
  readonly disc?: number;
}

/**
 * The lap a course begins with: facets a sixth of the diameter apart, channels of a fifth of that, the grid a quarter and
 * a third of a spacing off the centre.
 *
 * @param diameter   mm, 20 to 1000
 * @param thickness  mm; default 7
 * @see COMMON PRACTICE: spacing D/6 to D/5, channels 4 to 6 mm
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([usualLap(150).spacing, usualLap(150).channel], [25, 5]);
 * ```
 */
export function usualLap(diameter: number, thickness = 7): Lap {
  const spacing = Math.max(10, 5 * Math.round(diameter / 30));
  return requireLap({
    diameter,
    thickness,
    spacing,
    channel: Math.min(spacing / 5, 6),
    offset: [Math.round(spacing * 0.24), Math.round(spacing * 0.36)],
  });
}

/**
 * Refuses a lap that cannot be made: wider than its disc, channels as wide as their spacing, no pitch.
 *
 * @throws {RangeError} for such a lap
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const lap = usualLap(150);
 * assert.throws(() => requireLap({ ...lap, disc: 140 }), /no wider than its disc/);
 * assert.throws(() => requireLap({ ...lap, channel: 13 }), /narrower than the facets/);
 * ```
 */
export function requireLap(lap: Lap): Lap {
  const { diameter, thickness, spacing, channel, offset, disc = diameter } = lap;
  const sizes = [diameter, thickness, spacing, channel, disc];
  if (!(sizes.every((v) => v > 0 && v < 10000) && offset.every(Number.isFinite))) {
    throw new RangeError(
      `a lap requires sizes above 0 mm and a finite offset, got diameter=${diameter}, thickness=${thickness}, spacing=${spacing}, channel=${channel}, disc=${disc}, offset=${offset}`,
    );
  }
  if (diameter > disc) {
    throw new RangeError(
      `a lap requires a diameter no wider than its disc in mm, got diameter=${diameter}, disc=${disc}`,
    );
  }
  if (!(channel < spacing - channel)) {
    throw new RangeError(
      `a lap requires channels narrower than the facets between them in mm, got channel=${channel}, facet=${
        spacing - channel
      }`,
    );
  }
  if (!(spacing < diameter)) {
    throw new RangeError(
      `a lap requires more than one facet, got spacing=${spacing}, diameter=${diameter}`,
    );
  }
  return lap;
}

/** Pitch for one lap. */
export interface PitchNeeded {
  /** of the poured disc, mm3 */
  readonly volume: number;
  readonly grams: number;
  /** to melt: 30 to 50 % more, for what stays in the pot and runs over the dam */
  readonly melt: { readonly least: number; readonly most: number };
}

/**
 * How much pitch to pour and to melt.
 *
 *     V = pi D^2 t / 4
 *
 * @param lap             size; the channels are cut later and their pitch is not poured again
 * @param densityKgPerM3  of the pitch; default 1100 (1050 to 1150, from memory)
 * @throws {RangeError} outside `requireLap`, or a density not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { volume, grams } = pitchNeeded(usualLap(150));
 * assert.deepEqual([(volume / 1000).toFixed(1), grams.toFixed(0)], ["123.7", "136"]);
 * ```
 */
export function pitchNeeded(
  lap: Pick<Lap, "diameter" | "thickness">,
  densityKgPerM3 = 1100,
): PitchNeeded {
  const { diameter, thickness } = lap;
  if (!(diameter > 0 && thickness > 0 && densityKgPerM3 > 0 && densityKgPerM3 < 5000)) {
    throw new RangeError(
      `pitchNeeded requires diameter and thickness above 0 mm and a density above 0 kg/m3, got ${diameter}, ${thickness}, ${densityKgPerM3}`,
    );
  }
  const volume = Math.PI * diameter ** 2 * thickness / 4;
  const grams = volume * densityKgPerM3 / 1e6;
  return { volume, grams, melt: { least: 1.3 * grams, most: 1.5 * grams } };
}

/** Lines across the lap, looked at for contact; 4000 hold the share to 0.0001. */
const lines = 4000;

/**
 * Share of the lap that is facet and touches the glass, 0 to 1.
 *
 * On a grid without end it is (1 - channel / spacing)^2; the round rim moves it a little.
 *
 * @throws {RangeError} outside `requireLap`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const lap = { diameter: 150, thickness: 7, spacing: 25, channel: 5, offset: [6, 9] } as const;
 * assert.equal(lapContact(lap).toFixed(3), "0.637");
 * ```
 */
export function lapContact(lap: Lap): number {
  const { diameter, spacing, channel, offset } = requireLap(lap);
  const radius = diameter / 2, step = diameter / lines;
  let touching = 0;
  for (let i = 0; i < lines; i++) {
    const y = -radius + (i + 0.5) * step;
    if (isChannel(y - offset[1], spacing, channel)) continue;
    const half = Math.sqrt(radius * radius - y * y);
    const along = facetLength(half - offset[0], spacing, channel) -
      facetLength(-half - offset[0], spacing, channel);
    touching += along * step;
  }
  return touching / (Math.PI * radius * radius);
}

/** Whether a place across the grid, from the middle of a channel, lies in a channel. */
function isChannel(place: number, spacing: number, channel: number): boolean {
  const within = place - spacing * Math.round(place / spacing);
  return Math.abs(within) < channel / 2;
}

/** Facet between the middle of a channel and a place, mm; below 0 to the other side. */
function facetLength(place: number, spacing: number, channel: number): number {
  const whole = Math.floor(place / spacing), rest = place - whole * spacing;
  const facet = spacing - channel;
  return whole * facet + Math.min(Math.max(rest - channel / 2, 0), facet);
}

/**
 * Whether a place of the lap is pitch, from the lap's centre, mm.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(isFacet({ ...usualLap(150), offset: [0, 0] }, 0, 0), false);
 * ```
 */
export function isFacet(
  { spacing, channel, offset, diameter }: Lap,
  x: number,
  y: number,
): boolean {
  return Math.hypot(x, y) < diameter / 2 && !isChannel(x - offset[0], spacing, channel) &&
    !isChannel(y - offset[1], spacing, channel);
}
