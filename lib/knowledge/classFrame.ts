/** A class as one polars data frame: a row a mirror, a column a quantity. The frames' library is asked for on first use only. */
import type { DataFrame, Series } from "nodejs-polars";
import type { ClassOfRecords } from "./classOfRecords.ts";
import { QUANTITIES } from "./quantities.ts";
import type { ClassRow } from "./classRow.ts";
import { attention } from "./classAttention.ts";
import { frameMaker } from "../record/polars.ts";
import { decision } from "../record/tables.ts";

type Kind = "text" | "number" | "yes or no";
type Column = readonly [kind: Kind, value: (row: ClassRow) => unknown];

/** Columns by name, units in the names; `null` where a mirror has none. */
const COLUMNS: Readonly<Record<string, Column>> = {
  record: ["text", (row) => row.record],
  title: ["text", (row) => row.title],
  aperture_mm: ["number", (row) => row.aperture],
  planned_f_mm: ["number", (row) => row.focalLength],
  stage: ["text", (row) => row.stage],
  next: ["text", (row) => row.do],
  sagitta_mm: ["number", (row) => row.sagitta?.value],
  sagitta_u_mm: ["number", (row) => row.sagitta?.u],
  target_sagitta_mm: ["number", (row) => row.targetSagitta],
  minutes_to_target: ["number", (row) => row.minutesToTarget],
  too_deep_um: ["number", (row) => row.tooDeepUm],
  measure: ["text", (row) => row.measure],
  f_mm: ["number", (row) => row.focal?.value],
  f_u_mm: ["number", (row) => row.focal?.u],
  f_by_leaves_mm: ["number", (row) => row.focalBy.leaves?.value],
  f_by_leaves_u_mm: ["number", (row) => row.focalBy.leaves?.u],
  f_by_spherometer_mm: ["number", (row) => row.focalBy.spherometer?.value],
  f_by_sun_mm: ["number", (row) => row.focalBy["sun distance"]?.value],
  wavefront_pv_waves: ["number", (row) => row.wavefrontPv?.value],
  meets_goal: ["text", (row) => row.meetsGoal],
  probability: ["number", (row) => row.probability],
  done: ["yes or no", (row) => row.done],
  warnings: ["number", (row) => row.warnings.length],
  slip: ["text", (row) => row.slip],
  last_day: ["text", (row) => row.lastDay],
};

/**
 * All mirrors of a class as one frame, in the order of their names; `attention` is each one's place in the leader's order.
 * Who is past fine grinding? `frame.filter(pl.col("wavefront_pv_waves").isNotNull())`.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const frame = await classFrame({ name: "none yet", rows: [], unreadable: [] });
 * assert.ok(frame.columns.includes("f_by_leaves_mm"));
 * ```
 */
export async function classFrame(many: ClassOfRecords): Promise<DataFrame> {
  const pl = await frameMaker();
  const places = new Map(
    attention(many, decision("forecast_soon")).map(({ record }, i) => [record, i + 1]),
  );
  const columns = await classColumns(many.rows);
  const place = pl.Series(
    "attention",
    many.rows.map(({ record }) => places.get(record) ?? null),
    pl.Float64,
  );
  return pl.DataFrame([...columns, place]);
}

/**
 * The class's own columns.
 *
 * @param rows   a mirror each; nothing where one cannot be read
 * @param leave  columns that are left out
 */
export async function classColumns(
  rows: readonly (ClassRow | undefined)[],
  leave: readonly string[] = [],
): Promise<Series[]> {
  const pl = await frameMaker();
  const kinds = { text: pl.Utf8, number: pl.Float64, "yes or no": pl.Bool } as const;
  const others = QUANTITIES.filter(({ by }) => by.includes("class")).map(({ title }) =>
    [title, ["number", (row: ClassRow) => row.more?.[title]?.value]] as const
  );
  return [...Object.entries(COLUMNS), ...others].filter(([name]) => !leave.includes(name))
    .map(([name, [kind, value]]) =>
      pl.Series(name, rows.map((row) => (row && value(row)) ?? null), kinds[kind])
    );
}
