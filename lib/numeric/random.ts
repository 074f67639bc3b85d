/**
 * Random numbers that come out the same on every machine, from a seed: one generator for the whole kit.
 *
 * The generator is sfc32 (three 32-bit words and a counter, by C. Doty-Humphrey; its words anew in tests/numeric/secondRoute.py), started from the seed
 * by a splitmix step and twelve idle turns. It is for simulation, not for secrets.
 */
import { tCdf } from "./quantiles.ts";
import { findRoot } from "./rootFinding.ts";
import { logGamma } from "./specialFunctions.ts";

/** Random numbers from a seed: the same seed gives the same numbers. */
export interface RandomSource {
  /** one number from 0 up to, not including, 1; 53 random bits */
  uniform(): number;
  /** mean 0, standard deviation 1 */
  normal(): number;
  /** fills an array with numbers from low up to high (0 and 1 unless said), faster than one by one */
  fillUniform(out: Float64Array, low?: number, high?: number): void;
  /** fills an array with normal numbers, four times as fast as one by one; not the numbers `normal` would give */
  fillNormal(out: Float64Array, mean?: number, sd?: number): void;
  /** fills an array with middle + scale x Student's t, as fast as normal numbers for dof of 2 and more; not what `studentT` gives */
  fillStudent(out: Float64Array, dof: number, middle?: number, scale?: number): void;
  /** Student's t with `dof` > 0 degrees of freedom; `Infinity` gives the normal */
  studentT(dof: number): number;
  /** chi-square with `dof` > 0 degrees of freedom */
  chiSquare(dof: number): number;
  /** a whole number from 0 up to, not including, `count` */
  integer(count: number): number;
}

/**
 * Starts a generator. Equal seeds give equal numbers; neighbouring seeds give unrelated ones.
 *
 * @param seed  a whole number from 0 to 2^53 - 1
 * @throws {RangeError} where the seed is not such a number
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(random(7).uniform(), random(7).uniform());
 * assert.notEqual(random(7).uniform(), random(8).uniform());
 * ```
 */
export function random(seed: number): RandomSource {
  if (!(Number.isSafeInteger(seed) && seed >= 0)) {
    throw new RangeError(`random requires a whole seed of 0 or more, got seed=${seed}`);
  }
  const state = startState(seed), next = (): number => nextWord(state);
  const uniform = (): number => ((next() >>> 5) * 67108864 + (next() >>> 6)) / 9007199254740992;
  const normal = polarNormal(uniform);
  const chiSquare = (dof: number): number => 2 * gamma(dof / 2, uniform, normal);
  const studentT = (dof: number): number =>
    dof === Infinity
      ? normal()
      : normal() / Math.sqrt(chiSquare(requireDof("studentT", dof)) / dof);
  return {
    uniform,
    normal,
    fillUniform: (out, low = 0, high = 1) => fillBetween(out, state, low, high),
    fillNormal: (out, mean = 0, sd = 1) => fillZiggurat(out, state, bell(), mean, sd),
    fillStudent: (out, dof, middle = 0, scale = 1) => {
      if (dof >= 2) fillZiggurat(out, state, dof < Infinity ? student(dof) : bell(), middle, scale);
      else for (let i = 0; i < out.length; i++) out[i] = middle + scale * studentT(dof);
    },
    chiSquare: (dof) => chiSquare(requireDof("chiSquare", dof)),
    studentT,
    integer: (count) => {
      if (!(Number.isSafeInteger(count) && count > 0)) {
        throw new RangeError(`integer requires a whole count above 0, got count=${count}`);
      }
      return Math.floor(uniform() * count);
    },
  };
}

function requireDof(name: string, dof: number): number {
  if (dof > 0 && Number.isFinite(dof)) return dof;
  throw new RangeError(`${name} requires finite dof above 0, got dof=${dof}`);
}

/** Normal pairs from a point in the unit disc (Marsaglia's polar method, 1964; its moments in the tests). */
function polarNormal(uniform: () => number): () => number {
  let spare = 0, hasSpare = false;
  return () => {
    if (hasSpare) {
      hasSpare = false;
      return spare;
    }
    let x = 0, y = 0, square = 0;
    do {
      x = 2 * uniform() - 1;
      y = 2 * uniform() - 1;
      square = x * x + y * y;
    } while (square >= 1 || square === 0);
    const stretch = Math.sqrt(-2 * Math.log(square) / square);
    spare = y * stretch;
    hasSpare = true;
    return x * stretch;
  };
}

/** Gamma of the given shape, scale 1 (Marsaglia and Tsang 2000; its moments in the tests). */
function gamma(shape: number, uniform: () => number, normal: () => number): number {
  if (shape < 1) return gamma(shape + 1, uniform, normal) * Math.pow(1 - uniform(), 1 / shape);
  const d = shape - 1 / 3, c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal(), v = 1 + c * x;
    if (v <= 0) continue;
    const cube = v * v * v;
    const chance = 1 - uniform(), square = x * x;
    if (chance < 1 - 0.0331 * square * square) return d * cube; // surely under the curve: no logarithm needed
    if (Math.log(chance) < 0.5 * square + d - d * cube + d * Math.log(cube)) return d * cube;
  }
}

// * The kit's one generator of random bits: sfc32, three 32-bit words and a counter (C. Doty-Humphrey).
// * Its state is four signed integers in an array, so that a tight loop may take them out, turn, and put them back.

