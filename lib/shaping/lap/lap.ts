/** A pitch lap: its size, its grid of channels, how much pitch it takes, and how much of it touches the glass. */
import type { Overhang } from "../grinding/wearLaws.ts";

/** A lap as it is planned; lengths mm. */
export interface Lap {
  /** of the pitch */
  readonly diameter: number;
  /** of the pitch */
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
  /** for the poured disc */
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
 * @param densityKgPerM3  of the pitch; default 1100 (COMMON PRACTICE: 1050 to 1150)
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

// Pitch as a slow liquid: how fast it sinks under the mirror, how long to press it, whether it is too hard or too soft.

/** Standard gravity, m/s2. */
const gravity = 9.80665;
/** Pitch grows ten times thinner for so many degrees more. COMMON PRACTICE, an order of magnitude */
const tenfoldPerDegrees = 8;

/**
 * Viscosity of pitch at another temperature, Pa s: ten times less for every 8 degrees more.
 *
 * @param at20         at 20 degC, Pa s; usable pitch has 1e7 to 1e9, an order of magnitude, COMMON PRACTICE
 * @param temperature  degC, -20 to 60
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(pitchViscosity(1e8, 28).toExponential(0), "1e+7");
 * ```
 */
export function pitchViscosity(at20: number, temperature: number): number {
  if (!(at20 > 0 && at20 < Infinity && temperature >= -20 && temperature <= 60)) {
    throw new RangeError(
      `pitchViscosity requires a viscosity above 0 Pa s and -20 to 60 degC, got at20=${at20}, temperature=${temperature}`,
    );
  }
  return at20 * 10 ** ((20 - temperature) / tenfoldPerDegrees);
}

/** What presses on the lap. */
export interface Press {
  /** mirror and weights on it, kg */
  readonly loadKg: number;
  /** of the pitch as it is now, Pa s; see `pitchViscosity` */
  readonly viscosityPaS: number;
}

/** How the facets give way. */
export interface Sinking {
  /** how many the lap has */
  readonly facets: number;
  /** load on each, N */
  readonly newtonPerFacet: number;
  /** by which the pitch gives way, um/min */
  readonly umPerMinute: number;
}

/**
 * How fast the facets sink under a still load: each is a drop squeezed between two plates.
 *
 *     dh/dt = 2 F h^3 / (3 pi eta b^4),  b the radius of a round facet of the same area
 *
 * @throws {RangeError} outside `requireLap`, or where load or viscosity is not above 0
 * @see Stefan's squeezed film (derived in its test)
 * @example a soda-lime disc with two kilograms on it, 20 degC
 * ```ts
 * import assert from "node:assert/strict";
 * import { usualLap } from "./lap.ts";
 * const { umPerMinute } = lapSinking(usualLap(150), { loadKg: 3.25, viscosityPaS: 1e8 });
 * assert.equal(umPerMinute.toFixed(2), "3.04");
 * ```
 */
export function lapSinking(lap: Lap, { loadKg, viscosityPaS }: Press): Sinking {
  const { diameter, thickness, spacing, channel } = requireLap(lap);
  if (!(loadKg > 0 && viscosityPaS > 0 && loadKg < Infinity && viscosityPaS < Infinity)) {
    throw new RangeError(
      `lapSinking requires load and viscosity above 0, got loadKg=${loadKg}, viscosityPaS=${viscosityPaS}`,
    );
  }
  const facets = Math.PI * (diameter / 2) ** 2 / spacing ** 2;
  const newtonPerFacet = loadKg * gravity / facets;
  const b = (spacing - channel) / Math.sqrt(Math.PI) / 1000, h = thickness / 1000;
  const metrePerSecond = 2 * newtonPerFacet * h ** 3 / (3 * Math.PI * viscosityPaS * b ** 4);
  return { facets, newtonPerFacet, umPerMinute: metrePerSecond * 60e6 };
}

/** How long to press cold, min. */
export interface Pressing {
  /** most likely */
  readonly minutes: number;
  /** with pitch three times thinner or thicker than thought: nobody knows it better without a sink rate */
  readonly least: number;
  /** upper end of the same range */
  readonly most: number;
}

/**
 * How long to press cold until a misfit has flowed away.
 *
 * @param misfitUm     between lap and mirror, um, 0 or more
 * @param umPerMinute  from `lapSinking`, or measured
 * @param measuredRate whether the rate was measured; then the range is a third either way
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { minutes, least, most } = coldPressing(15, 3);
 * assert.deepEqual([minutes, least.toFixed(1), most], [5, "1.7", 15]);
 * ```
 */
export function coldPressing(
  misfitUm: number,
  umPerMinute: number,
  measuredRate = false,
): Pressing {
  if (!(misfitUm >= 0 && misfitUm < Infinity && umPerMinute > 0)) {
    throw new RangeError(
      `coldPressing requires a misfit of 0 or more and a rate above 0, got misfitUm=${misfitUm}, umPerMinute=${umPerMinute}`,
    );
  }
  const minutes = misfitUm / umPerMinute, doubt = measuredRate ? 4 / 3 : 3;
  return { minutes, least: minutes / doubt, most: minutes * doubt };
}

/** What a trial of the pitch says. */
export interface Hardness {
  /** how hard the pitch is */
  readonly is: "too soft" | "usable" | "too hard";
  /** what to do about it */
  readonly do: string;
}

/** Thumbnail pressed on cold pitch; seconds until it leaves a mark. COMMON PRACTICE */
const thumbnailSeconds = { softest: 2, hardest: 30 } as const;

/**
 * Hardness by the thumbnail at the temperature of the room you will polish in.
 *
 * @param seconds  until a mark shows; Infinity where none does
 * @throws {RangeError} below 0 or not a number
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(byThumbnail(8).is, "usable");
 * assert.equal(byThumbnail(Infinity).is, "too hard");
 * ```
 */
export function byThumbnail(seconds: number): Hardness {
  if (!(seconds >= 0)) {
    throw new RangeError(`byThumbnail requires seconds of 0 or more, got seconds=${seconds}`);
  }
  if (seconds < thumbnailSeconds.softest) return { is: "too soft", do: says["too soft"] };
  return seconds > thumbnailSeconds.hardest
    ? { is: "too hard", do: says["too hard"] }
    : { is: "usable", do: says.usable };
}

const says: Readonly<Record<Hardness["is"], string>> = {
  "too soft":
    "Temper it harder: a trained adult melts in lumps of a harder bought pitch, a tenth at a time, cools a coin of it in water of the room, away from the pot, and you try that cold coin.",
  usable: "Pour with it, and try again on the day you polish: pitch follows the room.",
  "too hard":
    "Temper it softer: a trained adult melts in lumps of a softer bought pitch, a tenth at a time, cools a coin of it in water of the room, away from the pot, and you try that cold coin. Nothing else goes into hot pitch.",
};

// Which rings of the mirror the facets rub more often than others: the reason why a grid is never centred.

/** How often one ring of the mirror has pitch under it. */
export interface RubbedRing {
  /** mm from the mirror's centre */
  readonly radius: number;
  /** share of the time over the lap during which a facet, not a channel, lies there */
  readonly share: number;
  /** the same over the mean of the whole mirror, less 1 */
  readonly excess: number;
}

/** How often a lap rubs each ring of the mirror. */
export interface Rubbing {
  /** from the middle outward */
  readonly rings: readonly RubbedRing[];
  /** rings rubbed too often or too seldom, one after another joined; mm */
  readonly ridges: readonly {
    readonly from: number;
    readonly to: number;
    readonly excess: number;
  }[];
  /** the largest departure from the mean, as a share */
  readonly worst: number;
  /** the usual departure, by area */
  readonly rms: number;
}

/** A ring rubbed by this share more or less than the mean is told of. INVENTED: measured nowhere */
const ringShows = 0.05;
const ringCount = 30;
const directions = 360;
const places = 24;

/**
 * Rubbing of the mirror's rings by the grid of the lap, for strokes with regular turning of both.
 *
 * With the lap turned evenly, only the distance from its centre counts: the share of facet on the circle there. A ring of
 * the mirror sees the mean of those circles over the stroke and over its own turn.
 *
 * @param lap     grid and size
 * @param stroke  offset and travel of the strokes, mm
 * @param aperture of the mirror, mm; default the lap's diameter
 * @throws {RangeError} outside `requireLap`, or for strokes that leave the lap
 * @example a crossing in the centre leaves rings, the same grid off centre half as much
 * ```ts
 * import assert from "node:assert/strict";
 * import { usualLap } from "./lap.ts";
 * const stroke = { offset: 0, travel: 50 }, lap = usualLap(150);
 * const centred = lapRubbing({ ...lap, offset: [0, 0] }, stroke);
 * assert.ok(centred.rms > 2 * lapRubbing(lap, stroke).rms);
 * ```
 */
export function lapRubbing(lap: Lap, stroke: Overhang, aperture: number = lap.diameter): Rubbing {
  requireLap(lap);
  const { offset, travel } = stroke;
  if (!(offset >= 0 && travel > 0 && Math.hypot(offset, travel / 2) < lap.diameter / 2)) {
    throw new RangeError(
      `lapRubbing requires strokes that stay on the lap, got offset=${offset}, travel=${travel} on ${lap.diameter} mm`,
    );
  }
  const circles = facetByCircle(lap);
  const seen = Array.from({ length: ringCount }, (_, i) => {
    const radius = (i + 0.5) * aperture / 2 / ringCount;
    return { radius, ...ringSeen(radius, circles, stroke, lap.diameter / 2) };
  });
  const whole = seen.reduce((sum, { radius, over }) => sum + radius * over, 0);
  const mean = seen.reduce((sum, { radius, facet }) => sum + radius * facet, 0) / whole;
  const rings = seen.map(({ radius, facet, over }) => {
    const share = facet / over;
    return { radius, share, excess: share / mean - 1 };
  });
  const worst = Math.max(...rings.map(({ excess }) => Math.abs(excess)));
  const square = rings.reduce((sum, { radius, excess }) => sum + radius * excess * excess, 0);
  const rms = Math.sqrt(square / rings.reduce((sum, { radius }) => sum + radius, 0));
  return { rings, ridges: ridgesOf(rings, aperture / 2 / ringCount), worst, rms };
}

/** Share of facet on circles about the lap's centre, half a millimetre apart. */
function facetByCircle(lap: Lap): Float64Array {
  const count = Math.ceil(lap.diameter);
  return Float64Array.from({ length: count }, (_, i) => {
    const radius = (i + 0.5) * lap.diameter / 2 / count;
    let facets = 0;
    for (let k = 0; k < directions; k++) {
      const angle = 2 * Math.PI * (k + 0.5) / directions;
      if (isFacet(lap, radius * Math.cos(angle), radius * Math.sin(angle))) facets++;
    }
    return facets / directions;
  });
}

function ringSeen(
  radius: number,
  circles: Float64Array,
  { offset, travel }: Overhang,
  reach: number,
): { facet: number; over: number } {
  let facet = 0, over = 0;
  for (let i = 0; i < places; i++) {
    const along = travel / 2 * ((i + 0.5) / places);
    for (let k = 0; k < directions; k += 4) {
      const angle = 2 * Math.PI * k / directions;
      const away = Math.hypot(
        radius * Math.cos(angle) - along,
        radius * Math.sin(angle) - offset,
      );
      const at = Math.floor(away / reach * circles.length);
      if (at >= circles.length) continue;
      over++;
      facet += circles[at] ?? 0;
    }
  }
  return { facet, over: Math.max(over, 1) };
}

function ridgesOf(rings: readonly RubbedRing[], width: number): Rubbing["ridges"] {
  const ridges: { from: number; to: number; excess: number }[] = [];
  for (const { radius, excess } of rings) {
    if (Math.abs(excess) < ringShows) continue;
    const last = ridges.at(-1);
    if (last && last.to > radius - width && last.excess * excess > 0) {
      last.to = radius + width / 2;
      if (Math.abs(excess) > Math.abs(last.excess)) last.excess = excess;
    } else ridges.push({ from: radius - width / 2, to: radius + width / 2, excess });
  }
  return ridges;
}
