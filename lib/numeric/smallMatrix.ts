/** Dense matrices of a few dozen rows, as rows of numbers, with only the operations that the kit needs. */

export type Matrix = readonly Float64Array[];

/** A matrix from its size and a rule for its entries. */
export function matrix(
  rows: number,
  columns: number,
  at: (i: number, j: number) => number,
): Float64Array[] {
  const out: Float64Array[] = [];
  for (let i = 0; i < rows; i++) {
    const row = new Float64Array(columns);
    for (let j = 0; j < columns; j++) row[j] = at(i, j);
    out.push(row);
  }
  return out;
}

/** a b */
export function product(a: Matrix, b: Matrix): Float64Array[] {
  const columns = b[0]?.length ?? 0;
  return a.map((row) => {
    const out = new Float64Array(columns);
    for (let k = 0; k < row.length; k++) {
      const factor = row[k] as number, line = b[k] as Float64Array;
      for (let j = 0; j < columns; j++) out[j] = (out[j] as number) + factor * (line[j] as number);
    }
    return out;
  });
}

/** a times a column. */
export function times(a: Matrix, x: ArrayLike<number>): Float64Array {
  const out = new Float64Array(a.length);
  a.forEach((row, i) => out[i] = dot(row, x));
  return out;
}

export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}

export function transpose(a: Matrix): Float64Array[] {
  const out = Array.from({ length: a[0]?.length ?? 0 }, () => new Float64Array(a.length));
  for (let j = 0; j < a.length; j++) {
    const row = a[j] as Float64Array;
    for (let i = 0; i < out.length; i++) (out[i] as Float64Array)[j] = row[i] as number;
  }
  return out;
}

/** A row times a factor; a loop, since `map` is ten times as slow. */
export function scaled(row: Float64Array, factor: number): Float64Array {
  const out = new Float64Array(row.length);
  for (let i = 0; i < row.length; i++) out[i] = factor * (row[i] as number);
  return out;
}

/** Adds factor times another row. */
export function addScaled(row: Float64Array, other: Float64Array, factor: number): void {
  for (let i = 0; i < row.length; i++) row[i] = (row[i] as number) + factor * (other[i] as number);
}

/** Adds factor times the squares of another row. */
export function addSquares(row: Float64Array, other: Float64Array, factor: number): void {
  for (let i = 0; i < row.length; i++) {
    row[i] = (row[i] as number) + factor * (other[i] as number) * (other[i] as number);
  }
}

/** Root of what the earlier columns leave of a diagonal. */
type PivotRoot = (rest: number, diagonal: number) => number;

/** Lower triangle L of A = L L^T, row by row; of A only the lower triangle is read. */
function factor(a: readonly ArrayLike<number>[], rootOf: PivotRoot): Float64Array[] {
  const lower = a.map(() => new Float64Array(a.length));
  for (let i = 0; i < a.length; i++) {
    const row = lower[i] as Float64Array, from = a[i] as ArrayLike<number>;
    for (let j = 0; j <= i; j++) {
      const other = lower[j] as Float64Array, divisor = other[j] as number;
      let rest = from[j] as number;
      for (let k = 0; k < j; k++) rest -= (row[k] as number) * (other[k] as number);
      if (i === j) row[j] = rootOf(rest, from[j] as number);
      else if (divisor !== 0) row[j] = rest / divisor;
      else if (!(Math.abs(rest) <= 1e-7 * Math.sqrt((from[i] as number) * (a[j]?.[j] ?? NaN)))) {
        throw new RangeError(
          `cholesky requires a matrix that is not negative, got ${rest} beside 0`,
        );
      }
    }
  }
  return lower;
}

/**
 * Cholesky's factor of a positive symmetric matrix: L, a lower triangle, with A = L L^T.
 *
 * @param a  only its lower triangle is read
 * @throws {RangeError} where the matrix is not positive
 * @see Golub and Van Loan, Matrix Computations, 4.2 (held by its law in the tests)
 */
export function cholesky(a: Matrix): Float64Array[] {
  return factor(a, (rest) => {
    if (rest > 0) return Math.sqrt(rest);
    throw new RangeError(`cholesky requires a positive matrix, got a pivot of ${rest}`);
  });
}

/** The zone test's name for it. */
export const lowerTriangle: (a: Matrix) => Float64Array[] = cholesky;

/**
 * The same of a covariance, whose pivots may be zero but for rounding (perfect correlation): with it, independent draws
 * become correlated ones.
 *
 * @param matrix  symmetric, of finite numbers
 * @throws {RangeError} where the matrix is not symmetric, or negative in some direction
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(choleskyOfCovariance([[4, 2], [2, 10]]), [[2, 0], [1, 3]]);
 * ```
 */
