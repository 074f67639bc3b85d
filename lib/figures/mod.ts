/** Figures and blocks: what notebooks show. */
export {
  asShown,
  type Display,
  opening,
  show,
  type Showable,
  type Shown,
  together,
} from "./show.ts";
export { escapeHtml, Html, jsonForScript, safe, trusted } from "./html.ts";
export { say } from "./words.ts";
export {
  type Cell,
  type Column,
  demo,
  facts,
  note,
  notYet,
  readingsTable,
  type TableRow,
  yours,
} from "./blocks.ts";
export { type Choice, decide, type Decision, verdict, type VerdictParts } from "./decide.ts";
export { decisionScale, type ScaleZone, type StandOnScale } from "./decisionScale.ts";
export { type Stage, timeline } from "./timeline.ts";

export { budgetBars, type Share } from "./budgetBars.ts";
export { classDots, type ClassDotsDrawn, type MakerDot } from "./classDots.ts";
export { collimationView, type Look, LOOKS } from "./collimationView.ts";
export { type Curve, curveToCircle } from "./curveToCircle.ts";
export { type Grain, grainLadder, type Grains } from "./grainLadder.ts";
export { type Heap, heapOfReadings } from "./heapOfReadings.ts";
export { type DrawnLap, lapPlan } from "./lapPlan.ts";
export { lensAgainstMirror, type LensAndMirror } from "./lensAgainstMirror.ts";
export { mirrorSection, type SectionedMirror } from "./mirrorSection.ts";
export { type NamedBands, photoBesideFit, ronchiPicture } from "./ronchiPicture.ts";
export { type DepthLog, sagittaAgainstTime } from "./sagittaAgainstTime.ts";
export { type Sphere, sphereAgainstParaboloid } from "./sphereAgainstParaboloid.ts";
export { type Stroke, strokePlan } from "./strokePlan.ts";
export { type BasedTube, baseView } from "./baseView.ts";
export { type NamedPart, seesaw, type Swap } from "./seesaw.ts";
export { type SaggingDisc, sagMap } from "./sagMap.ts";
export { saturnSeen, type SaturnView } from "./saturnSeen.ts";
export { type PitLine, pitsAgainstHours, type PitsDrawn } from "./pitsAgainstHours.ts";
export { type DrawnRemoval, type GlassAt, removalPlan } from "./removalPlan.ts";
export { type SeenFromAbove, surfaceFromAbove } from "./surfaceFromAbove.ts";
export { type Opening, type Profile, surfaceProfile } from "./surfaceProfile.ts";
export { type SectionedTelescope, telescopeSection } from "./telescopeSection.ts";
export { type MethodBar, type Methods, threeMethods } from "./threeMethods.ts";
export { type Judged, verdictBar, type Verdicts } from "./verdictBar.ts";
export { type NamedDisc, wearMap, type WornDiscs } from "./wearMap.ts";
export { type Crossings, zoneCrossings } from "./zoneCrossings.ts";
export { type Mask, zoneMask } from "./zoneMask.ts";
export { zoneReadings, type ZoneRun, type ZoneTable } from "./zoneReadings.ts";

export { live, liveRuntime } from "./live/live.ts";
