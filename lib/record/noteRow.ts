/** What a maker typed in one sentence, as rows at the end of a table that may be there already; nothing else of it changes. */
import { mm } from "../quantity/format.ts";
import { clean } from "./clean.ts";
import { splitTable } from "./csv.ts";
import { Findings } from "./errors.ts";
import { type FoundColumn, matchHeader } from "./header.ts";
import { type Noted, type NotedCell, type NotedRow, NotUnderstood, valueOf } from "./noteWords.ts";
import { latestMinute } from "./readings.ts";
import { columnsOf, dimensionOf, type TableName } from "./schema.ts";
import type { MirrorRecord, Row, ZoneRow } from "./types.ts";
import { type Decimal, decimalSign, unitFactor } from "./written.ts";
import { zoneColumns } from "./zoneRows.ts";

/** The rows as they will stand. */
export interface NoteRows {
  /** what to put behind the table's text, line ends included */
  readonly added: string;
  /** the header's cells, and those of each row, for a look at them */
  readonly header: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** what the table has no column for and stands in the note instead, in words */
  readonly noted: readonly string[];
}

/** What may stand in a note where its column is missing, in words; anything else is refused. */
const IN_WORDS: Readonly<Record<string, string>> = {
  side: "side",
  length: "length",
  strokes: "strokes",
};

/**
 * The rows that a sentence comes to, for the end of a table.
 *
 * Day, run and minutes so far are filled in where the table has them. A bare number is in its column's unit.
 *
 * @param noted   a sentence that was understood
 * @param text    the table's text without its byte order mark; of a table that is begun, its header
 * @param record  the record as it stands
 * @param today   ISO date
 * @throws {NotUnderstood} where the table has no place for what was typed
 */
export function noteRows(
  noted: Noted,
  text: string,
  record: MirrorRecord,
  today: string,
): NoteRows {
  const { table } = noted, file = `${table}.csv`, findings = new Findings();
  const csv = splitTable(text, file, findings);
  const known = csv && table === "zones"
    ? zoneColumns(csv, record.settings.mask, findings)
    : columnsOf(table);
  if (csv === undefined || known === undefined) {
    throw new NotUnderstood(findings.refusals[0]?.message ?? `${file} has no header.`);
  }
  const columns = matchHeader(known, csv, findings);
  const has = (field: string): boolean => columns.some(({ column }) => column.field === field);
  const rows = table === "zones" ? zoneCells(noted.rows, has, record, today) : noted.rows;
  const decimal = decimalOf(csv.rows.map(({ cells }) => cells), columns);
  const filled = fillIns(record, table, has, today);
  const inNote: string[] = [];
  const lines = rows.map((row) => {
    const all: NotedRow = { ...filled, ...row };
    const { kept, words } = withNote(all, has, file, row, record);
    inNote.push(...words);
    return columns.reduce((cells, found) => {
      const cell = kept[found.column.field];
      if (cell !== undefined) cells[found.index] = written(cell, found, decimal);
      return cells;
    }, csv.header.cells.map(() => ""));
  });
  const end = /\r\n|\r|\n/.exec(text)?.[0] ?? "\n";
  const joined = lines.map((cells) =>
    cells.map((cell, at) => quoted(cell, csv.delimiter, at)).join(csv.delimiter) + end
  );
  const gap = text === "" || /[\r\n]$/.test(text) ? "" : end;
  return {
    added: gap + joined.join(""),
    header: csv.header.cells,
    rows: lines,
    noted: [...new Set(inNote)],
  };
}

