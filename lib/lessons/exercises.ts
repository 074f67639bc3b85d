/** All exercises, by the name of their stage. */
import { course } from "./course.ts";
import type { Exercise } from "./exercise.ts";
import { exerciseBlock, questionBlock } from "./block.ts";
import type { Shown } from "../figures/show.ts";

/** Every exercise of the course, in the order of its stages. */
export const exercises: readonly Exercise[] = course.flatMap((stage) => stage.exercises);

function found(which: string): Exercise {
  const exercise = exercises.find(({ id }) => id === which);
  if (exercise !== undefined) return exercise;
  const known = exercises.map(({ id }) => id).join(", ");
  throw new RangeError(`exercise requires one of ${known}, got "${which}"`);
}

/**
 * Shows an exercise of the course by its name, or one of your own.
 *
 * @param which  "measure-curve-1", or an exercise
 * @param title  the block's heading
 * @param mine   an answer from the cell, a number or one of the choices; it is judged under the question
 * @throws {RangeError} where there is no exercise of that name
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(exercise("measure-curve-1").text, /radius of curvature\?$/);
 * assert.match(exercise("measure-curve-1", "Leaves", 2450).text, /too large by about 3\u00a0%: That is for a chord of 150 mm/);
 * ```
 */
export function exercise(
  which: string | Exercise,
  title?: string,
  mine?: string | number,
): Shown {
  return exerciseBlock(typeof which === "string" ? found(which) : which, title, mine);
}

/**
 * Shows an exercise of the course with answer and hints out of plain sight, as the learner's edition does.
 *
 * @param which  "measure-curve-1"
 * @param title  the block's heading
 * @param mine   an answer from the cell
 * @throws {RangeError} where there is no exercise of that name
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(question("measure-curve-1", "Leaves").text, /Nothing was answered yet/);
 * assert.match(question("measure-curve-1", "Leaves", 2385).text, /2385.mm\. Yes\.$/);
 * ```
 */
export function question(which: string, title?: string, mine?: string | number): Shown {
  return questionBlock(found(which), title, mine);
}
