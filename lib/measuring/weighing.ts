/** Weighted means of values whose errors may be shared, and tests of whether they agree. */
import { chiSquareUpper, fCdf } from "../numeric/quantiles.ts";
import { solveSymmetric } from "./covariance.ts";

/** A value and its standard uncertainty, mm. */
export interface Value {
  /** mm */
  readonly value: number;
  /** standard uncertainty, mm */
  readonly u: number;
}

/** A weighted mean and how far the values lie from it. */
export interface Weighed extends Value {
  readonly weights: readonly number[];
  readonly chiSquare: number;
}

/** A covariance matrix, row by row. */
export type Matrix = readonly (readonly number[])[];

/**
 * Mean of least variance, weights C^-1 1 / (1' C^-1 1).
 *
 * @param values      x
 * @param covariance  C, positive definite
 * @returns mean, its u, the weights, and chi-square d' C^-1 d of the differences d
 * @throws {RangeError} when the matrix is not positive definite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(weigh([1, 4], [[1, 0], [0, 2]]).value.toFixed(6), "2.000000");
 * ```
 */
export function weigh(values: readonly number[], covariance: Matrix): Weighed {
  const raw = solveSymmetric(covariance, values.map(() => 1));
  const sum = raw.reduce((total, weight) => total + weight, 0);
  const weights = raw.map((weight) => weight / sum);
  // Relative to the first value, so that equal values give exactly that value.
  const [origin = 0] = values;
  const value = origin + dot(weights, values.map((x) => x - origin));
  const away = values.map((x) => x - value);
  return {
    value,
    u: 1 / Math.sqrt(sum),
    weights,
    chiSquare: dot(away, solveSymmetric(covariance, away)),
  };
}

/**
 * Chance of differences this large, allowing for variances that are themselves estimates.
 *
 *     F = chi^2 / (n - 1) / (1 + 2 (n - 2) L / (n^2 - 1)),   L = sum (1 - w)^2 / dof,   with n - 1 and (n^2 - 1) / 3L
 *
 * @param weighed  from `weigh`
 * @param dofs     degrees of freedom of each estimate's u; all infinite gives the chi-square test
 * @returns p, 0 to 1
 * @see Welch 1951, Biometrika 38, 330 (reckoned anew in tests/measuring/secondRoute.py, and held by its law)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const three = weigh([2390, 2402, 2410], [[900, 0, 0], [0, 36, 0], [0, 0, 64]]);
 * assert.equal(welchP(three, [Infinity, Infinity, Infinity]).toFixed(3), "0.644");
 * ```
 */
export function welchP({ chiSquare, weights }: Weighed, dofs: readonly number[]): number {
  const count = weights.length;
  const doubt = weights.reduce((sum, weight, at) => sum + (1 - weight) ** 2 / (dofs[at] ?? 1), 0);
  if (doubt < 1e-12) return chiSquareUpper(chiSquare, count - 1);
  const correction = 1 + (2 * (count - 2) * doubt) / (count ** 2 - 1);
  const f = chiSquare / (count - 1) / correction;
  return 1 - fCdf(f, count - 1, (count ** 2 - 1) / (3 * doubt));
}

/**
 * Mandel and Paule's tau: the unknown error each estimate must have had for chi-square to be n - 1.
 *
 * @returns tau, in the values' unit; 0 when the known errors explain the differences
 * @see Mandel and Paule 1970 (reckoned anew in tests/measuring/secondRoute.py, and held by its law)
 * @example two values 10 apart, with u 1: 50 = 1 + tau^2
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(betweenMethods([0, 10], [[1, 0], [0, 1]]).toFixed(6), "7.000000");
 * ```
 */
export function betweenMethods(values: readonly number[], covariance: Matrix): number {
  const target = values.length - 1;
  const excess = (tau: number): number =>
    weigh(values, widened(covariance, tau)).chiSquare - target;
  if (excess(0) <= 0) return 0;
  let low = 0;
  let high = Math.max(...values) - Math.min(...values);
  while (excess(high) > 0) high *= 2;
  for (let turn = 0; turn < 200 && high - low > 1e-14 * high; turn++) {
    const middle = (low + high) / 2;
    if (excess(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The covariance with tau^2 more on its diagonal. */
export function widened(covariance: Matrix, tau: number): Matrix {
  return covariance.map((row, i) => row.map((c, j) => (i === j ? c + tau * tau : c)));
}

/** Sum of products. */
export function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, x, at) => sum + x * (b[at] ?? 0), 0);
}
