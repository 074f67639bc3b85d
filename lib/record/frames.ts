/** A record's tables as polars data frames, for notebooks and class views. The frames' library is asked for on first use only. */
import type { DataFrame } from "nodejs-polars";
import { clean } from "./clean.ts";
import { frameMaker } from "./polars.ts";
import { type Column, columnsOf, rangeOf, type TableName, usualHeader } from "./schema.ts";
import type { MirrorRecord } from "./types.ts";

/** What a column's cells are in a frame: lengths in mm, angles in degrees, leaves as their sum; `null` for what is absent. */
function cellOf({ kind }: Column, value: unknown): unknown {
  if (Array.isArray(value)) return value.reduce((sum: number, leaf: number) => sum + leaf, 0);
  if (kind === "angle" && typeof value === "number") return value * 180 / Math.PI;
  if (kind === "words" && typeof value === "string") return clean(value);
  return value ?? null;
}

/**
 * One table of a record as a data frame: the file's columns in mm and degrees, then `date`, `after_min`, `note` and the
 * `line` of the file each row stands in. A table that is absent gives a frame without rows, with the same columns.
 *
 * @param record  a record that was read
 * @param table   which of its tables
 * @example the mean of each zone, by day
 * ```ts
 * import assert from "node:assert/strict";
 * import { fileURLToPath } from "node:url";
 * import { readRecord } from "./readRecord.ts";
 * const folder = new URL("../../data/records/demo-150-f8", import.meta.url);
 * const zones = await tableFrame(await readRecord(fileURLToPath(folder)), "zones");
 * assert.deepEqual(zones.shape, { height: 163, width: 11 });
 * ```
 */
export async function tableFrame(record: MirrorRecord, table: TableName): Promise<DataFrame> {
  const pl = await frameMaker();
  const rows: readonly object[] = record[table];
  const of = (field: string, column?: Column): unknown[] =>
    rows.map((row) => {
      const value: unknown = Reflect.get(row, field);
      return column === undefined ? value : cellOf(column, value);
    });
  // minutes of a single row are read as minutes so far
  const shown = columnsOf(table).filter(({ field }) => field !== "minutes" || table === "grinding");
  const columns = shown.map((column) => {
    const isNumber = column.kind === "leaves" || rangeOf(column) !== undefined;
    const kind = isNumber ? pl.Float64 : pl.Utf8;
    return pl.Series(usualHeader(column), of(column.field, column), kind);
  });
  return pl.DataFrame([...columns, pl.Series("line", of("line"), pl.Float64)]);
}
