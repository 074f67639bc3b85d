/** Whether a goal is met, and how surely: the same rule wherever the kit judges. */

export type Verdict = "yes" | "no" | "not shown";

/** From this probability on the answer is yes; from one less this downward it is no (COMMON PRACTICE of the course). */
export const SURE_ENOUGH = 0.95;

/**
 * Turns a probability of meeting the goal into an answer.
 *
 * @param probability  0 to 1
 * @param sure  from which probability on it is yes; above 0.5, default 0.95
 * @returns yes, no, or not shown: the readings cannot tell
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([0.97, 0.6, 0.03].map((p) => verdictOf(p)), ["yes", "not shown", "no"]);
 * ```
 */
export function verdictOf(probability: number, sure: number = SURE_ENOUGH): Verdict {
  if (!(probability >= 0 && probability <= 1 && sure > 0.5 && sure <= 1)) {
    throw new RangeError(
      `verdictOf requires 0 <= probability <= 1 and 0.5 < sure <= 1, got ${probability}, ${sure}`,
    );
  }
  if (probability >= sure) return "yes";
  return probability <= 1 - sure + 1e-12 ? "no" : "not shown";
}
