/** Exercises with the reader's own readings: asked, answered and trapped by what stands in the folder. */
import type { Shown } from "../figures/show.ts";
import { say } from "../figures/words.ts";
import type { Mirror } from "../knowledge/open.ts";
import { ownExerciseBlock } from "../lessons/block.ts";
import { CannotTell } from "../numeric/cannotTell.ts";
import type { Asked, Maker } from "./own/asked.ts";
import * as grinding from "./own/grinding.ts";
import * as telescope from "./own/telescope.ts";
import * as testing from "./own/testing.ts";

/** The exercises of each stage that has its reader's own numbers, in the order in which they stand on its page. */
const made: Readonly<Record<string, readonly [Maker, Maker]>> = {
  "choose-mirror": [
    ["an aperture and a focal length in mirror.yaml", grinding.depthPlanned],
    ["an aperture and a focal length in mirror.yaml", grinding.sphereOverGoal],
  ],
  "prepare-discs": [
    ["a bevel in mirror.yaml", grinding.bevelForgotten],
    ["glass and thickness in mirror.yaml", grinding.massOfDisc],
  ],
  "grind-hollow": [
    ["two depths in sagitta.csv, with their minutes,", grinding.rate],
    ["two depths in sagitta.csv, with their minutes,", grinding.rateDoubt],
  ],
  "measure-curve": [
    ["a row of leaves in sagitta.csv", grinding.leaves],
    ["a row of leaves in sagitta.csv", grinding.leavesDoubt],
  ],
  "weigh-readings": [
    ["three settings of the Sun’s image in sun.csv", grinding.mean],
    ["readings by two methods", grinding.methodsApart],
  ],
  "correct-depth": [
    ["a log with a rate and a depth before the stop", grinding.minutesLeft],
    ["a log and a depth", grinding.depthInDoubts],
  ],
  "smooth-surface": [
    ["minutes of fine grades both ways up in grinding.csv", grinding.shareOnTop],
    ["a radius that was measured", grinding.radiusOff],
  ],
  "pour-lap": [
    ["an aperture in mirror.yaml", testing.pitchOwn],
    ["glass and thickness in mirror.yaml", testing.pressOwn],
  ],
  "polish-surface": [
    ["minutes of polish in grinding.csv", testing.offTheRim],
    ["minutes of polish in grinding.csv", testing.wayOverLap],
  ],
  "read-bands": [
    ["a photograph in ronchi.csv", testing.bandsApart],
    ["a photograph with offset and offset_u in ronchi.csv", testing.bandsDoubt],
  ],
  "measure-zones": [
    ["zones read through your mask, in zones.csv,", testing.maskSpread],
    ["three runs through your mask on a day, in zones.csv,", testing.openingMean],
  ],
  "judge-mirror": [
    ["a surface from zones.csv", testing.wavefront],
    ["a surface from zones.csv", testing.goalInDoubts],
  ],
  "shape-surface": [
    ["a surface from zones.csv", testing.minutesForHeight],
    ["a surface from zones.csv", testing.minutesDoubt],
  ],
  "coat-mirror": [
    ["an aperture in mirror.yaml", telescope.silverOwn],
    ["tube and focuser in mirror.yaml", telescope.lightLeft],
  ],
  "place-flat": [
    ["tube and focuser in mirror.yaml", telescope.toFocus],
    ["tube and focuser in mirror.yaml", telescope.coneAtFlat],
  ],
  "carry-weight": [
    ["parts of the tube in mirror.yaml", telescope.balanceOwn],
    ["parts, bearing and a swapped eyepiece in mirror.yaml", telescope.holdOwn],
  ],
  "align-mirrors": [
    ["three screws in mirror.yaml", telescope.tiltOfTurn],
    ["three screws in mirror.yaml", telescope.turnAllowed],
  ],
  "read-star": [
    ["an aperture and a focal length in mirror.yaml", telescope.outOfFocus],
    ["an aperture and a focal length in mirror.yaml", telescope.discOfStar],
  ],
  "observe-sky": [
    ["an eyepiece in mirror.yaml", telescope.power],
    ["an eyepiece in mirror.yaml", telescope.widthAtEye],
  ],
};

/**
 * An exercise with the reader's own numbers, judged as the others are, its answer out of plain sight; where there are no
 * readings yet, which are wanted.
 *
 * @param yours  the reader's mirror
 * @param stage  "measure-curve"
 * @param which  1 or 2, in the order in which they stand on its page
 * @throws {RangeError} for a stage that has none
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { openRecord } from "../knowledge/open.ts";
 * const { demo } = await openRecord();
 * assert.match(ownExercise(demo, "judge-mirror").text, /^With your numbers: Your glass is \d+\.?\d* nm/);
 * ```
 */
export function ownExercise(yours: Mirror, stage: string, which: 1 | 2 = 1): Shown {
  const entry = made[stage]?.[which - 1];
  if (entry === undefined) {
    throw new RangeError(
      `ownExercise requires one of ${
        Object.keys(made).join(", ")
      }, and the first or the second, got "${stage}", ${which}`,
    );
  }
  const [needs, make] = entry;
  const asked = askedOf(yours, make);
  return asked === undefined
    ? say`With ${needs} an exercise stands here with your own numbers.`
    : ownExerciseBlock(
      { id: `${stage}-yours${which === 1 ? "" : `-${which}`}`, ...asked },
      which === 1 ? "With your numbers" : "And one more with your numbers",
    );
}

/** Readings that cannot tell give no exercise. */
function askedOf(yours: Mirror, make: (yours: Mirror) => Asked | undefined): Asked | undefined {
  try {
    const asked = make(yours);
    return asked !== undefined && Number.isFinite(asked.answer) ? asked : undefined;
  } catch (error) {
    if (error instanceof CannotTell) return undefined;
    throw error;
  }
}
