/** All that is known of a mirror or a class of them, how surely, and what to do next. */
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
export {
  demoName,
  type Mirror,
  openMirror,
  openRecord,
  readings,
  recordFolder,
  recordsFolder,
} from "./open.ts";
export { type Hazard, hazards } from "./hazards.ts";
export { fromQ } from "./q.ts";
export { summarize } from "./summary.ts";
export { tell } from "./tell.ts";
export type * from "./summaryTypes.ts";
