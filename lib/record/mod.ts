/** What a notebook asks of a record: read it, see its tables, know what it was refused for. */
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
export { fromQ } from "./q.ts";
export { readRecord } from "./readRecord.ts";
export { columnsOf, type TableName, TABLES, usualHeader } from "./schema.ts";
export { summarize } from "./summary.ts";
export {
  type Abrasive,
  abrasives,
  type Decision,
  decision,
  decisions,
  findAbrasive,
  type Glass,
  glasses,
} from "./tables.ts";
export { tell } from "./tell.ts";
export type * from "./summaryTypes.ts";
export type * from "./types.ts";
