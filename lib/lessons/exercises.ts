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
import { exerciseBlock } from "./block.ts";
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

/**
 * Shows an exercise of the course by its number, or one of your own.
 *
 * @param which  "04-1", or an exercise
 * @param title  the block's heading
 * @throws {RangeError} where there is no exercise of that number
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(exercise("04-1").text, /radius of curvature\?$/);
 * ```
 */
export function exercise(which: string | Exercise, title?: string): Shown {
  if (typeof which !== "string") return exerciseBlock(which, title);
  const found = exercises.find(({ id }) => id === which);
  if (found === undefined) {
    const known = exercises.map(({ id }) => id).join(", ");
    throw new RangeError(`exercise requires one of ${known}, got "${which}"`);
  }
  return exerciseBlock(found, title);
}
