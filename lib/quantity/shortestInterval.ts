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
  const tails = p < 0.6 || n < 2000 ? undefined : tailsOf(draws, outside);
  if (!tails) return shortestInterval(Float64Array.from(draws).sort(), p);
  const { low, high } = tails, first = high.length - outside;
  let best = 0, width = Infinity;
  for (let i = 0; i < outside; i++) {
    const here = (high[first + i] ?? NaN) - (low[i] ?? NaN);
    if (here < width) [best, width] = [i, here];
  }
  return [low[best] ?? NaN, high[first + best] ?? NaN];
}

/**
 * The interval with equal shares left out on both sides, of draws that are not in order, without putting all of them in
 * order.
 *
 * @param draws  in any order; left as they are
 * @param p      share, between 0 and 1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(middleOfDraws([8, 3, 100, 0, 6, 1, 5, 2, 7, 4], 0.6), [1, 7]);
 * ```
 */
export function middleOfDraws(draws: ArrayLike<number>, p = 0.95): readonly [number, number] {
  const n = draws.length, held = heldCount("middleOfDraws", n, p);
  const first = Math.ceil((n - held) / 2) - 1, above = n - held - first;
  const tails = p < 0.6 || n < 2000 ? undefined : tailsOf(draws, above);
  if (!tails) return middleInterval(Float64Array.from(draws).sort(), p);
  return [tails.low[first] ?? NaN, tails.high[tails.high.length - above] ?? NaN];
}

const SAMPLE = 1000;

/** The smallest and the largest draws, `count` or more of each, rising; undefined where a sample guesses badly how far they reach. */
function tailsOf(
  draws: ArrayLike<number>,
  count: number,
): { low: Float64Array; high: Float64Array } | undefined {
  const n = draws.length, share = count / n;
  const sample = Float64Array.from(
    { length: SAMPLE },
    (_, i) => draws[Math.floor(i * n / SAMPLE)] ?? 0,
  ).sort();
  const rank = Math.ceil(SAMPLE * share + 4 * Math.sqrt(SAMPLE * share * (1 - share)) + 2);
  const lowLimit = sample[rank] ?? Infinity, highLimit = sample[SAMPLE - 1 - rank] ?? -Infinity;
  const room = Math.ceil(2 * n * (rank + 1) / SAMPLE);
  const low = new Float64Array(room), high = new Float64Array(room);
  let lows = 0, highs = 0;
  for (let i = 0; i < n; i++) {
    const x = draws[i] ?? 0;
    if (x <= lowLimit) low[lows++] = x;
    if (x >= highLimit) high[highs++] = x;
  }
  if (Math.min(lows, highs) < count || Math.max(lows, highs) > room) return undefined;
  return { low: low.subarray(0, lows).sort(), high: high.subarray(0, highs).sort() };
}
