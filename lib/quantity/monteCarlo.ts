/** Uncertainty by simulation: draw the inputs, compute the result, look at what comes out. */
import { random } from "../numeric/random.ts";
import type { Distribution } from "./distributions.ts";
import { type ColumnModel, drawer, type Model } from "./drawer.ts";
import type { Correlation } from "./propagate.ts";
import { shortestOfDraws } from "./shortestInterval.ts";

export type { ColumnModel, Model };

export interface MonteCarloOptions<K extends string = string> {
  /** probability of the interval, default 0.95 */
  readonly p?: number;
  /** default 1 */
  readonly seed?: number;
  /** a fixed number of draws; default: as many as the digits need */
  readonly trials?: number;
  /** significant digits of u that must settle where `trials` is not given, default 2 */
  readonly digits?: 1 | 2 | 3;
  /** most draws where `trials` is not given, default 2,000,000 */
  readonly most?: number;
  /** between inputs that are normal */
  readonly correlations?: readonly Correlation<K>[];
}

export interface MonteCarloResult {
  /** mean of the draws */
  readonly value: number;
  /** their standard deviation */
  readonly u: number;
  /** shortest interval of probability p */
  readonly interval: readonly [number, number];
  readonly p: number;
  readonly trials: number;
  /** false where `most` was reached before the digits stood still; absent where `trials` was given */
  readonly settled?: boolean;
  /** all draws of the result, as they came */
  readonly draws: Float64Array;
}

/**
 * Simulates a measurement by JCGM 101.
 *
 * Without `trials` it draws blocks of 10,000 (or 100/(1-p), if more) until mean, u and both ends of the interval have
 * settled to half a unit of the last of `digits` digits of u, with two standard deviations to spare; ten blocks at
 * least. Equal seeds give equal results.
 *
 * @param f       the result, of an object with the inputs' names (the same object shows the next draw at the next call);
 *                or `{ rows }` that works out many draws at once from columns, the same numbers several times as fast
 * @param inputs  what is known of each input
 * @throws {RangeError} where f gives something not finite, naming the inputs it was given
 * @see JCGM 101:2008, clause 7, adaptive procedure 7.9 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { rectangularBetween } from "first-mirror/quantity";
 * const x = rectangularBetween(-1, 1);
 * const { u } = monteCarlo(({ a, b }) => a + b, { a: x, b: x }, { seed: 5, trials: 40000 });
 * assert.ok(Math.abs(u - Math.sqrt(2 / 3)) < 0.01);
 * ```
 */
export function monteCarlo<K extends string>(
  f: Model<K> | ColumnModel<K>,
  inputs: Readonly<Record<K, Distribution>>,
  options: MonteCarloOptions<NoInfer<K>> = {},
): MonteCarloResult {
  const { p = 0.95, seed = 1, trials } = options;
  if (!(p > 0 && p < 1)) throw new RangeError(`monteCarlo requires 0 < p < 1, got p=${p}`);
  const fill = drawer(f, inputs, random(seed), options.correlations ?? []);
  if (trials === undefined) return adaptive(fill, p, options.digits ?? 2, options.most ?? 2e6);
  if (!(Number.isInteger(trials) && trials * (1 - p) >= 1)) {
    throw new RangeError(`monteCarlo requires at least 1/(1-p) whole trials, got trials=${trials}`);
  }
  return { ...summarize(fill(trials), p), trials, p };
}

/** The standard prescribes two; the spread of two blocks is too often small by chance. */
const FEWEST_BLOCKS = 10;

/** Blocks of draws until four numbers stand still. */
function adaptive(
  fill: (count: number) => Float64Array,
  p: number,
  digits: number,
  most: number,
): MonteCarloResult {
  const size = Math.max(Math.ceil(100 / (1 - p)), 10000);
  const blocks: Float64Array[] = [], results: number[][] = [];
  let settled = false;
  do {
    const block = fill(size);
    const { value, u, interval } = summarize(block, p);
    blocks.push(block);
    results.push([value, u, interval[0], interval[1]]);
    settled = results.length >= FEWEST_BLOCKS && standsStill(results, digits);
  } while (!settled && (blocks.length + 1) * size <= most);
  const all = new Float64Array(blocks.length * size);
  blocks.forEach((block, i) => all.set(block, i * size));
  return { ...summarize(all, p), p, trials: all.length, settled };
}

/** Whether twice the standard deviation of each mean over blocks is below the tolerance of u's digits. */
function standsStill(results: readonly (readonly number[])[], digits: number): boolean {
  const h = results.length;
  const means = [0, 1, 2, 3].map((k) => results.reduce((sum, r) => sum + (r[k] ?? 0), 0) / h);
  const tolerance = numericalTolerance(means[1] ?? 0, digits);
  return means.every((mean, k) => {
    const square = results.reduce((sum, r) => sum + ((r[k] ?? 0) - mean) ** 2, 0);
    return 2 * Math.sqrt(square / (h * (h - 1))) <= tolerance;
  });
}

/**
 * Half a unit of the last significant digit of u: 0.05 for u = 3.5 and two digits.
 *
 * @param u       0 or more
 * @param digits  significant digits that matter
 * @see JCGM 101:2008, 7.9.2 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(numericalTolerance(3.5, 2).toFixed(3), "0.050");
 * ```
 */
export function numericalTolerance(u: number, digits: number): number {
  if (u === 0) return 0;
  const exponent = Number(u.toExponential(digits - 1).split("e")[1]);
  return 0.5 * 10 ** (exponent - digits + 1);
}

function summarize(
  draws: Float64Array,
  p: number,
): { value: number; u: number; interval: readonly [number, number]; draws: Float64Array } {
  const n = draws.length, pivot = draws[0] ?? 0;
  let sum = 0, square = 0;
  for (let i = 0; i < n; i++) {
    const d = (draws[i] ?? 0) - pivot;
    sum += d;
    square += d * d;
  }
  const variance = Math.max(0, (square - sum * sum / n) / (n - 1));
  return {
    value: pivot + sum / n,
    u: Math.sqrt(variance),
    interval: shortestOfDraws(draws, p),
    draws,
  };
}
