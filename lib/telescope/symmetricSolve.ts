/** A symmetric positive system of equations, solved by Cholesky's root. */

/**
 * Solves A x = b.
 *
 * @param matrix  symmetric and positive; only its lower triangle is read
 * @param load    b, as long as the matrix is high
 * @throws {RangeError} where the matrix is not positive
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const x = symmetricSolve([Float64Array.of(4, 2), Float64Array.of(2, 3)], Float64Array.of(10, 7));
 * assert.deepEqual([...x].map((v) => v.toFixed(12)), ["2.000000000000", "1.000000000000"]);
 * ```
 */
export function symmetricSolve(matrix: readonly Float64Array[], load: Float64Array): Float64Array {
  const lower = matrix.map((row) => Float64Array.from(row)), x = Float64Array.from(load);
  const row = (i: number): Float64Array => lower[i] as Float64Array;
  lower.forEach((a, i) => {
    for (let j = 0; j <= i; j++) {
      const b = row(j);
      let rest = a[j] as number;
      for (let k = 0; k < j; k++) rest -= (a[k] as number) * (b[k] as number);
      if (i === j && !(rest > 0)) {
        throw new RangeError(`symmetricSolve requires a positive matrix, got a pivot of ${rest}`);
      }
      a[j] = i === j ? Math.sqrt(rest) : rest / (b[j] as number);
      if (i !== j) x[i] = (x[i] as number) - (a[j] as number) * (x[j] as number);
    }
    x[i] = (x[i] as number) / (a[i] as number);
  });
  for (let i = x.length - 1; i >= 0; i--) {
    const value = (x[i] as number) / (row(i)[i] as number);
    x[i] = value;
    for (let k = 0; k < i; k++) x[k] = (x[k] as number) - (row(i)[k] as number) * value;
  }
  return x;
}
