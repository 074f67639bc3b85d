/** Uncertainty by simulation: draw the inputs, compute the result, look at what comes out. */
import { random } from "../numeric/random.ts";
import { rising } from "../numeric/rising.ts";
import { interval } from "./coverage.ts";
import { type ColumnModel, type Distribution, drawer, type Model } from "./distributions.ts";
import type { Measured } from "./measured.ts";
import {
  type Correlation,
  propagate,
  type Propagated,
  type SecondOrder,
  secondOrder,
} from "./propagate.ts";

export type { ColumnModel, Model };

/** How many draws, from which seed, and what is wanted of them. */
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

/** What the draws of a result amount to. */
export interface MonteCarloResult {
  /** mean of the draws */
  readonly value: number;
  /** their standard deviation */
  readonly u: number;
  /** shortest interval of probability p */
  readonly interval: readonly [number, number];
  /** probability of the interval, 0 to 1 */
  readonly p: number;
  /** number of draws */
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
 * @see JCGM 101:2008, clause 7, adaptive procedure 7.9 (its examples read: tests/references/jcgm101-9.5-gauge-block.json)
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
 * @see JCGM 101:2008, 7.9.2 (its examples read: tests/references/jcgm101-9.5-gauge-block.json)
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

// The law of propagation and the simulation side by side, and whether they say the same.

/** One result by the law of propagation and by Monte Carlo, compared. */
export interface BothRoutes {
  /** by the law of propagation, with its coverage interval */
  readonly law: Propagated & { readonly interval: readonly [number, number] };
  /** absent where inputs are correlated, to which it does not apply */
  readonly bent?: SecondOrder;
  /** by Monte Carlo */
  readonly simulated: MonteCarloResult;
  /** true where either end of the interval differs by more than half the last digit that matters */
  readonly differ: boolean;
  /** one sentence for a reader */
  readonly says: string;
}

/** As for Monte Carlo, with the result's unit. */
export interface BothRoutesOptions<K extends string = string> extends MonteCarloOptions<K> {
  /** the result's unit, default "" */
  readonly unit?: string;
}

/**
 * Runs both routes on the same inputs.
 *
 * The two agree where both ends of their intervals lie within half a unit of the last significant digit of u (two
 * digits unless `digits` says otherwise). Where they differ, the simulation is to be believed.
 *
 * @param f       the result, of an object with the inputs' names
 * @param inputs  what is known of each input
 * @see JCGM 101:2008, clause 8 (its examples read: tests/references/jcgm101-9.5-gauge-block.json)
 * @example a logarithm over a wide range
 * ```ts
 * import assert from "node:assert/strict";
 * import { rectangularBetween } from "first-mirror/quantity";
 * const both = bothRoutes(({ x }) => Math.log(x), { x: rectangularBetween(0.1, 1.1) }, { trials: 20000 });
 * assert.equal(both.differ, true);
 * ```
 */
export function bothRoutes<K extends string>(
  f: (x: Readonly<Record<K, number>>) => number,
  inputs: Readonly<Record<K, Distribution>>,
  options: BothRoutesOptions<NoInfer<K>> = {},
): BothRoutes {
  const { unit = "", p = 0.95, digits = 2, correlations } = options;
  const measured = Object.fromEntries(
    (Object.keys(inputs) as K[]).map((name) => [name, asMeasured(inputs[name])]),
  ) as Record<K, Measured>;
  const result = propagate(f, measured, correlations ? { unit, correlations } : { unit });
  const law = { ...result, interval: interval(result, p) };
  const simulated = monteCarlo(f, inputs, options);
  const tolerance = numericalTolerance(law.u, digits);
  const gaps = [0, 1].map((k) => Math.abs((law.interval[k] ?? 0) - (simulated.interval[k] ?? 0)));
  const differ = gaps.some((gap) => gap > tolerance);
  const bent = correlations ? {} : bend(f, measured);
  return { law, ...bent, simulated, differ, says: sentence(differ, law.u, simulated.u) };
}

/** Second-order terms where the function is defined two uncertainties out; else nothing. */
function bend<K extends string>(
  f: (x: Readonly<Record<K, number>>) => number,
  inputs: Readonly<Record<K, Measured>>,
): { bent?: SecondOrder } {
  try {
    return { bent: secondOrder(f, inputs) };
  } catch (error) {
    if (error instanceof RangeError) return {};
    throw error;
  }
}

function asMeasured({ mean, u, dof }: Distribution): Measured {
  return { value: mean, u, dof, unit: "" };
}

function sentence(differ: boolean, law: number, simulated: number): string {
  const pair = `u ${law.toPrecision(3)} by the law of propagation, ${
    simulated.toPrecision(3)
  } by simulation`;
  return differ
    ? `The two routes differ: ${pair}; the formula bends within the uncertainty, so believe the simulation.`
    : `The two routes agree: ${pair}.`;
}

// * The shortest interval that holds a share p of draws: what to report where they lean to one side.
// * @param sorted  draws in rising order
// @param p       share, between 0 and 1
// @returns [low, high]
// @throws {RangeError} where there are too few draws for p
// @see JCGM 101:2008, 7.7 (its examples read: tests/references/jcgm101-9.5-gauge-block.json)
// @example
// ```ts
// import assert from "node:assert/strict";
// assert.deepEqual(shortestInterval([0, 1, 2, 3, 4, 5, 6, 7, 8, 100], 0.8), [0, 8]);
// ```

/** The narrowest interval that holds a share p of sorted draws. */
export function shortestInterval(sorted: ArrayLike<number>, p = 0.95): readonly [number, number] {
  const held = heldCount("shortestInterval", sorted.length, p);
  let best = 0, width = Infinity;
  for (let i = 0; i + held < sorted.length; i++) {
    const here = (sorted[i + held] ?? NaN) - (sorted[i] ?? NaN);
    if (here < width) [best, width] = [i, here];
  }
  return [sorted[best] ?? NaN, sorted[best + held] ?? NaN];
}

/**
 * The interval with equal shares of draws left out on both sides.
 *
 * @param sorted  draws in rising order
 * @param p       share, between 0 and 1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(middleInterval([0, 1, 2, 3, 4, 5, 6, 7, 8, 100], 0.6), [1, 7]);
 * ```
 */
export function middleInterval(sorted: ArrayLike<number>, p = 0.95): readonly [number, number] {
  const held = heldCount("middleInterval", sorted.length, p);
  const first = Math.ceil((sorted.length - held) / 2) - 1;
  return [sorted[first] ?? NaN, sorted[first + held] ?? NaN];
}

/** How many draws an interval spans: q of JCGM 101, 7.7.2. */
function heldCount(name: string, count: number, p: number): number {
  const held = Math.round(p * count);
  if (p > 0 && p < 1 && held >= 1 && held < count) return held;
  throw new RangeError(`${name} requires 0 < p < 1 and enough draws for it, got p=${p}, ${count}`);
}

/**
 * The shortest interval of draws that are not in order, without putting all of them in order: only the tails outside
 * it matter.
 *
 * @param draws  in any order; left as they are
 * @param p      share, between 0 and 1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(shortestOfDraws([8, 3, 100, 0, 6, 1, 5, 2, 7, 4], 0.8), [0, 8]);
 * ```
 */
export function shortestOfDraws(draws: ArrayLike<number>, p = 0.95): readonly [number, number] {
  const n = draws.length, held = heldCount("shortestOfDraws", n, p), outside = n - held;
  const tails = p < 0.6 || n < 2000 ? undefined : tailsOf(draws, outside);
  if (!tails) return shortestInterval(rising(Float64Array.from(draws)), p);
  const { low, high } = tails, first = high.length - outside;
  let best = 0, width = Infinity;
  for (let i = 0; i < outside; i++) {
    const here = (high[first + i] ?? NaN) - (low[i] ?? NaN);
    if (here < width) [best, width] = [i, here];
  }
  return [low[best] ?? NaN, high[first + best] ?? NaN];
}

/**
 * The interval with equal shares left out on both sides, of draws that are not in order, without putting all of them in
 * order.
 *
 * @param draws  in any order; left as they are
 * @param p      share, between 0 and 1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(middleOfDraws([8, 3, 100, 0, 6, 1, 5, 2, 7, 4], 0.6), [1, 7]);
 * ```
 */
export function middleOfDraws(draws: ArrayLike<number>, p = 0.95): readonly [number, number] {
  const n = draws.length, held = heldCount("middleOfDraws", n, p);
  const first = Math.ceil((n - held) / 2) - 1, above = n - held - first;
  const tails = p < 0.6 || n < 2000 ? undefined : tailsOf(draws, above);
  if (!tails) return middleInterval(rising(Float64Array.from(draws)), p);
  return [tails.low[first] ?? NaN, tails.high[tails.high.length - above] ?? NaN];
}

const SAMPLE = 1000;

/** The smallest and the largest draws, `count` or more of each, rising; undefined where a sample guesses badly how far they reach. */
function tailsOf(
  draws: ArrayLike<number>,
  count: number,
): { low: Float64Array; high: Float64Array } | undefined {
  const n = draws.length, share = count / n;
  const picked = new Float64Array(SAMPLE);
  for (let i = 0; i < SAMPLE; i++) picked[i] = draws[Math.floor(i * n / SAMPLE)] ?? 0;
  const sample = rising(picked);
  const rank = Math.ceil(SAMPLE * share + 4 * Math.sqrt(SAMPLE * share * (1 - share)) + 2);
  const lowLimit = sample[rank] ?? Infinity, highLimit = sample[SAMPLE - 1 - rank] ?? -Infinity;
  const room = Math.ceil(2 * n * (rank + 1) / SAMPLE);
  const low = new Float64Array(room), high = new Float64Array(room);
  let lows = 0, highs = 0;
  for (let i = 0; i < n; i++) {
    const x = draws[i] ?? 0;
    // written always and counted where it belongs: no jump to be guessed; what goes past the room is dropped, and told below
    low[lows] = x, lows += Number(x <= lowLimit);
    high[highs] = x, highs += Number(x >= highLimit);
  }
  if (Math.min(lows, highs) < count || Math.max(lows, highs) > room) return undefined;
  return { low: rising(low.subarray(0, lows)), high: rising(high.subarray(0, highs)) };
}
