/** Which rings of the mirror the facets rub more often than others: the reason why a grid is never centred. */
import { isFacet, type Lap, requireLap } from "./lap.ts";
import type { Overhang } from "../grinding/wearLaws.ts";

/** How often one ring of the mirror has pitch under it. */
export interface RubbedRing {
  /** mm from the mirror's centre */
  readonly radius: number;
  /** share of the time over the lap during which a facet, not a channel, lies there */
  readonly share: number;
  /** the same over the mean of the whole mirror, less 1 */
  readonly excess: number;
}

export interface Rubbing {
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
