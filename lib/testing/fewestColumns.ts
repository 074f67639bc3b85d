import type { Matrix } from "./smallMatrix.ts";

/**
 * The fewest independent unit normals that move many places as they should move together.
 *
 * Given columns, one normal each, whose products summed over the columns are the covariances of the places, it finds fewer
 * with the same sums by Cholesky's way, each time taking the place that still varies most, until no place of the leading ones varies by more than a
 * thousandth of the widest (a millionth in variance).
 *
 * @param given    columns, one entry for each place
 * @param leading  how many of the places are looked at; the rest must be sums of these, and only follow
 * @returns columns of the same places
 * @example three normals that move two places alike are one
 * ```ts
 * import assert from "node:assert/strict";
 * const [column, ...others] = fewestColumns([1, 2, 2].map((size) => Float64Array.of(size, size)), 2);
 * assert.deepEqual([column, others], [Float64Array.of(3, 3), []]);
 * ```
 */
export function fewestColumns(given: Matrix, leading: number): Float64Array[] {
  const left = new Float64Array(given[0]?.length ?? 0), columns: Float64Array[] = [];
  for (const column of given) takeSquares(left, column, -1);
  const widest = left.subarray(0, leading).reduce((a, b) => Math.max(a, b), 0);
  for (;;) {
    let at = 0;
    for (let i = 1; i < leading; i++) if ((left[i] as number) > (left[at] as number)) at = i;
    if (!((left[at] as number) > 1e-6 * widest)) return columns;
    const column = columnOf(given, columns, at, Math.sqrt(left[at] as number));
    takeSquares(left, column, 1);
    columns.push(column);
  }
}

/** Takes sign times a column's squares away. */
function takeSquares(left: Float64Array, column: Float64Array, sign: 1 | -1): void {
  for (let i = 0; i < left.length; i++) {
    left[i] = (left[i] as number) - sign * (column[i] as number) * (column[i] as number);
  }
}

/** What the place `at` shares with every place, beyond what the columns so far hold, over its own spread. */
function columnOf(
  given: Matrix,
  columns: readonly Float64Array[],
  at: number,
  spread: number,
): Float64Array {
  const out = new Float64Array(given[0]?.length ?? 0);
  for (const column of given) add(out, column, (column[at] as number) / spread);
  for (const column of columns) add(out, column, -(column[at] as number) / spread);
  return out;
}

function add(out: Float64Array, column: Float64Array, factor: number): void {
  for (let i = 0; i < out.length; i++) {
    out[i] = (out[i] as number) + factor * (column[i] as number);
  }
}
