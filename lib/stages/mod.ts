/** Stages: for each stage of the work, the reader's own readings beside the demo's, and the decision they call for. */
export { decideAlign, orderOfWork, yourScrews } from "./align.ts";
export { bandFaults, decideBands, inAndOut, yourBands } from "./bands.ts";
export { demoExample, yourBase, yourSeesaw } from "./base.ts";
export { decideCoat, metalsCompared, reflectanceByThickness, yourCoating } from "./coat.ts";
export { decideCurve, radiusByMethods, yourCurve } from "./curve.ts";
export {
  coverLast,
  decideDepth,
  depthNumbers,
  depthPicture,
  forecastByReadings,
  nearStop,
  withOwnCover,
  withOwnForecasts,
  yourDepth,
} from "./depth.ts";
export { decideDiscs, discMass, powderFor, type RimWedge, rimWedge, yourDiscs } from "./discs.ts";
export {
  caseThatFails,
  decideFigure,
  faultsAndRemedies,
  foreseenAndFound,
  planOn,
  whatSessionsDid,
  whereStrokesTake,
  yourSession,
} from "./figure.ts";
export { doIt } from "./doIt.ts";
export { decideFlat, type FlatPlace, flatsCompared, yourLayout } from "./flat.ts";
export {
  decideHollow,
  depthsAlong,
  grindBy,
  type NamedRoutine,
  routinesCompared,
  yourLog,
} from "./grind.ts";
export {
  conicBeside,
  daysPooled,
  decideVerdict,
  drawReadings,
  type Draws,
  drawsHistogram,
  perfectBut,
  threeNumbers,
  verdictOn,
  withOwnDraws,
  withOwnVerdicts,
  yourVerdict,
} from "./judge.ts";
export { decideLap, lapDrawn, sinkingByTemperature, yourLap } from "./lap.ts";
export { farthestOne, makersApart, yourPlace } from "./makers.ts";
export { classTable, decideClass, frameTable, mindFirst, queues, whoFirst } from "./many.ts";
export {
  claim,
  decideReadings,
  estimatesNow,
  methodsApart,
  weighed,
  whatHelps,
  yourBudget,
} from "./methodsWeighed.ts";
export { moonsComing, shadowsOnMoon, starsCovered, yourLooks, yourProject } from "./night.ts";
export { ownExercise } from "./ownExercise.ts";
export {
  type BandReadings,
  type LeafReadings,
  ownProgram,
  type PitReadings,
  type ProgramReadings,
  programReadings,
  type ProgramStage,
  type SurfaceReadings,
  type VerdictReadings,
  type ZoneReadings,
} from "./ownProgram.ts";
export { whatToBuy } from "./buying.ts";
export {
  aloneAtHome,
  decideNext,
  nextStep,
  verdictOrDemo,
  whatIsInTheFolder,
  whatIsKnown,
  whatToLookAt,
  yourMirrorInShort,
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
export { decidePolish, hoursByLastGrade, hoursForPits, yourHours } from "./polish.ts";
export { histogram, yourRepeats } from "./repeats.ts";
export {
  decideSky,
  doublesFor,
  moonsBesideJupiter,
  placeOf,
  type Saturn,
  upTonight,
  yourEyepieces,
  yourFields,
  yourSaturn,
  yourStar,
} from "./sky.ts";
export { slopes } from "./slopes.ts";
export { curveByShare, decideSmooth, whatGradesLeave, yourLadder } from "./smooth.ts";
export { actsOfStar, decideStar, signsOfStar, whatIsWrong, yourStarSoFar } from "./star.ts";
export { yourSection } from "./surfaceMap.ts";
export { today } from "./today.ts";
export { glassAndWavefront, samePvTwoShapes, starMiddle } from "./wavefronts.ts";
export { decideWeight, discOnPoints, supportsCompared, yourBalance, yourCell } from "./weight.ts";
export { yourZernikeTerms } from "./zernikeTable.ts";
export {
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
