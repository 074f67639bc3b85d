import { bell, student } from "./bells.ts";
import { fillBetween, nextWord, startState } from "./sfc32.ts";
import { fillZiggurat } from "./ziggurat.ts";

/**
 * Random numbers that come out the same on every machine, from a seed: one generator for the whole kit.
 *
 * The generator is sfc32 (three 32-bit words and a counter, by C. Doty-Humphrey, from memory), started from the seed
 * by a splitmix step and twelve idle turns. It is for simulation, not for secrets.
 */
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

/** Normal pairs from a point in the unit disc (Marsaglia's polar method, 1964, from memory). */
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

/** Gamma of the given shape, scale 1 (Marsaglia and Tsang 2000, from memory). */
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
