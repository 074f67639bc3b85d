/** What a notebook asks of a record: read it, see its tables, know what it was refused for. */
export { type Attention, attention, type Reason } from "./classAttention.ts";
export { type ClassAtHand, classBeside, demoClass } from "./classBeside.ts";
export { classFrame } from "./classFrame.ts";
export {
  type ClassOfRecords,
  type ClassOptions,
  isClass,
  openClass,
  recordsIn,
  type Unreadable,
} from "./classOfRecords.ts";
export { bevelSlip, type ClassRow } from "./classRow.ts";
export { type ClassSpread, classSpread, focalOf, type Quantity } from "./classSpread.ts";
export { tellClass } from "./tellClass.ts";
export { describe, RecordRefused } from "./errors.ts";
export { tableFrame } from "./frames.ts";
export {
  demoName,
  type Mirror,
  openMirror,
  openRecord,
  recordFolder,
  recordsFolder,
} from "./open.ts";
export { type Hazard, hazards } from "./hazards.ts";
export { fromQ } from "./q.ts";
export { findAbrasive } from "./abrasiveNames.ts";
export { readRecord } from "./readRecord.ts";
export { columnsOf, type TableName, TABLES, usualHeader } from "./schema.ts";
export { summarize } from "./summary.ts";
export {
  type Abrasive,
  abrasives,
  type Decision,
  decision,
  decisions,
  type DoubleStar,
  doubleStars,
  type Glass,
  glasses,
} from "./tables.ts";
export { tell } from "./tell.ts";
export type * from "./summaryTypes.ts";
export type * from "./types.ts";
