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

/**
 * The shortest interval of draws that are not in order, without putting all of them in order: only the tails outside
 * it matter.
 *
 * @param draws  in any order; left as they are
 * @param p      share, between 0 and 1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(shortestOfDraws([8, 3, 100, 0, 6, 1, 5, 2, 7, 4], 0.8), [0, 8]);
 * ```
 */
export function shortestOfDraws(draws: ArrayLike<number>, p = 0.95): readonly [number, number] {
  const n = draws.length, held = heldCount("shortestOfDraws", n, p), outside = n - held;
  const low = p < 0.6 || n < 2000 ? undefined : tail(draws, outside, 1);
  const high = low && tail(draws, outside, -1);
  if (!low || !high) return shortestInterval(Float64Array.from(draws).sort(), p);
  let best = 0, width = Infinity;
  for (let i = 0; i < outside; i++) { // the tails' far ends: high[k] is the k-th largest, turned in sign
    const here = -(high[outside - 1 - i] ?? NaN) - (low[i] ?? NaN);
    if (here < width) [best, width] = [i, here];
  }
  return [low[best] ?? NaN, -(high[outside - 1 - best] ?? NaN)];
}

/** The smallest `count` of sign times the draws, rising; undefined where the sample's guess of their limit is too low. */
function tail(draws: ArrayLike<number>, count: number, sign: 1 | -1): Float64Array | undefined {
  const size = 1000, stride = draws.length / size;
  const sample = Float64Array.from(
    { length: size },
    (_, i) => sign * (draws[Math.floor(i * stride)] ?? 0),
  ).sort();
  const share = count / draws.length;
  const limit = sample[Math.ceil(size * share + 4 * Math.sqrt(size * share * (1 - share)) + 2)] ??
    Infinity;
  const kept = new Float64Array(draws.length);
  let found = 0;
  for (let i = 0; i < draws.length; i++) {
    const x = sign * (draws[i] ?? 0);
    if (x <= limit) kept[found++] = x;
  }
  return found < count ? undefined : kept.subarray(0, found).sort();
}
