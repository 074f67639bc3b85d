/** How many mirrors wait for a tester, where each goes away to work and comes back. */

/** A room at its testers. */
export interface Room {
  /** mirrors that are tested again and again, 0 or more */
  readonly mirrors: number;
  /** 1 or more */
  readonly testers: number;
  /** one test, min, mean; above 0 */
  readonly testMin: number;
  /** from the end of a test to the next wish for one: a session and its cooling, min, mean; above 0 */
  readonly awayMin: number;
}

/** What the room looks like on the mean. */
export interface TesterQueue {
  /** mirrors that wait for a tester */
  readonly waiting: number;
  /** how long one waits before each test, min */
  readonly waitMin: number;
  /** share of the time a tester is in use, 0 to 1 */
  readonly inUse: number;
  /** tests in an hour, all testers together */
  readonly testsAnHour: number;
}

/**
 * Mirrors that wait, of a room that comes back to its testers again and again.
 *
 * With n mirrors at the testers, waiting or tested, N - n are away. Tests and absences of chance length (exponential) give
 *
 *     p(n) ~ N! / (N - n)! x (test / away)^n / (min(n, c)! x c^(n - c) where n > c),   c testers
 *
 * from which all the rest follows; the waits of work that keeps to the clock are shorter, so this is the careful side.
 *
 * @throws {RangeError} for counts that are not whole, or times not above 0
 * @see machines that wait for their minder: C. Palm 1947; L. Kleinrock, Queueing Systems 1 (1975), section 3.8 to 3.9 (played out minute by minute in its test)
 * @example six at the zone test, one tester, half an hour a test, two hours away
 * ```ts
 * import assert from "node:assert/strict";
 * const { waiting, waitMin } = testerQueue({ mirrors: 6, testers: 1, testMin: 30, awayMin: 120 });
 * assert.deepEqual([waiting.toFixed(1), waitMin.toFixed(0)], ["1.6", "54"]);
 * ```
 */
export function testerQueue({ mirrors, testers, testMin, awayMin }: Room): TesterQueue {
  const whole = Number.isInteger(mirrors) && mirrors >= 0 && mirrors <= 500 &&
    Number.isInteger(testers) && testers >= 1;
  if (!(whole && testMin > 0 && awayMin > 0 && testMin < Infinity && awayMin < Infinity)) {
    throw new RangeError(
      `testerQueue requires whole mirrors from 0 to 500, testers from 1, times above 0 min, got mirrors=${mirrors}, testers=${testers}, testMin=${testMin}, awayMin=${awayMin}`,
    );
  }
  const weights = [1];
  for (let n = 1; n <= mirrors; n++) {
    const came = (mirrors - n + 1) / awayMin, went = Math.min(n, testers) / testMin;
    weights.push((weights[n - 1] ?? 0) * came / went);
  }
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = (of: (n: number) => number): number =>
    weights.reduce((sum, weight, n) => sum + weight * of(n), 0) / all;
  const waiting = mean((n) => Math.max(0, n - testers));
  const atTest = mean((n) => Math.min(n, testers)), perMinute = atTest / testMin;
  return {
    waiting,
    waitMin: perMinute === 0 ? 0 : waiting / perMinute,
    inUse: atTest / testers,
    testsAnHour: 60 * perMinute,
  };
}
