/**
 * The lower triangle L of a symmetric matrix that is not negative: A = L Lᵀ.
 *
 * With it, independent draws become correlated ones. A pivot that is zero but for rounding (perfect correlation) is
 * allowed.
 *
 * @param matrix  symmetric, of finite numbers
 * @throws {RangeError} where the matrix is not symmetric, or negative in some direction
 * @see Golub and Van Loan, Matrix Computations, 4.2 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(cholesky([[4, 2], [2, 10]]), [[2, 0], [1, 3]]);
 * ```
 */
export function cholesky(matrix: readonly (readonly number[])[]): number[][] {
  const at = (i: number, j: number): number => matrix[i]?.[j] ?? NaN;
  const lower = matrix.map(() => new Array<number>(matrix.length).fill(0));
  for (let j = 0; j < matrix.length; j++) {
    for (let i = j; i < matrix.length; i++) {
      const a = lower[i] ?? [], b = lower[j] ?? [];
      let rest = at(i, j);
      if (!(Math.abs(rest - at(j, i)) <= 1e-12 * Math.sqrt(Math.abs(at(i, i) * at(j, j))))) {
        throw new RangeError(`cholesky requires a symmetric matrix, got ${rest} and ${at(j, i)}`);
      }
      for (let k = 0; k < j; k++) rest -= (a[k] ?? 0) * (b[k] ?? 0);
      a[j] = i === j ? pivot(rest, at(j, j)) : quotient(rest, b[j] ?? 0, at(i, i) * at(j, j));
    }
  }
  return lower;
}

function pivot(rest: number, diagonal: number): number {
  if (rest > 1e-13 * diagonal) return Math.sqrt(rest);
  if (rest >= -1e-10 * diagonal) return 0;
  throw new RangeError(`cholesky requires a matrix that is not negative, got a pivot of ${rest}`);
}

function quotient(rest: number, divisor: number, scale: number): number {
  if (divisor !== 0) return rest / divisor;
  if (Math.abs(rest) <= 1e-7 * Math.sqrt(scale)) return 0;
  throw new RangeError(`cholesky requires a matrix that is not negative, got ${rest} beside 0`);
}
