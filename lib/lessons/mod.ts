/**
 * Lessons: exercises that check themselves, with hints for the mistakes that learners really make.
 *
 * A notebook ends a cell in `show(exercise("measure-curve-1"))`. The block brings its own script, marked `data-first-mirror`; a page
 * that would rather have it once puts `pageScript()` into a classic `script` element and leaves the marked ones out.
 * It is the same `judge` that the tests run: its source, written out by `judgeSource`.
 */
export type { Asked, ChoiceExercise, Exercise, NumberExercise, Trap } from "./exercise.ts";
export { exercise, question } from "./exercises.ts";
export type { Supply } from "./workshop/materials.ts";
export type { RoomRule } from "./workshop/leader.ts";
export type { Day, Slot, WorkshopPlan, WorkshopWish } from "./workshop/plan.ts";

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
