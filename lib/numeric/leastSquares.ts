/**
 * Linear least squares by rotating row after row into a triangle (QR by Givens), on columns scaled to one length. It takes no memory
 * whatever the number of readings.
 *
 * Never by normal equations: they lose twice the digits, and all of them on a polynomial of high degree.
 */
/** A fit that is linear in its coefficients. */
export interface LinearFit {
  /** one for each column of the design, in its order */
  readonly coefficients: readonly number[];
  /** square roots of the diagonal of `covariance` */
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
 * @see Golub and Van Loan, Matrix Computations, chapter 5 (certified sets read: tests/references/nist-strd-filip.json)
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
  const size = rows[0]?.length ?? 0;
  if (rows.length !== y.length || size === 0 || y.length <= size) {
    throw new RangeError(
      `linearFit requires one row for each reading and more readings than coefficients, got ${rows.length} rows, ${y.length} readings, ${size} coefficients`,
    );
  }
  if (!rows.every((row) => row.length === size)) {
    throw new RangeError(`linearFit requires rows of ${size} finite numbers each`);
  }
  const row: DesignRow = (i, out) => out.set(rows[i] ?? []);
  return linearFitBy({ size, row }, y, weights);
}

/** Writes the design row of reading i into `out`. */
export type DesignRow = (i: number, out: Float64Array) => void;

/**
 * The same, of a design that is worked out row by row where it is wanted: a long table needs no second one beside it.
 *
 * @param design  how many coefficients, and the row of each reading
 * @throws {RangeError} as `linearFit`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const row = (i: number, out: Float64Array) => out.set([1, i]);
 * const fit = linearFitBy({ size: 2, row }, [1, 3.1, 4.9]);
 * assert.equal(fit.coefficients.map((c) => c.toFixed(3)).join(" "), "1.050 1.950");
 * ```
 */
export function linearFitBy(
  { size, row }: { readonly size: number; readonly row: DesignRow },
  y: readonly number[],
  weights?: readonly number[],
): LinearFit {
  requireReadings(size, y, weights);
  const root = (i: number): number => weights === undefined ? 1 : Math.sqrt(weights[i] ?? 1);
  const plain = new Float64Array(size);
  const weighed: DesignRow = (i, out) => {
    row(i, out);
    const r = root(i);
    if (r !== 1) { for (let j = 0; j < size; j++) out[j] = (out[j] ?? 0) * r; }
  };
  const scale = columnLengths(size, weighed, y.length);
  const { inverse, solution } = factored(weighed, (i) => (y[i] ?? 0) * root(i), y.length, scale);
  const coefficients = scale.map((length, j) => (solution[j] ?? 0) / length);
  const residuals = y.map((v, i) => {
    row(i, plain);
    return v - dot(plain, coefficients);
  });
  const dof = y.length - size;
  const s = Math.sqrt(residuals.reduce((sum, r, i) => sum + (r * root(i)) ** 2, 0) / dof);
  const unscaledCovariance = scale.map((a, i) =>
    scale.map((b, j) => dot(inverse[i] ?? [], inverse[j] ?? []) / (a * b))
  );
  const covariance = unscaledCovariance.map((row) => row.map((v) => v * s * s));
  const standardErrors = covariance.map((row, i) => Math.sqrt(row[i] ?? 0));
  return { coefficients, standardErrors, covariance, unscaledCovariance, residuals, dof, s };
}

function requireReadings(
  size: number,
  y: readonly number[],
  weights: readonly number[] | undefined,
): void {
  if (size === 0 || y.length <= size) {
    throw new RangeError(
      `linearFit requires more readings than coefficients, got ${y.length} readings, ${size} coefficients`,
    );
  }
  if (!y.every(Number.isFinite)) throw new RangeError("linearFit requires finite readings");
  if (weights && !(weights.length === y.length && weights.every((w) => w >= 0 && w < Infinity))) {
    throw new RangeError("linearFit requires one finite weight of 0 or more for each reading");
  }
}

