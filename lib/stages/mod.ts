/** Stages: for each stage of the work, the reader's own readings beside the demo's, and the decision they call for. */
export { decideCurve, radiusByMethods, yourCurve } from "./curve.ts";
export {
  decideNext,
  nextStep,
  verdictOrDemo,
  whatIsInTheFolder,
  whatIsKnown,
  whatToLookAt,
} from "./page.ts";
export { decideDesign, type Size, whatSizesCost, yourPlan } from "./plan.ts";
export {
  decideZones,
  firstRunAlone,
  type ReducedDay,
  reducedDays,
  verdictOverTime,
  yourReadings,
  yourSurface,
} from "./zones.ts";
export { yourPath } from "./path.ts";
