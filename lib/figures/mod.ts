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
export {
  type Choice,
  decide,
  type Decision,
  decisionScale,
  type ScaleZone,
  type StandOnScale,
  verdict,
  type VerdictParts,
} from "./decide.ts";
export { type Stage, timeline } from "./timeline.ts";

export { plotted } from "./plots/house.ts";
export { budgetBars, type Share } from "./plots/budgetBars.ts";
export { classDots, type ClassDotsDrawn, type MakerDot } from "./plots/classDots.ts";
export { collimationView, type Look, LOOKS } from "./drawings/collimationView.ts";
export { type Curve, curveToCircle } from "./drawings/curveToCircle.ts";
export { type Grain, grainLadder, type Grains } from "./drawings/grainLadder.ts";
export { type Histogram, histogramOfReadings } from "./plots/histogramOfReadings.ts";
export { type DrawnLap, lapPlan } from "./drawings/lapPlan.ts";
export { lensAgainstMirror, type LensAndMirror } from "./drawings/lensAgainstMirror.ts";
export { mirrorSection, type SectionedMirror } from "./drawings/mirrorSection.ts";
export { type NamedBands, photoBesideFit, ronchiPicture } from "./drawings/ronchiPicture.ts";
export { type DepthLog, sagittaAgainstTime } from "./plots/sagittaAgainstTime.ts";
export { type Sphere, sphereAgainstParaboloid } from "./plots/sphereAgainstParaboloid.ts";
export { type Stroke, strokePlan } from "./drawings/strokePlan.ts";
export { type BasedTube, baseView } from "./drawings/baseView.ts";
export { type NamedPart, seesaw, type Swap } from "./drawings/seesaw.ts";
export { type SaggingDisc, sagMap } from "./drawings/sagMap.ts";
export { saturnSeen, type SaturnView } from "./drawings/saturnSeen.ts";
export { type PitLine, pitsAgainstHours, type PitsDrawn } from "./plots/pitsAgainstHours.ts";
export { type DrawnRemoval, type GlassAt, removalPlan } from "./plots/removalPlan.ts";
export { type SeenFromAbove, surfaceFromAbove } from "./drawings/surfaceFromAbove.ts";
export { type Opening, type Profile, surfaceProfile } from "./plots/surfaceProfile.ts";
export { type SectionedTelescope, telescopeSection } from "./drawings/telescopeSection.ts";
export { type MethodBar, type Methods, threeMethods } from "./plots/threeMethods.ts";
export { type Judged, verdictBar, type Verdicts } from "./plots/verdictBar.ts";
export { type NamedDisc, wearMap, type WornDiscs } from "./drawings/wearMap.ts";
export { type Crossings, zoneCrossings } from "./drawings/zoneCrossings.ts";
export { type Mask, zoneMask } from "./drawings/zoneMask.ts";
export { zoneReadings, type ZoneRun, type ZoneTable } from "./plots/zoneReadings.ts";

export { live } from "./live/live.ts";
