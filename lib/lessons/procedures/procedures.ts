/** The procedures of all stages of the hand, by the name of the stage. */
import { alignMirrors } from "./alignMirrors.ts";
import { buildTester } from "./buildTester.ts";
import { careForMirror } from "./careForMirror.ts";
import { carryWeight } from "./carryWeight.ts";
import { coatMirror } from "./coatMirror.ts";
import { correctDepth } from "./correctDepth.ts";
import { grindHollow } from "./grindHollow.ts";
import { lapWithoutPouring } from "./lapWithoutPouring.ts";
import { measureCurve } from "./measureCurve.ts";
import { measureZones } from "./measureZones.ts";
import { observeSky } from "./observeSky.ts";
import { placeFlat } from "./placeFlat.ts";
import { polishSurface } from "./polishSurface.ts";
import { pourLap } from "./pourLap.ts";
import { prepareDiscs } from "./prepareDiscs.ts";
import { type BenchNumbers, cautioned, type Procedure, type Work } from "./procedure.ts";
import { readBands } from "./readBands.ts";
import { readStar } from "./readStar.ts";
import { shapeSurface } from "./shapeSurface.ts";
import { smoothSurface } from "./smoothSurface.ts";
import { weighReadings } from "./weighReadings.ts";

const works: Readonly<Record<string, (numbers: BenchNumbers) => Work>> = {
  "prepare-discs": prepareDiscs,
  "grind-hollow": grindHollow,
  "measure-curve": measureCurve,
  "weigh-readings": weighReadings,
  "correct-depth": correctDepth,
  "smooth-surface": smoothSurface,
  "pour-lap": pourLap,
  "polish-surface": polishSurface,
  "read-bands": readBands,
  "measure-zones": measureZones,
  "shape-surface": shapeSurface,
  "coat-mirror": coatMirror,
  "place-flat": placeFlat,
  "carry-weight": carryWeight,
  "align-mirrors": alignMirrors,
  "read-star": readStar,
  "observe-sky": observeSky,
};

/** Work beside the stages: its name, and the stage on whose page it stands and whose hazards it has. */
const besides: Readonly<
  Record<string, { readonly stage: string; readonly work: (numbers: BenchNumbers) => Work }>
> = {
  "lap-without-pouring": { stage: "pour-lap", work: lapWithoutPouring },
  "build-tester": { stage: "read-bands", work: buildTester },
  care: { stage: "coat-mirror", work: careForMirror },
};

/** Names of the stages that have a procedure, in course order. */
export const stagesOfTheHand: readonly string[] = Object.keys(works);

/** Names of all procedures: those of the stages, then those beside them. */
export const procedureNames: readonly string[] = [...stagesOfTheHand, ...Object.keys(besides)];

/**
 * What the hands do at a stage, or beside one, with this mirror's own numbers.
 *
 * @param name     "grind-hollow", or "care"
 * @param numbers  as `benchNumbers` gives them
 * @returns undefined where a stage has no work of the hands
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { benchNumbers } from "./procedure.ts";
 * const numbers = benchNumbers({ aperture: 150, focalLength: 1200, thickness: 25 });
 * const lap = procedureFor("pour-lap", numbers);
 * assert.match(lap?.steps[0]?.cautions[0] ?? "", /^Only a trained adult melts and pours pitch/);
 * assert.equal(procedureFor("judge-mirror", numbers), undefined);
 * ```
 */
export function procedureFor(name: string, numbers: BenchNumbers): Procedure | undefined {
  const own = works[name], { stage, work } = besides[name] ?? { stage: name, work: own };
  return work === undefined ? undefined : cautioned(stage, work(numbers), name);
}
