/** Tables that are begun: which columns they have, what stands above them. */
import {
  type Column,
  columnsOf,
  COMMON,
  SCHEMA,
  type TableName,
  usualHeader,
  wideZones,
} from "./schema.ts";
import type { Settings } from "./settings.ts";

/**
 * The columns of a fresh table in the order in which they stand there.
 *
 * @param all   those it may have
 * @param rare  fields that are wanted though a fresh table has them not
 */
export function freshColumns(
  table: TableName,
  all: readonly Column[],
  rare: readonly string[] = [],
): readonly Column[] {
  const told = SCHEMA[table];
  const isCommon = (field: string): boolean => field in COMMON && !(field in told.columns);
  const inHeader = all.filter((column) =>
    rare.includes(column.field) ||
    (column.field === "afterMin" ? "timed" in told : column.rare !== true)
  );
  return [
    ...inHeader.filter(({ field }) => isCommon(field) && field !== "note"),
    ...inHeader.filter(({ field }) => !isCommon(field)),
    ...inHeader.filter(({ field }) => field === "note"),
  ];
}

/**
 * The header of a table that is begun in a maker's own record: a zone for each opening where mirror.yaml has a mask,
 * lengths in inches where it wants them so.
 *
 * @param rare  fields that are wanted though a fresh table has them not
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(freshHeads("lamp", { shownIn: "inch" }), ["date", "after_min", "distance_in", "note"]);
 * ```
 */
export function freshHeads(
  table: TableName,
  { mask, shownIn }: Pick<Settings, "mask" | "shownIn">,
  rare: readonly string[] = [],
): readonly string[] {
  const all = table === "zones" && mask !== undefined
    ? wideZones(mask.map((_, at) => at + 1))
    : columnsOf(table);
  return freshColumns(table, all, rare).map((column) =>
    shownIn === "inch" && column.kind === "length"
      ? usualHeader(column).replace(/_mm$/, "_in")
      : usualHeader(column)
  );
}

/**
 * A table as a fresh record has it: remarks, a header, and a row or two of examples behind a mark.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(freshTable("sun"), /\ndate,after_min,distance_mm,image_mm,note\n# 2026-04-18,338,1199,11.1,\n$/);
 * ```
 */
export function freshTable(table: TableName): string {
  const { remarks, samples } = SCHEMA[table], all = columnsOf(table);
  const ordered = freshColumns(table, all);
  const others = all.filter((column) => !ordered.includes(column)).map(usualHeader);
  const rows = samples.map((sample: Readonly<Record<string, string>>) =>
    ordered.map(({ field, example }) => sample[field] ?? (field === "note" ? "" : example))
      .map((cell) => cell.includes(",") ? `"${cell}"` : cell).join(",")
  );
  return [
    ...remarks.map((remark) => `# ${remark}`),
    ...others.length === 0
      ? []
      : [`# May be added: ${others.join(", ")}. data/records/README.md tells of each.`],
    "# no readings yet: take this line out when you type the first",
    ordered.map(usualHeader).join(","),
    ...rows.map((row) => `# ${row}`),
    "",
  ].join("\n");
}
