/** Least squares by Marquardt's damped steps on normal equations that are added up pixel by pixel, never stored. */

/** Sum of squares at a place, with half its slopes and curvature where they are wanted. */
export interface Normal {
  readonly cost: number;
  /** J^T r */
  readonly right: Float64Array;
  /** J^T J, row after row */
  readonly square: Float64Array;
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
  const n = b.length, lower = triangle(a, n);
  if (lower === undefined) return undefined;
  const x = b.slice();
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

/** Lower triangle L of A = L L^T, row after row; `undefined` where A is not positive. */
export function triangle(a: Float64Array, n: number): Float64Array | undefined {
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = a[i * n + j] as number;
      for (let k = 0; k < j; k++) {
        rest -= (lower[i * n + k] as number) * (lower[j * n + k] as number);
      }
      if (i !== j) lower[i * n + j] = rest / (lower[j * n + j] as number);
      else if (rest > 0) lower[i * n + i] = Math.sqrt(rest);
      else return undefined;
    }
  }
  return lower;
}

/** The inverse of a symmetric positive matrix; `undefined` where it is not positive. */
export function inversePositive(a: Float64Array, n: number): Float64Array | undefined {
  const out = new Float64Array(n * n), unit = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    unit.fill(0);
    unit[j] = 1;
    const column = solvePositive(a, unit);
    if (column === undefined) return undefined;
    for (let i = 0; i < n; i++) out[i * n + j] = column[i] as number;
  }
  return out;
}

/**
 * Goes downhill from a start.
 *
 * @param start     unknowns to begin with
 * @param evaluate  sum of squares, and its slopes where `slopes` is true; Infinity where a state is impossible
 * @param free      which unknowns may move
 * @param most      steps at most
 * @returns the lowest state found and its sum of squares
 * @see Marquardt 1963, J. SIAM 11, 431 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const well = (p: Float64Array) => ({
 *   cost: (p[0] as number - 3) ** 2, right: Float64Array.of(3 - (p[0] as number)), square: Float64Array.of(1),
 * });
 * assert.equal(descend(Float64Array.of(0), well, [0], 20).at[0]?.toFixed(4), "3.0000");
 * ```
 */
export function descend(
  start: Float64Array,
  evaluate: (at: Float64Array, slopes: boolean) => Normal,
  free: readonly number[],
  most: number,
): { readonly at: Float64Array; readonly cost: number } {
  let at = start, here = evaluate(at, true), damping = 1e-3;
  const size = start.length, count = free.length;
  for (let step = 0; step < most; step++) {
    let next: Float64Array | undefined, there = here;
    for (let tries = 0; tries < 8 && next === undefined; tries++) {
      const square = new Float64Array(count * count), right = new Float64Array(count);
      free.forEach((i, a) => {
        right[a] = here.right[i] as number;
        free.forEach((j, b) => square[a * count + b] = here.square[i * size + j] as number);
        const own = square[a * count + a] as number;
        square[a * count + a] = own * (1 + damping) || 1;
      });
      const move = solvePositive(square, right);
      if (move !== undefined) {
        const trial = at.slice();
        free.forEach((i, a) => trial[i] = (trial[i] as number) + (move[a] as number));
        // nearly every first try is taken: its slopes are worked out at once
        there = evaluate(trial, tries === 0);
        if (there.cost < here.cost) next = trial;
      }
      damping *= next === undefined ? 6 : 0.2;
    }
    if (next === undefined) break;
    const gain = here.cost - there.cost;
    at = next;
    here = there.right.length === size ? there : evaluate(at, true);
    if (gain < 1e-5 * here.cost + 1e-3) break;
  }
  return { at, cost: here.cost };
}
