/** The footprint of a stroke: how much glass it takes in a minute, ring by ring, found by working with it. */
import { type FiguringStroke, ordinaryStroke } from "./figuringStrokes.ts";
import { playRoutine } from "./routine.ts";
import { WearBench } from "./wear.ts";
import { wearSettings } from "./wearSettings.ts";

/** Glass taken in a minute, against the distance from the centre. */
export interface Footprint {
  readonly stroke: FiguringStroke;
  /** share of the disc's radius, 0 to 1 */
  readonly at: Float64Array;
  /** nm of glass a minute */
  readonly nmPerMinute: Float64Array;
}

const rings = 24, angles = 24, sets = 24;
/** Any size will do: everything goes in shares of it. */
const bench = 150;
/** Wear of what must not wear, mm2/N. */
const none = 1e-20;

const known = new Map<string, Float64Array>();

/** Glass by ring in units of the ordinary stroke's at the centre. */
function shape(stroke: FiguringStroke): Float64Array {
  const { face, lap, travel, offset } = stroke, key = `${face} ${lap} ${travel} ${offset}`;
  const found = known.get(key) ?? work(stroke);
  known.set(key, found);
  return found;
}

/**
 * Works 24 sets, turned by a third and an eighth, on a lap pressed to the glass.
 *
 * A fresh lap fits: the load spreads over the overlap as it must to balance, in a straight line from side to side. The lap
 * does not wear, the mirror does.
 */
function work({ face, lap, travel, offset }: FiguringStroke): Float64Array {
  const mirror = bench / 2, radius = mirror * lap, isDown = face === "down";
  const tool = new WearBench(
    wearSettings(bench, undefined, {
      upperRadius: isDown ? mirror : radius,
      lowerRadius: isDown ? radius : mirror,
      force: 60 * Math.min(1, lap) ** 2,
      upperWear: isDown ? 1e-6 : none,
      lowerWear: isDown ? none : 1e-6,
      pressure: "flat discs",
    }),
    { rings, angles },
  );
  const strokes = { offset: offset * bench, travel: travel * bench, strokes: 1 };
  const turns = { upperTurn: 2 * Math.PI / 3, lowerTurn: Math.PI / 4, setsPerTurn: 1 };
  for (const set of playRoutine({ ...strokes, ...turns }, sets)) tool.grind(set);
  const { rest, curve, grid } = isDown ? tool.worn.upper : tool.worn.lower;
  return Float64Array.from({ length: rings }, (_, ring) => {
    const row = rest.subarray(ring * angles, (ring + 1) * angles);
    const r = (ring + 0.5) * grid.radius / rings;
    return -(row.reduce((sum, h) => sum + h, 0) / angles + curve * r * r);
  });
}

/**
 * Footprint of a stroke with regular turning on a lap that has just been pressed.
 *
 * Tied to what the maker knows: the rate at the centre in ordinary polishing, with the same weight and as many strokes a
 * minute. Both go into every stroke alike.
 *
 * @param stroke         see `figuringStrokes`
 * @param rateUmPerHour  of ordinary polishing at the centre, above 0; 1.3 in this course until it has been measured
 * @throws {RangeError} where the stroke tips the upper disc, or the rate is not above 0
 * @see Preston's law and balance, by the wear engine of this kit; pitch that flows during the spell is left out, so spells
 *   must be short and the lap pressed before each
 * @example long strokes to the side take from the middle, a lap on top spares it
 * ```ts
 * import assert from "node:assert/strict";
 * import { figuringStroke, ordinaryStroke } from "./figuringStrokes.ts";
 * assert.equal(strokeFootprint(ordinaryStroke, 1.3).nmPerMinute[0]?.toFixed(1), "21.7");
 * const side = strokeFootprint(figuringStroke("down", 1, 1 / 2, 1 / 4), 1.3).nmPerMinute;
 * assert.ok((side[0] ?? 0) > 10 * (side[23] ?? Infinity));
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
    nmPerMinute: shape(stroke).map((v) => Math.max(0, v) * unit * stroke.press),
  };
}

/** Glass a minute at one distance from the centre, nm: straight between rings, straight on at both ends. */
export function footprintAt({ at, nmPerMinute }: Footprint, share: number): number {
  const across = Math.max(0, share * rings - 0.5), last = at.length - 2;
  const inner = Math.min(Math.floor(across), last), t = across - inner;
  const from = nmPerMinute[inner] ?? 0, to = nmPerMinute[inner + 1] ?? 0;
  return Math.max(0, from + t * (to - from));
}
