/**
 * The shortest interval that holds a share p of draws: what to report where they lean to one side.
 *
 * @param sorted  draws in rising order
 * @param p       share, between 0 and 1
 * @returns [low, high]
 * @throws {RangeError} where there are too few draws for p
 * @see JCGM 101:2008, 7.7 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(shortestInterval([0, 1, 2, 3, 4, 5, 6, 7, 8, 100], 0.8), [0, 8]);
 * ```
 */
export function shortestInterval(sorted: ArrayLike<number>, p = 0.95): readonly [number, number] {
  const held = heldCount("shortestInterval", sorted.length, p);
  let best = 0, width = Infinity;
  for (let i = 0; i + held < sorted.length; i++) {
    const here = (sorted[i + held] ?? NaN) - (sorted[i] ?? NaN);
    if (here < width) [best, width] = [i, here];
  }
  return [sorted[best] ?? NaN, sorted[best + held] ?? NaN];
}

/**
 * The interval with equal shares of draws left out on both sides.
 *
 * @param sorted  draws in rising order
 * @param p       share, between 0 and 1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(middleInterval([0, 1, 2, 3, 4, 5, 6, 7, 8, 100], 0.6), [1, 7]);
 * ```
 */
export function middleInterval(sorted: ArrayLike<number>, p = 0.95): readonly [number, number] {
  const held = heldCount("middleInterval", sorted.length, p);
  const first = Math.ceil((sorted.length - held) / 2) - 1;
  return [sorted[first] ?? NaN, sorted[first + held] ?? NaN];
}

/** How many draws an interval spans: q of JCGM 101, 7.7.2. */
function heldCount(name: string, count: number, p: number): number {
  const held = Math.round(p * count);
  if (p > 0 && p < 1 && held >= 1 && held < count) return held;
  throw new RangeError(`${name} requires 0 < p < 1 and enough draws for it, got p=${p}, ${count}`);
}
