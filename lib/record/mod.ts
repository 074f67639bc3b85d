/** A maker's files: read, refused in one sentence each, and seen as tables. */
export { findAbrasive } from "./abrasiveNames.ts";
export type { ColumnRow, COMMON, Holds, SCHEMA, TableName, Words } from "./schema.ts";
export type { CHECKED, Checked } from "./settings.ts";
export { type Abrasive, abrasives } from "./tables.ts";
export type * from "./types.ts";
export type { Dimension } from "./written.ts";
