/** Stages: for each stage of the work, the reader's own readings beside the demo's, and the decision they call for. */
export { demoExample, yourBase, yourSeesaw } from "./base.ts";
export { bandFaults, decideBands, inAndOut, yourBands } from "./bands.ts";
export { decideCurve, radiusByMethods, yourCurve } from "./curve.ts";
export { decideDiscs, discMass, powderFor, type RimWedge, rimWedge, yourDiscs } from "./discs.ts";
export {
  decideHollow,
  depthsAlong,
  grindBy,
  type NamedRoutine,
  routinesCompared,
  yourLog,
} from "./grind.ts";
export {
  aloneAtHome,
  decideNext,
  nextStep,
  verdictOrDemo,
  whatIsInTheFolder,
  whatIsKnown,
  whatToLookAt,
  yourPath,
} from "./page.ts";
export {
  decideDesign,
  type Size,
  whatSizesCost,
  workshopPlan,
  workshopShown,
  yourPlan,
} from "./plan.ts";
export {
  daysAlone,
  decideZones,
  doubtOn,
  firstRunAlone,
  type ReducedDay,
  reducedDays,
  verdictOverTime,
  yourDoubt,
  yourReadings,
  yourSurface,
  yourSurfaceFromAbove,
} from "./zones.ts";
export { yourZernikeTerms } from "./zernikeTable.ts";
export { histogram, yourRepeats } from "./repeats.ts";
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
export {
  coverLast,
  decideDepth,
  depthNumbers,
  depthPicture,
  forecastByReadings,
  type LogUpTo,
  logUpTo,
  nearStop,
  yourDepth,
} from "./depth.ts";
export {
  type ConicAlone,
  conicAlone,
  conicBeside,
  daysPooled,
  decideVerdict,
  drawReadings,
  type Draws,
  drawsHistogram,
  perfectBut,
  type PerfectTest,
  perfectTest,
  shareWithin,
  threeNumbers,
  verdictOn,
  yourVerdict,
} from "./judge.ts";
export { glassAndWavefront, samePvTwoShapes, starMiddle } from "./wavefronts.ts";
export { decideFlat, type FlatPlace, flatsCompared, yourLayout } from "./flat.ts";
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
  yourStar,
} from "./sky.ts";
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
export { classTable, decideClass, frameTable, mindFirst, queues, whoFirst } from "./many.ts";
export { farthestOne, makersApart, yourPlace } from "./makers.ts";
