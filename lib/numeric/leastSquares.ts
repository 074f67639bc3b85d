/**
 * Linear least squares by Householder QR on columns scaled to one length (`ml-matrix` does the factoring).
 *
 * Never by normal equations: they lose twice the digits, and all of them on a polynomial of high degree.
 */
import { Matrix, QrDecomposition } from "ml-matrix";

export interface LinearFit {
  readonly coefficients: readonly number[];
  readonly standardErrors: readonly number[];
  /** of the coefficients, from the scatter of the residuals */
  readonly covariance: readonly (readonly number[])[];
  /** (XᵀWX)⁻¹: the covariance where weights are 1/u² and u is trusted more than the scatter */
  readonly unscaledCovariance: readonly (readonly number[])[];
  /** y less the fit, unweighted */
  readonly residuals: readonly number[];
  /** readings less coefficients */
  readonly dof: number;
  /** standard deviation of one reading of weight 1 */
  readonly s: number;
}

/**
 * Fits y = X b.
 *
 * @param rows     design matrix X, one row for each reading, one column for each coefficient
 * @param y        readings, more than there are coefficients
 * @param weights  relative weights, 1/u² of each reading; default all 1
 * @throws {RangeError} where counts do not fit, numbers are not finite, or columns repeat one another
 * @see Golub and Van Loan, Matrix Computations, chapter 5 (from memory)
 * @example a line through three readings
 * ```ts
 * import assert from "node:assert/strict";
 * const fit = linearFit([[1, 0], [1, 1], [1, 2]], [1, 3.1, 4.9]);
 * assert.equal(fit.coefficients.map((c) => c.toFixed(3)).join(" "), "1.050 1.950");
 * ```
 */
export function linearFit(
  rows: readonly (readonly number[])[],
  y: readonly number[],
  weights?: readonly number[],
): LinearFit {
  const size = requireShapes(rows, y, weights);
  const root = y.map((_, i) => Math.sqrt(weights?.[i] ?? 1));
  const scale = Array.from({ length: size }, (_, j) => columnLength(rows, root, j));
  const scaled = new Matrix(
    rows.map((row, i) => row.map((v, j) => v * (root[i] ?? 0) / (scale[j] ?? 1))),
  );
  const qr = new QrDecomposition(scaled);
  const inverse = invertUpper(qr.upperTriangularMatrix);
  const solution = qr.solve(Matrix.columnVector(y.map((v, i) => v * (root[i] ?? 0))));
  const coefficients = scale.map((length, j) => solution.get(j, 0) / length);
  const residuals = y.map((v, i) => v - dot(rows[i] ?? [], coefficients));
  const dof = y.length - size;
  const s = Math.sqrt(residuals.reduce((sum, r, i) => sum + (r * (root[i] ?? 0)) ** 2, 0) / dof);
  const unscaledCovariance = scale.map((a, i) =>
    scale.map((b, j) => dot(inverse[i] ?? [], inverse[j] ?? []) / (a * b))
  );
  const covariance = unscaledCovariance.map((row) => row.map((v) => v * s * s));
  const standardErrors = covariance.map((row, i) => Math.sqrt(row[i] ?? 0));
  return { coefficients, standardErrors, covariance, unscaledCovariance, residuals, dof, s };
}

/**
 * What a fit says at a new place, with the covariance of its coefficients taken along.
 *
 * @param fit  from `linearFit`
 * @param row  the design row of the new place
 * @returns the value, its standard uncertainty `u`, and `uReading`, that of one new reading there
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const fit = linearFit([[1, 0], [1, 1], [1, 2]], [1, 3.1, 4.9]);
 * assert.equal(predict(fit, [1, 3]).value.toFixed(2), "6.90");
 * ```
 */
export function predict(
  fit: LinearFit,
  row: readonly number[],
): { value: number; u: number; uReading: number; dof: number } {
  if (row.length !== fit.coefficients.length) {
    throw new RangeError(
      `predict requires a row of ${fit.coefficients.length} numbers, got ${row.length}`,
    );
  }
  const variance = dot(row, fit.covariance.map((line) => dot(line, row)));
  return {
    value: dot(row, fit.coefficients),
    u: Math.sqrt(Math.max(0, variance)),
    uReading: Math.sqrt(Math.max(0, variance) + fit.s * fit.s),
    dof: fit.dof,
  };
}

function requireShapes(
  rows: readonly (readonly number[])[],
  y: readonly number[],
  weights?: readonly number[],
): number {
  const size = rows[0]?.length ?? 0;
  if (rows.length !== y.length || size === 0 || y.length <= size) {
    throw new RangeError(
      `linearFit requires one row for each reading and more readings than coefficients, got ${rows.length} rows, ${y.length} readings, ${size} coefficients`,
    );
  }
  if (!rows.every((row) => row.length === size && row.every(Number.isFinite))) {
    throw new RangeError(`linearFit requires rows of ${size} finite numbers each`);
  }
  if (!y.every(Number.isFinite)) throw new RangeError("linearFit requires finite readings");
  if (weights && !(weights.length === y.length && weights.every((w) => w >= 0 && w < Infinity))) {
    throw new RangeError("linearFit requires one finite weight of 0 or more for each reading");
  }
  return size;
}

function columnLength(
  rows: readonly (readonly number[])[],
  root: readonly number[],
  j: number,
): number {
  const length = Math.sqrt(
    rows.reduce((sum, row, i) => sum + ((row[j] ?? 0) * (root[i] ?? 0)) ** 2, 0),
  );
  if (length > 0) return length;
  throw new RangeError(
    `linearFit requires columns that are not all zero, got zeros in column ${j}`,
  );
}

/** Rows of the inverse of an upper triangle whose columns have length 1. */
function invertUpper(upper: Matrix): number[][] {
  const n = upper.rows;
  const inverse = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  for (let j = 0; j < n; j++) {
    if (Math.abs(upper.get(j, j)) < 1e-13) {
      throw new RangeError(
        `linearFit requires columns that do not repeat one another, got column ${j} made up of the earlier ones`,
      );
    }
    for (let i = j; i >= 0; i--) {
      let sum = i === j ? 1 : 0;
      for (let k = i + 1; k <= j; k++) sum -= upper.get(i, k) * (inverse[k]?.[j] ?? 0);
      const row = inverse[i];
      if (row) row[j] = sum / upper.get(i, i);
    }
  }
  return inverse;
}

function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}
