/** What a maker wrote down, after reading: typed, in the kit's units (mm, nm, rad, min), each row with its place. */
import type { Warning } from "./errors.ts";
import type { ColumnRow, COMMON, SCHEMA, TableName } from "./schema.ts";
import type { Settings } from "./settings.ts";

export type { Place, Refusal, Warning } from "./errors.ts";
export type { Settings, Telescope } from "./settings.ts";

/** What a cell of a column gives. */
export type Read<C extends ColumnRow> = C extends { readonly choices: readonly (infer Word)[] }
  ? Word
  : C extends { readonly kind: "leaves" } ? readonly number[]
  : C extends { readonly kind: "abrasive" | "date" | "clock" | "photo" | "name" | "words" } ? string
  : number;

/** The columns that a table must have. */
export type Needed<C> = {
  [F in keyof C]: C[F] extends { readonly required: true } ? F : never;
}[keyof C];

/** The fields that columns of the schema give: the needed ones are there, the others may be absent. */
export type Fields<C extends Readonly<Record<string, ColumnRow>>> =
  & { readonly [F in keyof C as F extends Needed<C> ? F : never]: Read<C[F]> }
  & { readonly [F in keyof C as F extends Needed<C> ? never : F]?: Read<C[F]> };

/** What every row of every table has. */
export type Row = Fields<typeof COMMON> & { readonly file: string; readonly line: number };

/** A row of one table, by the schema. */
export type RowOf<T extends TableName> = Row & Fields<typeof SCHEMA[T]["columns"]>;

/** a session of grinding */
export type GrindingRow = RowOf<"grinding">;
/** Which disc is on top. */
export type Position = GrindingRow["position"];
/** a reading of the depth, by leaves or gauge */
export type SagittaRow = RowOf<"sagitta">;
/** a knife reading in one opening, whichever form the table is in */
export type ZoneRow = RowOf<"zones">;
/** a photograph of the bands */
export type RonchiRow = RowOf<"ronchi">;
/** a photograph of a star out of focus */
export type StarRow = RowOf<"star">;
/** a photograph behind the knife */
export type KnifeRow = RowOf<"knife">;
/** a row that names a photograph */
export type PhotoRow = RonchiRow | StarRow | KnifeRow;
/** an act or a sight */
export type DiaryRow = RowOf<"diary">;

/** a look through the finished telescope */
export type ObservationRow = RowOf<"observations">;

/** Every table's rows; empty where a table is absent. */
export type Tables = { readonly [T in TableName]: readonly RowOf<T>[] };

/** A record as it was read. */
export interface MirrorRecord extends Tables {
  /** the folder's own name */
  readonly name: string;
  /** absolute path */
  readonly folder: string;
  /** of mirror.yaml */
  readonly settings: Settings;
  /** sentences, one for each value that was not written and was taken as usual */
  readonly defaults: readonly string[];
  /** what looks unlikely, with its place */
  readonly warnings: readonly Warning[];
}
