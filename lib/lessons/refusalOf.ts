/** What the kit says when it refuses: for cells that break something on purpose. */

/**
 * Runs something that is meant to be refused, and gives back the sentence.
 *
 * @param attempt  what to try
 * @returns the refusal's own words, or that there was none
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(refusalOf(() => { throw new RangeError("no unit"); }), "Refused: no unit");
 * assert.equal(refusalOf(() => 6), "Not refused: 6");
 * ```
 */
export function refusalOf(attempt: () => unknown): string {
  try {
    return `Not refused: ${String(attempt())}`;
  } catch (error) {
    return `Refused: ${error instanceof Error ? error.message : String(error)}`;
  }
}
