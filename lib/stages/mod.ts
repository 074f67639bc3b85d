/** Stages: for each stage of the work, the reader's own readings beside the demo's, and the decision they call for. */
export { demoExample } from "./whose.ts";
export { bandFaults, decideBands, inAndOut, yourBands } from "./bands.ts";
export { decideCurve, radiusByMethods, yourCurve } from "./curve.ts";
export { decideDiscs, discMass, powderFor, type RimWedge, rimWedge, yourDiscs } from "./discs.ts";
export { decideHollow, yourLog } from "./grind.ts";
export { depthsAlong, grindBy, type NamedRoutine, routinesCompared } from "./routinesCompared.ts";
export {
  decideNext,
  nextStep,
  verdictOrDemo,
  whatIsInTheFolder,
  whatIsKnown,
  whatToLookAt,
} from "./page.ts";
export { decideDesign, type Size, whatSizesCost, yourPlan } from "./plan.ts";
export { decideZones, firstRunAlone, verdictOverTime, yourReadings, yourSurface } from "./zones.ts";
export { daysAlone, type ReducedDay, reducedDays } from "./zoneDays.ts";
export { doubtOn, yourDoubt, yourSurfaceFromAbove } from "./zoneDoubt.ts";
export { yourPath } from "./path.ts";
export { heap, yourRepeats } from "./repeats.ts";
export { slopes } from "./slopes.ts";
export {
  claim,
  decideReadings,
  estimatesNow,
  methodsApart,
  weighed,
  whatHelps,
  yourBudget,
} from "./methodsWeighed.ts";
export { type LogUpTo, logUpTo } from "./depthLog.ts";
export {
  coverLast,
  decideDepth,
  depthNumbers,
  depthPicture,
  forecastByReadings,
  yourDepth,
} from "./depth.ts";
export {
  daysPooled,
  decideVerdict,
  threeNumbers,
  throwReadings,
  verdictOn,
  yourVerdict,
} from "./judge.ts";
export { perfectBut, type PerfectTest, perfectTest } from "./perfectSurface.ts";
export { type ConicAlone, conicAlone, conicBeside } from "./conicAlone.ts";
export { nearStop } from "./nearStop.ts";
export { shareWithin, type Throws, throwsHeap } from "./throws.ts";
export { glassAndWavefront, samePvTwoShapes, starMiddle } from "./wavefronts.ts";
export { decideFlat, type FlatPlace, flatsCompared, yourLayout } from "./flat.ts";
export { yourBase, yourSeesaw } from "./base.ts";
export { decideWeight, discOnPoints, supportsCompared, yourBalance, yourCell } from "./weight.ts";
export { decideCoat, metalsCompared, reflectanceByThickness, yourCoating } from "./coat.ts";
export { decideAlign, orderOfWork, yourScrews } from "./align.ts";
export {
  decideSky,
  doublesFor,
  moonsBesideJupiter,
  placeOf,
  type Saturn,
  upTonight,
  yourEyepieces,
  yourSaturn,
} from "./sky.ts";
export { yourStar } from "./star.ts";
export { courseGrades, curveByShare, decideSmooth, whatGradesLeave, yourLadder } from "./smooth.ts";
export { decideLap, lapDrawn, sinkingByTemperature, yourLap } from "./lap.ts";
export { decidePolish, hoursByLastGrade, hoursForPits, yourHours } from "./polish.ts";
export {
  caseThatFails,
  decideFigure,
  faultsAndRemedies,
  planOn,
  whatSpellsDid,
  whereStrokesTake,
  yourSpell,
} from "./figure.ts";
export { aloneAtHome } from "./alone.ts";
export { classTable, decideClass, frameTable, mindFirst, queues, whoFirst } from "./many.ts";
export { farthestOne, makersApart, yourPlace } from "./makers.ts";
export { workshopPlan, workshopShown } from "./workshop.ts";
