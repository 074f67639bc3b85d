/** All exercises, by the number of their notebook. */
import type { Exercise } from "./exercise.ts";
import { chooseMirror } from "./exercises/chooseMirror.ts";
import { correctDepth } from "./exercises/correctDepth.ts";
import { grindHollow } from "./exercises/grindHollow.ts";
import { judgeMirror } from "./exercises/judgeMirror.ts";
import { measureCurve } from "./exercises/measureCurve.ts";
import { measureZones } from "./exercises/measureZones.ts";
import { openRecord } from "./exercises/openRecord.ts";
import { prepareDiscs } from "./exercises/prepareDiscs.ts";
import { readBands } from "./exercises/readBands.ts";
import { pourLap } from "./exercises/pourLap.ts";
import { polishSurface } from "./exercises/polishSurface.ts";
import { shapeSurface } from "./exercises/shapeSurface.ts";
import { smoothSurface } from "./exercises/smoothSurface.ts";
import { weighReadings } from "./exercises/weighReadings.ts";
import { placeFlat } from "./exercises/placeFlat.ts";
import { carryWeight } from "./exercises/carryWeight.ts";
import { coatMirror } from "./exercises/coatMirror.ts";
import { alignMirrors } from "./exercises/alignMirrors.ts";
import { observeSky } from "./exercises/observeSky.ts";
import { compareClass } from "./exercises/compareClass.ts";
import { exerciseBlock, questionBlock } from "./block.ts";
import type { Shown } from "../figures/show.ts";

/** Every exercise of the course, in the order of its notebooks. */
export const exercises: readonly Exercise[] = [
  ...openRecord,
  ...chooseMirror,
  ...prepareDiscs,
  ...grindHollow,
  ...measureCurve,
  ...weighReadings,
  ...correctDepth,
  ...smoothSurface,
  ...pourLap,
  ...polishSurface,
  ...readBands,
  ...measureZones,
  ...judgeMirror,
  ...shapeSurface,
  ...coatMirror,
  ...placeFlat,
  ...carryWeight,
  ...alignMirrors,
  ...observeSky,
  ...compareClass,
];

function found(which: string): Exercise {
  const exercise = exercises.find(({ id }) => id === which);
  if (exercise !== undefined) return exercise;
  const known = exercises.map(({ id }) => id).join(", ");
  throw new RangeError(`exercise requires one of ${known}, got "${which}"`);
}

/**
 * Shows an exercise of the course by its number, or one of your own.
 *
 * @param which  "04-1", or an exercise
 * @param title  the block's heading
 * @param mine   an answer from the cell, a number or one of the choices; it is judged under the question
 * @throws {RangeError} where there is no exercise of that number
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(exercise("04-1").text, /radius of curvature\?$/);
 * assert.match(exercise("04-1", "Leaves", 2450).text, /too large by about 3 %: That is for a chord of 150 mm/);
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
 * Shows an exercise of the course without its answer, as the learner's edition does.
 *
 * @param which  "04-1"
 * @param title  the block's heading
 * @param mine   an answer from the cell
 * @throws {RangeError} where there is no exercise of that number
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(question("04-1", "Leaves").text, /in place of undefined/);
 * assert.match(question("04-1", "Leaves", 2385).text, /2385.mm\. Yes\.$/);
 * ```
 */
export function question(which: string, title?: string, mine?: string | number): Shown {
  return questionBlock(found(which), title, mine);
}
