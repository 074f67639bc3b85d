/** The form of a table: which fields a reading has, by the columns of the maker's own file, in the schema's own words. */
import { splitTable } from "../record/csv.ts";
import { Findings } from "../record/errors.ts";
import { freshHeads } from "../record/freshTable.ts";
import { type FoundColumn, matchHeader } from "../record/header.ts";
import { fillIns, nextRun } from "../record/noteRow.ts";
import {
  type Column,
  columnsOf,
  dimensionOf,
  SCHEMA,
  type TableName,
  usualHeader,
} from "../record/schema.ts";
import type { MirrorRecord } from "../record/types.ts";
import { zoneColumns } from "../record/zoneRows.ts";

/** One field of a form. */
export interface FormField {
  /** the column's name in the file, unit and all: "go_mm" */
  readonly name: string;
  /** the same to be read: "go" */
  readonly label: string;
  /** "mm"; absent for words and pure numbers */
  readonly unit?: string;
  /** in a few words */
  readonly meaning: string;
  /** a cell as a maker would write it, in the file's unit */
  readonly example: string;
  /** what is written: a number, numbers joined by plus signs, a file's name, or words */
  readonly write: "number" | "sum" | "photo" | "words";
  /** the words there are, where they are few enough to be shown */
  readonly choices?: readonly string[];
  /** a row is refused without it */
  readonly required: boolean;
  /** what stands in it before anybody types: the day, the minutes so far, the next run */
  readonly usual?: string;
}

/** A table's form. */
export interface TableForm {
  readonly table: TableName;
  /** "the depth of the curve under a straight-edge" */
  readonly title: string;
  /** what is to be known before a reading is taken, a sentence each; a danger is told here */
  readonly remarks: readonly string[];
  readonly fields: readonly FormField[];
}

/**
 * The form for one more row of a table.
 *
 * Its fields are the columns that the file has; where the file has none yet, those that a fresh one has.
 *
 * @param table   which of the record's tables
 * @param text    the table as it stands; `undefined` where there is no such file
 * @param record  the record as it was read
 * @param today   ISO day
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { openRecord } from "../knowledge/open.ts";
 * const { record } = (await openRecord()).demo;
 * const { fields } = tableForm("sun", "distance_in;image_in\n", record, "2026-06-12");
 * assert.deepEqual(fields.map(({ name, label, unit, example }) => [name, label, unit, example]), [
 *   ["distance_in", "distance", "in", "47.2"],
 *   ["image_in", "image", "in", "0.437"],
 * ]);
 * ```
 */
export function tableForm(
  table: TableName,
  text: string | undefined,
  record: MirrorRecord,
  today: string,
): TableForm {
  const columns = columnsIn(table, text, record);
  const has = (field: string): boolean => columns.some(({ column }) => column.field === field);
  const filled = fillIns(record, table, has, today);
  const usual: Record<string, string> = {};
  for (const [field, cell] of Object.entries(filled)) {
    usual[field] = typeof cell === "string" ? cell : cell.numbers.join("+");
  }
  if (table === "zones") usual["run"] = nextRun(record.zones, usual["date"] ?? today);
  const { title, remarks } = SCHEMA[table];
  return {
    table,
    title,
    remarks: remarks.filter((remark) => !isOfTheFile(remark)),
    fields: columns.map((found) => fieldOf(found, usual[found.column.field])),
  };
}

/** Remarks that tell of columns and keys, not of the reading. */
function isOfTheFile(remark: string): boolean {
  return /\bcolumn\b|[a-z]+_[a-z]+|,[a-z]+,|^abrasive:|^amount:|^angle/.test(remark);
}

function columnsIn(
  table: TableName,
  text: string | undefined,
  { settings }: MirrorRecord,
): readonly FoundColumn[] {
  const findings = new Findings(), file = `${table}.csv`;
  const begun = freshHeads(table, settings).join(",");
  const csv = splitTable(text === undefined || text.trim() === "" ? begun : text, file, findings);
  const known = csv && table === "zones"
    ? zoneColumns(csv, settings.mask, findings)
    : columnsOf(table);
  return csv === undefined || known === undefined ? [] : matchHeader(known, csv, findings);
}

/** From so many words on, a list of them is no help in a form. */
const FEW = 16;

function fieldOf({ column, header, factor }: FoundColumn, usual?: string): FormField {
  const name = header.trim(), dimension = dimensionOf(column);
  const isShare = column.kind === "per length";
  const unit = dimension === undefined || isShare ? "" : name.slice(column.name.length + 1);
  const label = isShare || unit === "" ? name : column.name;
  return {
    name,
    label: label.replaceAll("_", " "),
    ...(unit === "" ? {} : { unit }),
    meaning: column.meaning.replaceAll("`", ""),
    example: exampleIn(column, factor, name),
    write: writtenAs(column),
    ...(column.kind === "choice" && column.choices.length <= FEW
      ? { choices: column.choices }
      : {}),
    required: column.required === true,
    ...(usual === undefined ? {} : { usual }),
  };
}

/** The schema's example in the unit of this file. */
function exampleIn(column: Column, factor: number, name: string): string {
  const usual = column.kind === "angle" || column.kind === "turn" ? Math.PI / 180 : 1;
  if (dimensionOf(column) === undefined || factor === usual || name === usualHeader(column)) {
    return column.example;
  }
  return column.example.split("+")
    .map((part) => String(Number((Number(part) * usual / factor).toPrecision(3)))).join("+");
}

function writtenAs(column: Column): FormField["write"] {
  if (column.kind === "leaves") return "sum";
  if (column.kind === "photo") return "photo";
  return column.kind === "turn" || "least" in column ? "number" : "words";
}
