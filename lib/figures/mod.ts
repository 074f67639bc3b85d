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
export { mirrorSection, type SectionedMirror } from "./mirrorSection.ts";
export { type DepthLog, sagittaAgainstTime } from "./sagittaAgainstTime.ts";
export { type MethodBar, type Methods, threeMethods } from "./threeMethods.ts";