/** Rows with what the table has no column for in the note, in words, where that loses nothing that is reckoned with. */
function withNote(
  all: NotedRow,
  has: (field: string) => boolean,
  file: string,
  typed: NotedRow,
  { settings: { aperture } }: MirrorRecord,
): { kept: NotedRow; words: readonly string[] } {
  const missing = Object.keys(typed).filter((field) => !has(field) && typed[field] !== "");
  const words: string[] = [];
  for (const field of missing) {
    if (field === "order") continue; // rows stand in the order read
    const cell = typed[field], name = IN_WORDS[field];
    if (name === undefined || typeof cell !== "object" || !has("note")) {
      const head = columnsOf(file.slice(0, -4) as never).find((one) => one.field === field)?.name ??
        field;
      throw new NotUnderstood(
        `${file} has no column for ${head}: add it to the header and to each row, or leave it out of the sentence.`,
      );
    }
    const most = name === "side" ? aperture / 2 : name === "length" ? aperture : Infinity;
    const size = valueOf(cell.numbers[0] ?? "") * (unitFactor(cell.unit ?? "mm", "length") ?? 1);
    if (size > most + 1e-6) {
      throw new NotUnderstood(
        `${name} ${mm(size)} lies beyond the disc, where at most ${
          mm(most)
        } can be: look at the digits and the unit.`,
      );
    }
    words.push(
      `${name} ${cell.numbers.join("+")}${cell.unit === undefined ? "" : ` ${cell.unit}`}`,
    );
  }
  if (words.length === 0) return { kept: all, words };
  const { note } = all;
  const said = [...(typeof note === "string" ? [note] : []), ...words].join("; ");
  return { kept: { ...all, note: said }, words };
}

/** Day and minutes so far, where the table's own rows have them. */
export function fillIns(
  record: Pick<MirrorRecord, TableName>,
  table: TableName,
  has: (field: string) => boolean,
  today: string,
): NotedRow {
  const rows: readonly Row[] = record[table];
  const isDated = rows.length === 0 || rows.some(({ date }) => date !== undefined);
  const isTimed = rows.length === 0 || rows.some(({ afterMin }) => afterMin !== undefined);
  const soFar = record.grinding.reduce((sum, { minutes }) => sum + minutes, 0);
  const since = soFar - (latestMinute(rows) ?? 0);
  const cell = (minutes: number): NotedCell => ({
    numbers: [String(Number(minutes.toPrecision(9)))],
    unit: "min",
  });
  return {
    ...(has("date") && isDated ? { date: today } : {}),
    ...(table === "grinding" || !isTimed || soFar === 0
      ? {}
      : has("afterMin")
      ? { afterMin: cell(soFar) }
      : has("minutes") && since > 0
      ? { minutes: cell(since) }
      : {}),
  };
}

/**
 * The name of the next run: the day's last, counted on; the day's first is 1.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(nextRun([{ date: "2026-06-12", run: "a2" }], "2026-06-12"), "a3");
 * assert.equal(nextRun([{ date: "2026-06-12", run: "a2" }], "2026-06-19"), "1");
 * ```
 */
export function nextRun(
  zones: readonly Pick<ZoneRow, "date" | "run">[],
  day: string,
): string {
  const names = zones.filter(({ date }) => date === undefined || date === day)
    .map(({ run }) => run);
  const [, head = "", digits = "0"] = /^(.*?)(\d*)$/.exec(names.at(-1) ?? "") ?? [];
  for (let next = Number(digits) + 1;; next++) {
    if (!names.includes(`${head}${next}`)) return `${head}${next}`;
  }
}

/** The openings of the mask, or of the last run where mirror.yaml tells none. */
function openingsFor(
  { settings, zones }: MirrorRecord,
): readonly Pick<ZoneRow, "inner" | "outer">[] {
  if (settings.mask !== undefined) return settings.mask;
  const last = zones.at(-1);
  if (last === undefined) return [];
  const own = zones.filter(({ run, date }) => run === last.run && date === last.date);
  const each = new Map(own.map(({ inner, outer }) => [`${inner} ${outer}`, { inner, outer }]));
  return [...each.values()].sort((a, b) => a.inner - b.inner);
}

const ZONE = /^zone_(\d+)$/;

/** Runs of as many readings as the mask has openings, where more were typed in one go. */
function runByRun(rows: readonly NotedRow[], openings: number): readonly NotedRow[] {
  return rows.flatMap((row) => {
    const cells = Object.entries(row).filter(([field]) => ZONE.test(field)).map(([, cell]) => cell);
    const shared = Object.entries(row).filter(([field]) => !ZONE.test(field));
    if (cells.length === 0 || cells.length % openings !== 0) {
      throw new NotUnderstood(
        `${cells.length} readings for the ${openings} openings of the mask: type one for each, from the centre outward, and - for one that was not read.`,
      );
    }
    return Array.from({ length: cells.length / openings }, (_, run) => {
      const own = cells.slice(run * openings, (run + 1) * openings);
      return Object.fromEntries([
        ...shared,
        ...own.map((cell, at) => [`zone_${at + 1}`, cell] as const),
      ]);
    });
  });
}

