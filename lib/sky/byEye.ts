/** What an eye says at the telescope, as numbers: brightness between two stars, one star or two, how wide a star looks. */
import { groupBy } from "../numeric/groupBy.ts";

/**
 * Brightness of a star by two neighbours, in tenths of the way from the brighter to the fainter.
 *
 * @param brighter  magnitude of the brighter neighbour
 * @param fainter   of the fainter one; a greater number
 * @param tenths    0: like the brighter; 10: like the fainter
 * @returns magnitude
 * @throws {RangeError} where the neighbours are alike or changed over, or the tenths outside 0 to 10
 * @example three tenths of the way from 3.4 to 4.2
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(magnitudeBetween(3.4, 4.2, 3).toFixed(2), "3.64");
 * ```
 */
export function magnitudeBetween(brighter: number, fainter: number, tenths: number): number {
  if (!(fainter > brighter && tenths >= 0 && tenths <= 10)) {
    throw new RangeError(
      `magnitudeBetween requires a fainter neighbour of greater magnitude and 0 to 10 tenths, got ${brighter}, ${fainter}, ${tenths}`,
    );
  }
  return brighter + ((fainter - brighter) * tenths) / 10;
}

/**
 * The chance that somebody who only guesses between one and two is right at least so often.
 *
 * @param right  0 to `tries`
 * @param tries  whole, 1 to 1000
 * @throws {RangeError} outside those ranges
 * @example nine of ten by luck: 11 cases of 1024
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(luckAlone(9, 10), 11 / 1024);
 * ```
 */
export function luckAlone(right: number, tries: number): number {
  if (!(Number.isInteger(tries) && tries >= 1 && tries <= 1000 && right >= 0 && right <= tries)) {
    throw new RangeError(`luckAlone requires 0 to ${tries} right of 1 to 1000 tries, got ${right}`);
  }
  let term = 0.5 ** tries, sum = 0;
  for (let k = tries; k >= right; k--) {
    sum += term;
    term *= k / (tries - k + 1);
  }
  return sum;
}

/** A pair of stars that was looked at without knowing whether there are two. */
export interface Rung {
  /** between the two, arcseconds */
  readonly gap: number;
  /** how often "two" or "one" was right */
  readonly right: number;
  /** of how many looks */
  readonly tries: number;
}

/** The closest pair that was told, and how well that is known. */
export interface Told {
  /** gap of the closest pair told, arcseconds */
  readonly gap: number;
  /** half of the step to the next closer pair; absent where every pair was told */
  readonly u?: number;
}

/**
 * The closest pair told, as all wider ones were.
 *
 * @param rungs     in any order; looks at one pair are added up
 * @param luckMost  a pair counts as told where luck alone would do it less often; default 0.02, nine of ten are 0.011
 * @returns nothing where not even the widest pair was told
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const rungs = [{ gap: 2.3, right: 10, tries: 10 }, { gap: 1.1, right: 9, tries: 10 }, { gap: 0.8, right: 6, tries: 10 }];
 * assert.deepEqual(closestTold(rungs), { gap: 1.1, u: 0.15000000000000002 });
 * ```
 */
export function closestTold(rungs: readonly Rung[], luckMost = 0.02): Told | undefined {
  const pairs = [...groupBy(rungs, ({ gap }) => gap)].map(([gap, some]) => ({
    gap,
    right: some.reduce((sum, one) => sum + one.right, 0),
    tries: some.reduce((sum, one) => sum + one.tries, 0),
  })).sort((a, b) => b.gap - a.gap);
  const isTold = ({ right, tries }: Rung): boolean => luckAlone(right, tries) <= luckMost;
  const missed = pairs.findIndex((pair) => !isTold(pair));
  const last = pairs[missed < 0 ? pairs.length - 1 : missed - 1], next = pairs[missed];
  if (last === undefined) return undefined;
  return { gap: last.gap, ...(next === undefined ? {} : { u: (last.gap - next.gap) / 2 }) };
}
