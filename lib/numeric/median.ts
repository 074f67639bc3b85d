/**
 * The middle value; of an even number, the mean of the two in the middle.
 *
 * @param values  one or more
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(median([3, 1, 2, 10]), 2.5);
 * ```
 */
export function median(values: ArrayLike<number>): number {
  if (values.length === 0) throw new RangeError("median requires one value or more, got none");
  const sorted = Float64Array.from(values).sort(), half = sorted.length >> 1;
  const upper = sorted[half] ?? 0;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? 0) + upper) / 2;
}
