/**
 * Numbers in bulk from a curve that falls to both sides of its middle alike: the ziggurat of Marsaglia and Tsang (2000,
 * from memory). The half under the curve is cut into layers of equal area; a number takes its layer and its place in it
 * from different random bits, and all but one in eighty lie surely under the curve.
 */
import { findRoot } from "./rootFinding.ts";
import { nextWord } from "./sfc32.ts";

/** One half of a curve that is 1 in its middle and falls from there; it need not have unit area. */
export interface FallingCurve {
  /** its height at x of 0 or more */
  height(x: number): number;
  /** where it has that height, 0 < y <= 1 */
  width(y: number): number;
  /** area under it beyond x */
  beyond(x: number): number;
  /** a place beyond `start`, as often as the curve says; `next` gives numbers above 0, up to 1 */
  drawBeyond(start: number, next: () => number): number;
}

/** The layers of a curve, the lowest and widest first. */
export interface Ziggurat {
  readonly curve: FallingCurve;
  /** right ends; the lowest layer's is its area over its height */
  readonly ends: Float64Array;
  /** right ends as the worth of one unit of a signed 32-bit place */
  readonly units: Float64Array;
  /** places nearer to the middle than this are surely under the curve */
  readonly sure: Int32Array;
  /** height of the curve at each end */
  readonly heights: Float64Array;
}

const LAYERS = 256;

/**
 * Cuts a curve into layers.
 *
 * @param curve  falls from 1 towards 0, with a finite area
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { ends } = zigguratOf({
 *   height: (x) => Math.exp(-x), width: (y) => -Math.log(y), beyond: (x) => Math.exp(-x),
 *   drawBeyond: (start, next) => start - Math.log(next()),
 * });
 * assert.equal(ends[1]?.toFixed(4), "7.6971"); // MEMORY: Marsaglia and Tsang's exponential of 256 layers
 * ```
 */
export function zigguratOf(curve: FallingCurve): Ziggurat {
  let low = 1, high = 2;
  while (gapAtTop(curve, high) < 0) [low, high] = [high, 2 * high];
  const ends = stack(curve, findRoot((start) => gapAtTop(curve, start), low, high));
  return {
    curve,
    ends,
    units: ends.map((x) => x * 2 ** -31),
    sure: Int32Array.from(
      { length: LAYERS },
      (_, i) => 2 ** 31 * (ends[i + 1] ?? 0) / (ends[i] ?? 1),
    ),
    heights: ends.map((x, i) => i === LAYERS ? 1 : curve.height(x)),
  };
}

/** Right ends of the layers where the tail begins at `start`; 0 from the layer that reaches the top. */
function stack(curve: FallingCurve, start: number): Float64Array {
  const area = layerArea(curve, start), ends = new Float64Array(LAYERS + 1);
  ends[0] = area / curve.height(start);
  for (let i = 1, x = start; i < LAYERS && x > 0; i++) {
    ends[i] = x;
    x = curve.width(Math.min(1, curve.height(x) + area / x));
  }
  return ends;
}

/** What the last layer lacks to the top, as a share of its area; far below 0 where the top is reached too soon. */
function gapAtTop(curve: FallingCurve, start: number): number {
  const last = stack(curve, start)[LAYERS - 1] ?? 0;
  return last * (1 - curve.height(last)) / layerArea(curve, start) - 1;
}

function layerArea(curve: FallingCurve, start: number): number {
  return start * curve.height(start) + curve.beyond(start);
}

/**
 * Fills an array with independent numbers, middle + spread x (a place under the curve, to either side).
 *
 * The generator's turn is written out in the loop (it is `nextWord` of sfc32.ts): two thirds of the time are saved.
 *
 * @param out     array to fill
 * @param state   the generator's a, b, c and counter; moved on
 * @param layers  from `zigguratOf`
 * @param middle  default 0
 * @param spread  default 1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { bell } from "./bells.ts";
 * const out = new Float64Array(10000);
 * fillZiggurat(out, Int32Array.of(11, 22, 33, 1), bell());
 * assert.ok(Math.abs(out.reduce((sum, z) => sum + z, 0) / 10000) < 0.04);
 * ```
 */
export function fillZiggurat(
  out: Float64Array,
  state: Int32Array,
  layers: Ziggurat,
  middle = 0,
  spread = 1,
): void {
  const { units, sure } = layers;
  let a = state[0] ?? 0, b = state[1] ?? 0, c = state[2] ?? 0, counter = state[3] ?? 0;
  for (let n = 0; n < out.length; n++) {
    const low = (a + b + counter) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + low) | 0;
    const high = (a + b + counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + high) | 0;
    counter = (counter + 2) | 0;
    const layer = low & (LAYERS - 1);
    const x = (high + (low >>> 8) * 2 ** -24) * (units[layer] ?? 0); // 56 bits of place
    if ((high ^ (high >> 31)) < (sure[layer] ?? 0)) { // the size of a place below 0 is rounded down, as of one above
      out[n] = middle + spread * x;
    } else {
      state[0] = a, state[1] = b, state[2] = c, state[3] = counter;
      const y = unsure(x, layer, layers, state);
      a = state[0], b = state[1], c = state[2], counter = state[3];
      if (Number.isNaN(y)) n--;
      else out[n] = middle + spread * y;
    }
  }
  state[0] = a, state[1] = b, state[2] = c, state[3] = counter;
}

/** The place itself where it proves to lie under the curve, or one from the tail; NaN where it lies above the curve. */
function unsure(x: number, layer: number, layers: Ziggurat, state: Int32Array): number {
  const { curve, ends, heights } = layers, place = Math.abs(x);
  if (place < (ends[layer + 1] ?? 0)) return x;
  if (layer === 0) return Math.sign(x) * curve.drawBeyond(ends[1] ?? 0, () => aboveZero(state));
  const low = heights[layer] ?? 0, high = heights[layer + 1] ?? 1;
  return low + aboveZero(state) * (high - low) < curve.height(place) ? x : NaN;
}

/** 32 bits, above 0 and up to 1. */
function aboveZero(state: Int32Array): number {
  return ((nextWord(state) >>> 0) + 1) * 2 ** -32;
}
