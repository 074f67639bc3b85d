/** A record as it is begun: a commented mirror.yaml, a table for each kind of reading, a place for photographs. */
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { readRecord } from "./readRecord.ts";
import {
  type Column,
  columnsOf,
  COMMON,
  SCHEMA,
  type TableName,
  TABLES,
  usualHeader,
} from "./schema.ts";

const page = fileURLToPath(new URL("../../data/template/mirror.yaml", import.meta.url));

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

/**
 * Writes a fresh record into a new folder, whole or not at all.
 *
 * @param target  a path where nothing stands yet
 * @param title   of the mirror
 * @throws {Deno.errors.AlreadyExists} where something does
 */
export async function begunRecord(target: string, title: string): Promise<void> {
  await Deno.mkdir(dirname(target), { recursive: true });
  await Deno.mkdir(target);
  try {
    await Deno.mkdir(join(target, "photos"));
    await Deno.writeTextFile(
      join(target, "mirror.yaml"),
      titled(await Deno.readTextFile(page), title),
    );
    for (const table of TABLES) {
      await Deno.writeTextFile(join(target, `${table}.csv`), freshTable(table));
    }
    await readRecord(target);
  } catch (error) {
    await Deno.remove(target, { recursive: true });
    throw error;
  }
}

function titled(text: string, title: string): string {
  return text.replace(/^title: .*?(?= +#|$)/m, () => `title: ${JSON.stringify(title)}`);
}
