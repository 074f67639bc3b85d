/** The footprint of a stroke: how much glass it takes in a minute, ring by ring. */
import { ringPressure } from "./figuringPressure.ts";
import { type FiguringStroke, ordinaryStroke } from "./figuringStrokes.ts";

/** Glass taken in a minute, against the distance from the centre. */
export interface Footprint {
  readonly stroke: FiguringStroke;
  /** share of the disc's radius, 0 to 1 */
  readonly at: Float64Array;
  /** nm of glass a minute */
  readonly nmPerMinute: Float64Array;
}

const rings = 48;
/** Places along half a stroke: the rim of the upper disc must not draw steps. */
const places = 16;

const known = new Map<string, Float64Array>();

/** Glass by ring, in units of mean pressure times path. */
function shape(stroke: FiguringStroke): Float64Array {
  const { face, lap, travel, offset } = stroke, key = `${face} ${lap} ${travel} ${offset}`;
  const found = known.get(key) ?? work(stroke);
  known.set(key, found);
  return found;
}

/**
 * Pressure times path over all places of the stroke, the mirror turned evenly under it.
 *
 * A fresh lap fits: the load spreads over the overlap as it must to balance, in a straight line from side to side.
 */
function work({ face, lap, travel, offset }: FiguringStroke): Float64Array {
  const taken = new Float64Array(rings), finer = 2;
  for (let place = 0; place < places; place++) {
    const along = travel * (place + 0.5) / places;
    const resting = { lap, face, apart: Math.hypot(along, 2 * offset) };
    const pressure = ringPressure(resting, finer * rings);
    for (let ring = 0; ring < rings; ring++) {
      const inner = pressure[2 * ring] ?? 0, outer = pressure[2 * ring + 1] ?? 0;
      // two rings as one, by their areas
      const mean = (inner * (4 * ring + 1) + outer * (4 * ring + 3)) / (8 * ring + 4);
      taken[ring] = (taken[ring] ?? 0) + mean * travel / places;
    }
  }
  return taken;
}

/**
 * Footprint of a stroke on a lap that has just been pressed, turned so that no place comes twice.
 *
 * Tied to what the maker knows: the rate at the centre in ordinary polishing, with the same weight and as many strokes a
 * minute. Both go into every stroke alike.
 *
 * @param stroke         see `figuringStrokes`
 * @param rateUmPerHour  of ordinary polishing at the centre, above 0; 1.3 in this course until it has been measured
 * @throws {RangeError} where the stroke tips the upper disc, or the rate is not above 0
 * @see Preston's law and the balance of `ringPressure`; pitch that flows and wears in during the spell is left out, so spells
 *   must be short and the lap pressed before each
 * @example long strokes to the side take from the middle, a lap on top spares it
 * ```ts
 * import assert from "node:assert/strict";
 * import { figuringStroke, ordinaryStroke } from "./figuringStrokes.ts";
 * assert.equal(strokeFootprint(ordinaryStroke, 1.3).nmPerMinute[0]?.toFixed(1), "21.7");
 * const side = strokeFootprint(figuringStroke("down", 1, 1 / 2, 1 / 4), 1.3).nmPerMinute;
 * assert.ok((side[0] ?? 0) > 10 * (side[47] ?? Infinity));
 * ```
 */
export function strokeFootprint(stroke: FiguringStroke, rateUmPerHour: number): Footprint {
  if (!(rateUmPerHour > 0 && rateUmPerHour < 1000)) {
    throw new RangeError(
      `strokeFootprint requires a rate above 0 um/h, got rateUmPerHour=${rateUmPerHour}`,
    );
  }
  const unit = rateUmPerHour * 1000 / 60 / (shape(ordinaryStroke)[0] ?? 1);
  return {
    stroke,
    at: Float64Array.from({ length: rings }, (_, i) => (i + 0.5) / rings),
    nmPerMinute: shape(stroke).map((v) => v * unit * stroke.press),
  };
}

/** Glass a minute at one distance from the centre, nm: straight between rings, straight on at both ends. */
export function footprintAt({ at, nmPerMinute }: Footprint, share: number): number {
  const across = Math.max(0, share * rings - 0.5), last = at.length - 2;
  const inner = Math.min(Math.floor(across), last), t = across - inner;
  const from = nmPerMinute[inner] ?? 0, to = nmPerMinute[inner + 1] ?? 0;
  return Math.max(0, from + t * (to - from));
}
