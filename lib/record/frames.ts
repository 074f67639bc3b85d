/** A record's tables as polars data frames, for notebooks and class views. Polars is loaded only here, on first use. */
import type { DataFrame, Series } from "nodejs-polars";
import { clean } from "./clean.ts";
import type { TableName } from "./schema.ts";
import type { MirrorRecord, Row, SagittaRow } from "./types.ts";

/** Text or number for each column of each table, in the kit's units; `null` where a row has none. */
type Columns<T> = Readonly<Record<string, readonly ["text" | "number", (row: T) => unknown]>>;

const sum = (leaves: readonly number[] | undefined): number | undefined =>
  leaves?.reduce((total, leaf) => total + leaf, 0);

/** The rows' fields by the names they bear in a file, lengths in mm, angles in degrees. */
const COLUMNS: { readonly [K in TableName]: Columns<MirrorRecord[K][number]> } = {
  grinding: {
    abrasive: ["text", (row) => row.abrasive],
    position: ["text", (row) => row.position],
    minutes: ["number", (row) => row.minutes],
    strokes: ["number", (row) => row.strokes],
  },
  sagitta: {
    go_mm: ["number", (row: SagittaRow) => sum(row.go)],
    nogo_mm: ["number", (row) => sum(row.nogo)],
    depth_mm: ["number", (row) => row.depth],
    chord_mm: ["number", (row) => row.chord],
    angle_deg: ["number", (row) => row.angle === undefined ? undefined : row.angle * 180 / Math.PI],
  },
  spherometer: {
    surface: ["text", (row) => row.surface],
    dial_mm: ["number", (row) => row.dial],
  },
  sun: {
    distance_mm: ["number", (row) => row.distance],
    image_mm: ["number", (row) => row.image],
  },
  zones: {
    run: ["text", (row) => row.run],
    inner_mm: ["number", (row) => row.inner],
    outer_mm: ["number", (row) => row.outer],
    reading_mm: ["number", (row) => row.reading],
    angle_deg: ["number", (row) => row.angleDeg],
    knife_deg: ["number", (row) => row.knifeDeg],
    order: ["text", (row) => row.order],
  },
  ronchi: {
    photo: ["text", (row) => row.photo],
    lines_per_mm: ["number", (row) => row.linesPerMm],
    offset_mm: ["number", (row) => row.offset],
    offset_u_mm: ["number", (row) => row.offsetU],
    gamma: ["number", (row) => row.gamma],
    disc_x_px: ["number", (row) => row.disc?.x],
    disc_y_px: ["number", (row) => row.disc?.y],
    disc_radius_px: ["number", (row) => row.disc?.radius],
  },
  diary: {
    date: ["text", (row) => row.date],
    what: ["text", (row) => row.what],
    where_mm: ["number", (row) => row.where],
    amount: ["number", (row) => row.amount],
  },
};

const COMMON: Columns<Row> = {
  date: ["text", (row) => row.date],
  after_min: ["number", (row) => row.afterMin],
  note: ["text", (row) => row.note === undefined ? undefined : clean(row.note)],
  line: ["number", (row) => row.line],
};

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
  const { default: pl } = await import("nodejs-polars");
  const rows: readonly Row[] = record[table];
  const columns = { ...COLUMNS[table], ...COMMON } as Columns<Row>;
  const series = Object.entries(columns).map(([name, [kind, value]]): Series => {
    const values = rows.map((row) => value(row) ?? null);
    return pl.Series(name, values, kind === "text" ? pl.Utf8 : pl.Float64);
  });
  return pl.DataFrame(series);
}