/** Runs in the form of the table, each with its name: one row as typed, or a row for each opening. */
function zoneCells(
  typed: readonly NotedRow[],
  has: (field: string) => boolean,
  record: MirrorRecord,
  today: string,
): readonly NotedRow[] {
  const openings = openingsFor(record);
  if (openings.length === 0) {
    throw new NotUnderstood(
      "Which openings have these readings? Write the mask's edges into mirror.yaml first, such as mask: [0 mm, 30 mm, 45 mm].",
    );
  }
  const known: Pick<ZoneRow, "date" | "run">[] = [...record.zones];
  const named = runByRun(typed, openings.length).map((row): NotedRow => {
    const date = typeof row["date"] === "string" ? row["date"] : today;
    const run = typeof row["run"] === "string" ? row["run"] : nextRun(known, date);
    known.push({ date, run });
    return { ...row, run };
  });
  return named.flatMap((row) => has("zone_1") ? [row] : openingByOpening(row, openings, has));
}

/** One run as a row for each opening, in the order read; what was read again last. */
function openingByOpening(
  row: NotedRow,
  openings: readonly Pick<ZoneRow, "inner" | "outer">[],
  has: (field: string) => boolean,
): readonly NotedRow[] {
  const { first_again: again, order, ...rest } = Object.fromEntries(
    Object.entries(row).filter(([field]) => !ZONE.test(field)),
  );
  const inMm = (value: number): NotedCell => ({ numbers: [String(value)], unit: "mm" });
  const each = openings.flatMap(({ inner, outer }, at): NotedRow[] => {
    const reading = row[`zone_${at + 1}`];
    return reading === undefined || reading === ""
      ? []
      : [{ ...rest, inner: inMm(inner), outer: inMm(outer), reading }];
  });
  if (order === "inward") each.reverse();
  const [first] = each;
  const all = again === undefined || first === undefined
    ? each
    : [...each, { ...first, reading: again }];
  return has("order") && order !== undefined ? all.map((one) => ({ ...one, order })) : all;
}

/** The decimal sign that the table's numbers have already. */
export function decimalOf(
  rows: readonly (readonly string[])[],
  columns: readonly FoundColumn[],
): Decimal {
  for (const cells of rows) {
    for (const { column, index } of columns) {
      if (
        column.kind === "words" || column.kind === "name" || column.kind === "date" ||
        column.kind === "clock"
      ) continue;
      for (const part of (cells[index] ?? "").split("+")) {
        const sign = decimalSign(part.trim());
        if (sign !== undefined) return sign;
      }
    }
  }
  return ".";
}

/** A cell as the table would have it: its unit, its decimal sign. */
function written(cell: NotedCell, { column, factor }: FoundColumn, decimal: Decimal): string {
  if (typeof cell === "string") return clean(cell, 2000);
  const dimension = dimensionOf(column);
  const own = cell.unit === undefined || dimension === undefined
    ? undefined
    : unitFactor(cell.unit, dimension);
  const numbers = own === undefined || Math.abs(own / factor - 1) < 1e-12
    ? cell.numbers
    : cell.numbers.map((one) => String(Number((valueOf(one) * own / factor).toPrecision(6))));
  const text = numbers.join("+");
  return decimal === "," ? text.replaceAll(".", ",") : text;
}

/**
 * A cell in quotation marks where it would not be read as one cell, or the line as a remark.
 *
 * @param at  which of the row's cells it is, from 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(quoted("wet, read twice", ",", 3), '"wet, read twice"');
 * ```
 */
export function quoted(cell: string, delimiter: string, at: number): string {
  const isPlain = !cell.includes(delimiter) && !cell.includes('"') &&
    !(at === 0 && /^#(?!\d)/.test(cell));
  return isPlain ? cell : `"${cell.replaceAll('"', '""')}"`;
}
