/** Many numbers put in rising order: counted into as many compartments as keep each short, then put right by neighbours. */

/** Numbers to a compartment, and how many may lie in one before an ordinary sort is quicker. */
const usual = 4, most = 48;

/**
 * A copy in rising order. Numbers that spread as draws do take time in proportion to their count, a sixth of an ordinary sort's;
 * where a few lie so far off that the rest share a compartment, or one is not finite, an ordinary sort does it.
 *
 * @param values  in any order; left as they are
 * @see reckoned beside the ordinary sort: tests/numeric/rising.test.ts
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([...rising(Float64Array.of(3, 1, 2, 1))], [1, 1, 2, 3]);
 * ```
 */
export function rising(values: Float64Array): Float64Array {
  const n = values.length;
  let low = Infinity, high = -Infinity;
  for (let i = 0; i < n; i++) {
    const x = values[i] as number;
    if (x < low) low = x;
    if (x > high) high = x;
  }
  const count = Math.max(1, Math.floor(n / usual)), scale = (count - 1) / (high - low);
  if (!(scale > 0 && scale < Infinity)) return values.slice().sort();
  const where = new Int32Array(n), ends = new Int32Array(count + 1);
  for (let i = 0; i < n; i++) {
    // what is no number goes past the last compartment
    const at = ((values[i] as number) - low) * scale, k = at >= 0 ? Math.floor(at) : count;
    where[i] = k;
    ends[k] = (ends[k] as number) + 1;
  }
  let before = 0;
  for (let k = 0; k <= count; k++) {
    const here = ends[k] as number;
    if (here > (k < count ? most : 0)) return values.slice().sort();
    ends[k] = before;
    before += here;
  }
  const sorted = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const k = where[i] as number, at = ends[k] as number;
    sorted[at] = values[i] as number;
    ends[k] = at + 1;
  }
  for (let i = 1; i < n; i++) {
    const x = sorted[i] as number;
    let j = i - 1;
    for (; j >= 0 && (sorted[j] as number) > x; j--) sorted[j + 1] = sorted[j] as number;
    sorted[j + 1] = x;
  }
  return sorted;
}
