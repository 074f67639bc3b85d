import { nextWord } from "./sfc32.ts";

/**
 * Normal numbers in bulk: the ziggurat of Marsaglia and Tsang (2000, from memory), 128 layers of equal area under the
 * bell. Each number takes its layer and its place in it from different random bits.
 */
const LAYERS = 128;

/** Where the lowest layer's rectangle ends and the tail begins; the root of the equation in `layers`. */
const TAIL = 3.442619855899;

/** The bell, 1 in the middle. */
const bell = (x: number): number => Math.exp(-x * x / 2);

/** Right ends of the layers, the widest first; the first is the lowest layer's area over its height. */
const { ends, ratios, heights } = layers();

function layers(): { ends: Float64Array; ratios: Float64Array; heights: Float64Array } {
  const area = TAIL * bell(TAIL) + tailArea(TAIL);
  const x = new Float64Array(LAYERS + 1);
  x[0] = area / bell(TAIL);
  x[1] = TAIL;
  for (let i = 2; i < LAYERS; i++) {
    const before = x[i - 1] ?? 0;
    x[i] = Math.sqrt(-2 * Math.log(area / before + bell(before)));
  }
  return {
    ends: x,
    ratios: Float64Array.from({ length: LAYERS }, (_, i) => (x[i + 1] ?? 0) / (x[i] ?? 1)),
    heights: x.map(bell),
  };
}

/** Area under the bell beyond x, by its continued fraction; x of 3 and more. */
function tailArea(x: number): number {
  let fraction = x;
  for (let k = 60; k >= 1; k--) fraction = x + k / fraction;
  return bell(x) / fraction;
}

/**
 * Fills an array with independent normal numbers.
 *
 * The generator's turn is written out in the loop (it is `nextWord` of sfc32.ts): two thirds of the time are saved.
 *
 * @param out    array to fill
 * @param state  the generator's a, b, c and counter; moved on
 * @param mean   default 0
 * @param sd     standard deviation, default 1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const out = new Float64Array(10000);
 * fillZiggurat(out, Int32Array.of(11, 22, 33, 1));
 * assert.ok(Math.abs(out.reduce((sum, z) => sum + z, 0) / 10000) < 0.04);
 * ```
 */
export function fillZiggurat(out: Float64Array, state: Int32Array, mean = 0, sd = 1): void {
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
    const place = high * 2 ** -31 + (low >>> 7) * 2 ** -56; // 57 bits, from -1 up to 1
    if (Math.abs(place) < (ratios[layer] ?? 0)) {
      out[n] = mean + sd * place * (ends[layer] ?? 0);
    } else {
      [state[0], state[1], state[2], state[3]] = [a, b, c, counter];
      out[n] = mean + sd * edge(place, layer, state);
      [a, b, c, counter] = [state[0] ?? 0, state[1] ?? 0, state[2] ?? 0, state[3] ?? 0];
    }
  }
  [state[0], state[1], state[2], state[3]] = [a, b, c, counter];
}

/** The one draw in eighty that falls outside its layer's inner rectangle. */
function edge(place: number, layer: number, state: Int32Array): number {
  if (layer === 0) return place < 0 ? -beyondTail(state) : beyondTail(state);
  const x = place * (ends[layer] ?? 0);
  const low = heights[layer] ?? 0, high = layer + 1 < LAYERS ? heights[layer + 1] ?? 0 : 1;
  if (low + fromZero(state) * (high - low) < bell(x)) return x;
  const single = new Float64Array(1);
  fillZiggurat(single, state);
  return single[0] ?? 0;
}

/** A normal number known to lie beyond the tail's begin (Marsaglia 1964, from memory). */
function beyondTail(state: Int32Array): number {
  for (;;) {
    const x = -Math.log(1 - fromZero(state)) / TAIL, y = -Math.log(1 - fromZero(state));
    if (2 * y >= x * x) return TAIL + x;
  }
}

/** 32 bits, from 0 up to 1. */
function fromZero(state: Int32Array): number {
  return (nextWord(state) >>> 0) * 2 ** -32;
}
