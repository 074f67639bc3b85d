/** All that is known of a mirror or a class of them, how surely, and what to do next. */
export { type ClassAtHand, classBeside, demoClass } from "./classBeside.ts";
export { classFrame } from "./classFrame.ts";
export type { ClassOfRecords, Fault, OtherFolder, Unreadable } from "./classOfRecords.ts";
export type { ClassRow, Known } from "./classRow.ts";
export type { Quantity } from "./classSpread.ts";
export type { ZoneMeasurement } from "./glassWork.ts";
export { type Observed, observed, type ObservedRow, type Project } from "./observed.ts";
export { type Mirror, openRecord, readings } from "./open.ts";
export type * from "./summaryTypes.ts";
