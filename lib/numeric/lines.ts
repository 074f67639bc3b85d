/** Straight lines through readings: the usual one, and two that a few wild readings do not move. */
import { linearFit } from "./leastSquares.ts";
import { normalQuantile } from "./quantiles.ts";

export interface LineFit {
  readonly intercept: number;
  readonly slope: number;
  readonly interceptU: number;
  readonly slopeU: number;
  /** correlation of intercept and slope */
  readonly correlation: number;
  readonly s: number;
  readonly dof: number;
}

/**
 * The least-squares line y = intercept + slope x.
 *
 * @param x        places, three or more, not all equal
 * @param y        readings, one for each
 * @param weights  1/u² of each; default all 1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(lineFit([0, 1, 2], [1, 3.1, 4.9]).slope.toFixed(2), "1.95");
 * ```
 */
export function lineFit(
  x: readonly number[],
  y: readonly number[],
  weights?: readonly number[],
): LineFit {
  const fit = linearFit(x.map((v) => [1, v]), y, weights);
  const [intercept = 0, slope = 0] = fit.coefficients;
  const [interceptU = 0, slopeU = 0] = fit.standardErrors;
  const together = fit.unscaledCovariance;
  const size = Math.sqrt((together[0]?.[0] ?? 0) * (together[1]?.[1] ?? 0));
  const correlation = (together[0]?.[1] ?? 0) / size;
  return { intercept, slope, interceptU, slopeU, correlation, s: fit.s, dof: fit.dof };
}

export interface TheilSenLine {
  readonly slope: number;
  readonly intercept: number;
  /** interval of the slope */
  readonly interval: readonly [number, number];
}

/**
 * Theil-Sen line: the median of the slopes of all pairs. Up to 29 % of wild readings leave it standing.
 *
 * Convention: intercept = median(y) - slope median(x), as in scipy; some programs take median(y - slope x).
 * The slope's interval counts concordant pairs as a normal number (Sen), ties allowed for.
 *
 * @param x  places, two or more different
 * @param y  readings, one for each
 * @param p  probability of the interval, default 0.95
 * @see Sen 1968, J. Am. Stat. Assoc. 63, 1379 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const line = theilSen([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78]);
 * assert.equal(line.slope, 4);
 * ```
 */
export function theilSen(x: readonly number[], y: readonly number[], p = 0.95): TheilSenLine {
  requirePairs("theilSen", x, y);
  if (!(p > 0 && p < 1)) throw new RangeError(`theilSen requires 0 < p < 1, got p=${p}`);
  const slopes: number[] = [];
  x.forEach((xi, i) => slopes.push(...slopesFrom(x, y, i, (xj) => xj > xi)));
  slopes.sort((a, b) => a - b);
  const slope = median(slopes), n = y.length, last = slopes.length - 1;
  const spread = (k: number): number => k * (k - 1) * (2 * k + 5);
  const ties = [...repeats(x), ...repeats(y)].reduce((sum, k) => sum + spread(k), 0);
  const half = normalQuantile((1 + p) / 2) * Math.sqrt((spread(n) - ties) / 18);
  const low = Math.max(Math.round((slopes.length - half) / 2) - 1, 0);
  const high = Math.min(Math.round((slopes.length + half) / 2), last);
  const interval = [slopes[low] ?? slope, slopes[high] ?? slope] as const;
  return { slope, intercept: median(y) - slope * median(x), interval };
}

/**
 * Siegel's line: for each reading the median of its slopes to all others, then the median of those. Up to half of the
 * readings may be wild.
 *
 * Convention: intercept = median(y - slope x).
 *
 * @param x  places, two or more different
 * @param y  readings, one for each
 * @see Siegel 1982, Biometrika 69, 242 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(repeatedMedianLine([0, 1, 2, 3, 4], [0, 1, 2, 90, 4]).slope, 1);
 * ```
 */
export function repeatedMedianLine(
  x: readonly number[],
  y: readonly number[],
): { slope: number; intercept: number } {
  requirePairs("repeatedMedianLine", x, y);
  const slope = median(x.map((xi, i) => median(slopesFrom(x, y, i, (xj) => xj !== xi))));
  return { slope, intercept: median(x.map((xi, i) => (y[i] ?? 0) - slope * xi)) };
}

/**
 * The middle value; of an even number, the mean of the two in the middle.
 *
 * @param values  one or more
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(median([3, 1, 2, 10]), 2.5);
 * ```
 */
export function median(values: ArrayLike<number>): number {
  if (values.length === 0) throw new RangeError("median requires one value or more, got none");
  const sorted = Float64Array.from(values).sort(), half = sorted.length >> 1;
  const upper = sorted[half] ?? 0;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? 0) + upper) / 2;
}

function slopesFrom(
  x: readonly number[],
  y: readonly number[],
  i: number,
  counts: (xj: number) => boolean,
): number[] {
  const xi = x[i] ?? 0, yi = y[i] ?? 0;
  return x.flatMap((xj, j) => counts(xj) ? [((y[j] ?? 0) - yi) / (xj - xi)] : []);
}

/** How often each value that occurs more than once occurs. */
function repeats(values: readonly number[]): number[] {
  const counts = new Map<number, number>();
  for (const v of values) counts.set(v, (counts.get(v) ?? 0) + 1);
  return [...counts.values()].filter((k) => k > 1);
}

function requirePairs(name: string, x: readonly number[], y: readonly number[]): void {
  const usable = x.length === y.length && [...x, ...y].every(Number.isFinite);
  if (!usable || new Set(x).size < 2) {
    throw new RangeError(
      `${name} requires as many finite readings as places and two different places, got ${x.length} and ${y.length}`,
    );
  }
}
