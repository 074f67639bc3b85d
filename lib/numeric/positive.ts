/** Symmetric positive matrices in one array, row after row: for fits that add them up pixel by pixel. */

/**
 * Lower triangle L of A = L L^T, row after row.
 *
 * @param least  a square of a pivot that is no larger counts as none
 * @returns `undefined` where A is not positive
 */
export function triangle(a: Float64Array, n: number, least = 0): Float64Array | undefined {
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = a[i * n + j] as number;
      for (let k = 0; k < j; k++) {
        rest -= (lower[i * n + k] as number) * (lower[j * n + k] as number);
      }
      if (i !== j) lower[i * n + j] = rest / (lower[j * n + j] as number);
      else if (rest > least) lower[i * n + i] = Math.sqrt(rest);
      else return undefined;
    }
  }
  return lower;
}

/** Solves L L^T x = b. */
export function solveTriangle(lower: Float64Array, b: Float64Array): Float64Array {
  const n = b.length, x = b.slice();
  for (let i = 0; i < n; i++) {
    let rest = x[i] as number;
    for (let k = 0; k < i; k++) rest -= (lower[i * n + k] as number) * (x[k] as number);
    x[i] = rest / (lower[i * n + i] as number);
  }
  for (let i = n - 1; i >= 0; i--) {
    let rest = x[i] as number;
    for (let k = i + 1; k < n; k++) rest -= (lower[k * n + i] as number) * (x[k] as number);
    x[i] = rest / (lower[i * n + i] as number);
  }
  return x;
}

/**
 * Solves A x = b for a symmetric positive A, row after row, by Cholesky's triangle.
 *
 * @returns `undefined` where A is not positive
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const x = solvePositive(Float64Array.of(4, 2, 2, 3), Float64Array.of(8, 8)) ?? [];
 * assert.equal(Array.from(x, (v) => v.toFixed(9)).join(" "), "1.000000000 2.000000000");
 * ```
 */
export function solvePositive(a: Float64Array, b: Float64Array): Float64Array | undefined {
  const lower = triangle(a, b.length);
  return lower && solveTriangle(lower, b);
}

/** The inverse of a symmetric positive matrix; `undefined` where it is not positive. */
export function inversePositive(a: Float64Array, n: number): Float64Array | undefined {
  const lower = triangle(a, n);
  if (lower === undefined) return undefined;
  const out = new Float64Array(n * n), unit = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    unit.fill(0);
    unit[j] = 1;
    const column = solveTriangle(lower, unit);
    for (let i = 0; i < n; i++) out[i * n + j] = column[i] as number;
  }
  return out;
}