/** The state a, b, c, counter from a seed, after twelve idle turns. */
export function startState(seed: number): Int32Array {
  const a = scramble(seed >>> 0), b = scramble(Math.floor(seed / 4294967296) + 0x9e3779b9);
  const state = Int32Array.of(a, b, scramble(a ^ b), 1);
  for (let turn = 0; turn < 12; turn++) nextWord(state);
  return state;
}

/** One turn of sfc32: 32 random bits, as a signed integer; callers shift. */
export function nextWord(state: Int32Array): number {
  const a = state[0] ?? 0, b = state[1] ?? 0, c = state[2] ?? 0, counter = state[3] ?? 0;
  const out = (a + b + counter) | 0;
  state[0] = b ^ (b >>> 9);
  state[1] = (c + (c << 3)) | 0;
  state[2] = (((c << 21) | (c >>> 11)) + out) | 0;
  state[3] = counter + 1;
  return out;
}

/** Fills an array with numbers from low up to high, 53 bits each; the turn is written out in the loop for speed. */
export function fillBetween(
  out: Float64Array,
  state: Int32Array,
  low: number,
  high: number,
): void {
  let a = state[0] ?? 0, b = state[1] ?? 0, c = state[2] ?? 0, counter = state[3] ?? 0;
  const unit = (high - low) / 9007199254740992;
  for (let n = 0; n < out.length; n++) {
    const first = (a + b + counter) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + first) | 0;
    const second = (a + b + counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + second) | 0;
    counter = (counter + 2) | 0;
    out[n] = low + ((first >>> 5) * 67108864 + (second >>> 6)) * unit;
  }
  [state[0], state[1], state[2], state[3]] = [a, b, c, counter];
}

/** A bijection of 32-bit words that spreads every bit (the finalizer of splitmix32). */
function scramble(word: number): number {
  let z = (word + 0x9e3779b9) | 0;
  z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
  z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
  return z ^ (z >>> 15);
}

// * Numbers in bulk from a curve that falls to both sides of its middle alike: the ziggurat of Marsaglia and Tsang (2000,
// its law in the tests). The half under the curve is cut into layers of equal area; a number takes its layer and its place in it
// from different random bits, and all but one in eighty lie surely under the curve.

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
 * assert.equal(ends[1]?.toFixed(4), "7.6971"); // RECORDED; the layers' areas are equal in the tests
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
 * import { bell } from "./random.ts";
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

// The bell curve and Student's curves as layers to draw from in bulk.

let makeZiggurat: Ziggurat | undefined;

/**
 * The bell, exp(-x^2 / 2), made when first asked for. Its tail is drawn by Marsaglia's way (1964).
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(bell().ends[1]?.toFixed(8), "3.65415289"); // RECORDED; the layers' areas are equal in the tests
 * ```
 */
export function bell(): Ziggurat {
  makeZiggurat ??= zigguratOf({
    height: (x) => Math.exp(-x * x / 2),
    width: (y) => Math.sqrt(-2 * Math.log(y)),
    beyond: bellBeyond,
    drawBeyond: (start, next) => {
      for (;;) {
        const x = Math.sqrt(start * start - 2 * Math.log(next()));
        if (next() * x <= start) return x;
      }
    },
  });
  return makeZiggurat;
}

/** Area under the bell beyond x by its continued fraction; x of 1 and more. */
function bellBeyond(x: number): number {
  let fraction = x;
  for (let k = 400; k >= 1; k--) fraction = x + k / fraction;
  return Math.exp(-x * x / 2) / fraction;
}

const students = new Map<number, Ziggurat>();

/**
 * Student's curve, (1 + x^2 / dof)^(-(dof + 1) / 2), made once for each number of degrees of freedom.
 *
 * Its tail is drawn with x times the curve, whose area is known, and kept as often as start / x says.
 *
 * @param dof  2 or more and finite; below that the curve times x has no area
 * @throws {RangeError} outside that range
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok((student(3).ends[1] ?? 0) > (student(30).ends[1] ?? 0)); // fewer readings, longer tails
 * ```
 */
export function student(dof: number): Ziggurat {
  if (!(dof >= 2 && Number.isFinite(dof))) {
    throw new RangeError(`student requires finite dof of 2 or more, got dof=${dof}`);
  }
  const known = students.get(dof);
  if (known) return known;
  const made = zigguratOf(studentCurve(dof));
  if (students.size >= MOST_KEPT) students.clear();
  students.set(dof, made);
  return made;
}

/** Layers of 64 curves are 400 kB. */
const MOST_KEPT = 64;

function studentCurve(dof: number): FallingCurve {
  const area = Math.sqrt(Math.PI * dof) * Math.exp(logGamma(dof / 2) - logGamma((dof + 1) / 2));
  return {
    height: (x) => Math.exp(-(dof + 1) / 2 * Math.log1p(x * x / dof)),
    width: (y) => Math.sqrt(dof * Math.expm1(-2 / (dof + 1) * Math.log(y))),
    beyond: (x) => area * tCdf(-x, dof),
    drawBeyond: (start, next) => {
      for (;;) {
        const ratio = Math.pow(next(), -2 / (dof - 1));
        const x = Math.sqrt(start * start * ratio + dof * (ratio - 1));
        if (next() * x <= start) return x;
      }
    },
  };
}
