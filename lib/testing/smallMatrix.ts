/** Dense matrices of a few dozen rows, as rows of numbers, with only the operations the zone test needs. */

export type Matrix = readonly Float64Array[];

/** A matrix from its size and a rule for its entries. */
export function matrix(
  rows: number,
  columns: number,
  at: (i: number, j: number) => number,
): Float64Array[] {
  return Array.from(
    { length: rows },
    (_, i) => Float64Array.from({ length: columns }, (_, j) => at(i, j)),
  );
}

/** a b */
export function product(a: Matrix, b: Matrix): Float64Array[] {
  const columns = b[0]?.length ?? 0;
  return a.map((row) => {
    const out = new Float64Array(columns);
    for (let k = 0; k < row.length; k++) {
      const factor = row[k] ?? 0, line = b[k];
      if (line === undefined || factor === 0) continue;
      for (let j = 0; j < columns; j++) out[j] = (out[j] ?? 0) + factor * (line[j] ?? 0);
    }
    return out;
  });
}

/** a times a column. */
export function times(a: Matrix, x: ArrayLike<number>): Float64Array {
  return Float64Array.from(a, (row) => dot(row, x));
}

export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

export function transpose(a: Matrix): Float64Array[] {
  return matrix(a[0]?.length ?? 0, a.length, (i, j) => a[j]?.[i] ?? 0);
}

/**
 * Lower triangle L of a positive symmetric matrix, A = L L^T.
 *
 * @throws {RangeError} where the matrix is not positive
 */
export function lowerTriangle(a: Matrix): Float64Array[] {
  const lower = a.map(() => new Float64Array(a.length));
  for (let i = 0; i < a.length; i++) {
    const row = lower[i] ?? new Float64Array(0);
    for (let j = 0; j <= i; j++) {
      const other = lower[j] ?? row;
      let rest = a[i]?.[j] ?? 0;
      for (let k = 0; k < j; k++) rest -= (row[k] ?? 0) * (other[k] ?? 0);
      if (i === j && !(rest > 0)) {
        throw new RangeError(`lowerTriangle requires a positive matrix, got a pivot of ${rest}`);
      }
      row[j] = i === j ? Math.sqrt(rest) : rest / (other[j] ?? 1);
    }
  }
  return lower;
}

/** Solves L x = b. */
export function forward(lower: Matrix, b: ArrayLike<number>): Float64Array {
  const x = Float64Array.from(b);
  for (let i = 0; i < x.length; i++) {
    const row = lower[i];
    let rest = x[i] ?? 0;
    for (let k = 0; k < i; k++) rest -= (row?.[k] ?? 0) * (x[k] ?? 0);
    x[i] = rest / (row?.[i] ?? 1);
  }
  return x;
}

/** Solves L^T x = b. */
export function backward(lower: Matrix, b: ArrayLike<number>): Float64Array {
  const x = Float64Array.from(b);
  for (let i = x.length - 1; i >= 0; i--) {
    let rest = x[i] ?? 0;
    for (let k = i + 1; k < x.length; k++) rest -= (lower[k]?.[i] ?? 0) * (x[k] ?? 0);
    x[i] = rest / (lower[i]?.[i] ?? 1);
  }
  return x;
}

/** Solves A X = B for a positive symmetric A, column by column of B. */
export function solve(a: Matrix, b: Matrix): Float64Array[] {
  const lower = lowerTriangle(a);
  return transpose(transpose(b).map((column) => backward(lower, forward(lower, column))));
}
