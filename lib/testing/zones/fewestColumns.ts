import { addScaled, type Matrix } from "../../numeric/smallMatrix.ts";

/**
 * The fewest independent unit normals that move many places as they should move together.
 *
 * Given how much each place varies, and a rule for how it varies with all others, it finds columns, one normal each, whose
 * products summed over the columns are these covariances: by Cholesky's way, each time taking the place that still varies
 * most, until no place of the leading ones varies by more than a thousandth of the widest (a millionth in variance).
 *
 * @param variances    of the places
 * @param covariances  of the place it is given with all places; asked for a few places only, and may be written over
 * @param leading      how many of the places are looked at; the rest must be sums of these, and only follow
 * @returns columns of the places
 * @example two places that move alike need one normal
 * ```ts
 * import assert from "node:assert/strict";
 * const [column, ...others] = fewestColumns(Float64Array.of(9, 9), () => Float64Array.of(9, 9), 2);
 * assert.deepEqual([column, others], [Float64Array.of(3, 3), []]);
 * ```
 */
export function fewestColumns(
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