export function choleskyOfCovariance(matrix: readonly (readonly number[])[]): number[][] {
  const at = (i: number, j: number): number => matrix[i]?.[j] ?? NaN;
  matrix.forEach((row, i) => {
    for (let j = 0; j <= i; j++) {
      const here = row[j] ?? NaN, there = at(j, i);
      if (Math.abs(here - there) <= 1e-12 * Math.sqrt(Math.abs(at(i, i) * at(j, j)))) continue;
      throw new RangeError(`cholesky requires a symmetric matrix, got ${here} and ${there}`);
    }
  });
  return factor(matrix, (rest, diagonal) => {
    if (rest > 1e-13 * diagonal) return Math.sqrt(rest);
    if (rest >= -1e-10 * diagonal) return 0;
    throw new RangeError(`cholesky requires a matrix that is not negative, got a pivot of ${rest}`);
  }).map((row) => Array.from(row));
}

/** Solves L x = b. */
export function forward(lower: Matrix, b: ArrayLike<number>): Float64Array {
  const x = new Float64Array(b.length);
  for (let i = 0; i < x.length; i++) {
    const row = lower[i] as Float64Array;
    let rest = b[i] as number;
    for (let k = 0; k < i; k++) rest -= (row[k] as number) * (x[k] as number);
    x[i] = rest / (row[i] as number);
  }
  return x;
}

/** Solves L X = factor B for all columns of B at once, row upon row: for many columns several times as fast as one by one. */
export function forwardAll(lower: Matrix, b: Matrix, factor = 1): Float64Array[] {
  const columns = b[0]?.length ?? 0, room = new Float64Array(b.length * columns);
  const x: Float64Array[] = [];
  for (let i = 0; i < b.length; i++) {
    const from = b[i] as Float64Array, factors = lower[i] as Float64Array;
    const row = room.subarray(i * columns, (i + 1) * columns);
    for (let j = 0; j < columns; j++) row[j] = factor * (from[j] as number);
    x.push(row);
    for (let k = 0; k < i; k++) {
      const known = x[k] as Float64Array, factor = factors[k] as number;
      for (let j = 0; j < row.length; j++) {
        row[j] = (row[j] as number) - factor * (known[j] as number);
      }
    }
    const scale = 1 / (factors[i] as number);
    for (let j = 0; j < row.length; j++) row[j] = (row[j] as number) * scale;
  }
  return x;
}

/** Solves L^T x = b. */
export function backward(lower: Matrix, b: ArrayLike<number>): Float64Array {
  const x = Float64Array.from(b);
  for (let i = x.length - 1; i >= 0; i--) {
    const row = lower[i] as Float64Array;
    const value = (x[i] as number) / (row[i] as number);
    x[i] = value;
    for (let k = 0; k < i; k++) x[k] = (x[k] as number) - (row[k] as number) * value;
  }
  return x;
}

/** Solves A x = b for a positive symmetric A, of which only the lower triangle is read. */
export function solveColumn(a: Matrix, b: ArrayLike<number>): Float64Array {
  const lower = cholesky(a);
  return backward(lower, forward(lower, b));
}

/** Solves A X = B for a positive symmetric A, column by column of B. */
export function solve(a: Matrix, b: Matrix): Float64Array[] {
  const lower = cholesky(a);
  return transpose(transpose(b).map((column) => backward(lower, forward(lower, column))));
}

/**
 * Pivoted incomplete Cholesky: few independent unit normals that move many places as they should move together.
 *
 * Given how much each place varies, and a rule for how it varies with all others, it finds columns, one normal each, whose
 * products summed over the columns are these covariances: each time taking the place that still varies most, until no
 * place of the leading ones varies by more than a thousandth of the widest (a millionth in variance).
 *
 * @param variances    of the places
 * @param covariances  of the place it is given with all places; asked for a few places only, and may be written over
 * @param leading      how many of the places are looked at; the rest must be sums of these, and only follow
 * @returns columns of the places
 * @example two places that move alike need one normal
 * ```ts
 * import assert from "node:assert/strict";
 * const [column, ...others] = pivotedCholesky(Float64Array.of(9, 9), () => Float64Array.of(9, 9), 2);
 * assert.deepEqual([column, others], [Float64Array.of(3, 3), []]);
 * ```
 */
export function pivotedCholesky(
  variances: Float64Array,
  covariances: (place: number) => Float64Array,
  leading: number,
): Float64Array[] {
  const left = variances.slice(), columns: Float64Array[] = [];
  let widest = 0;
  for (let i = 0; i < leading; i++) widest = Math.max(widest, left[i] as number);
  while (columns.length < leading) {
    let at = 0;
    for (let i = 1; i < leading; i++) if ((left[i] as number) > (left[at] as number)) at = i;
    if (!((left[at] as number) > 1e-6 * widest)) break;
    columns.push(nextColumn(covariances(at), columns, at, left));
  }
  return columns;
}

/** What the place `at` shares with every place beyond the columns so far, over its own spread; taken out of `left`. */
function nextColumn(
  column: Float64Array,
  columns: Matrix,
  at: number,
  left: Float64Array,
): Float64Array {
  for (const known of columns) addScaled(column, known, -(known[at] as number));
  const scale = 1 / Math.sqrt(left[at] as number);
  for (let i = 0; i < column.length; i++) {
    const value = (column[i] as number) * scale;
    column[i] = value;
    left[i] = (left[i] as number) - value * value;
  }
  return column;
}