/** Length of each column, weights included. */
function columnLengths(size: number, weighed: DesignRow, count: number): number[] {
  const squares = new Float64Array(size), row = new Float64Array(size);
  for (let i = 0; i < count; i++) {
    weighed(i, row);
    for (let j = 0; j < size; j++) squares[j] = (squares[j] ?? 0) + (row[j] ?? 0) ** 2;
  }
  if (!squares.every(Number.isFinite)) {
    throw new RangeError(`linearFit requires rows of ${size} finite numbers each`);
  }
  return Array.from(squares, (square, j) => {
    if (square > 0) return Math.sqrt(square);
    throw new RangeError(
      `linearFit requires columns that are not all zero, got zeros in column ${j}`,
    );
  });
}

/** The inverse of the triangle, and the solution in scaled columns. */
interface Factored {
  readonly inverse: readonly (readonly number[])[];
  readonly solution: readonly number[];
}

/**
 * Each row in its turn, its reading at its end, is rotated into the triangle until nothing of it is left (Givens).
 *
 * @param weighed  rows with their weights
 * @param y        readings with theirs
 * @param scale    length of each column
 */
function factored(
  weighed: DesignRow,
  y: (i: number) => number,
  count: number,
  scale: readonly number[],
): Factored {
  const size = scale.length, width = size + 1;
  const upper = new Float64Array(width * width), row = new Float64Array(width);
  const own = row.subarray(0, size);
  for (let i = 0; i < count; i++) {
    weighed(i, own);
    for (let j = 0; j < size; j++) row[j] = (row[j] ?? 0) / (scale[j] ?? 1);
    row[size] = y(i);
    for (let j = 0; j < width; j++) rotateIn(row, j, upper, width);
  }
  const inverse = invertUpper((i, j) => upper[i * width + j] ?? 0, size);
  const last = scale.map((_, i) => upper[i * width + size] ?? 0);
  const first = inverse.map((line) => dot(line, last)), sums = new Float64Array(size);
  for (let i = 0; i < count; i++) {
    weighed(i, own);
    let left = y(i);
    for (let j = 0; j < size; j++) {
      row[j] = (row[j] ?? 0) / (scale[j] ?? 1);
      left -= (row[j] ?? 0) * (first[j] ?? 0);
    }
    for (let j = 0; j < size; j++) sums[j] = (sums[j] ?? 0) + (row[j] ?? 0) * left;
  }
  // what rounding left is fitted once more by the same triangle
  const halfway = inverse.map((_, j) =>
    inverse.reduce((sum, line, i) => sum + (line[j] ?? 0) * (sums[i] ?? 0), 0)
  );
  return { inverse, solution: inverse.map((line, i) => (first[i] ?? 0) + dot(line, halfway)) };
}

/** Turns a row against line j of the triangle so that its j-th number goes over into it. */
function rotateIn(row: Float64Array, j: number, upper: Float64Array, width: number): void {
  const a = row[j] ?? 0, at = j * width;
  if (a === 0) return;
  const d = upper[at + j] ?? 0, length = Math.sqrt(d * d + a * a);
  const cos = d / length, sin = a / length;
  for (let k = j; k < width; k++) {
    const above = upper[at + k] ?? 0, below = row[k] ?? 0;
    upper[at + k] = cos * above + sin * below;
    row[k] = cos * below - sin * above;
  }
}

/** Rows of the inverse of an upper triangle whose columns have length 1. */
function invertUpper(upper: (i: number, j: number) => number, n: number): number[][] {
  const inverse = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  for (let j = 0; j < n; j++) {
    if (Math.abs(upper(j, j)) < 1e-13) {
      throw new RangeError(
        `linearFit requires columns that do not repeat one another, got column ${j} made up of the earlier ones`,
      );
    }
    for (let i = j; i >= 0; i--) {
      let sum = i === j ? 1 : 0;
      for (let k = i + 1; k <= j; k++) sum -= upper(i, k) * (inverse[k]?.[j] ?? 0);
      const row = inverse[i];
      if (row) row[j] = sum / upper(i, i);
    }
  }
  return inverse;
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}
