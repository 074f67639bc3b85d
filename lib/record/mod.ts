/** A maker's files: read, refused in one sentence each, and seen as tables. */
export { describe, RecordRefused } from "./errors.ts";
export { tableFrame } from "./frames.ts";
export { findAbrasive } from "./abrasiveNames.ts";
export { readRecord } from "./readRecord.ts";
export { columnsOf, inWords, type TableName, TABLES, usualHeader } from "./schema.ts";
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
export type * from "./types.ts";
