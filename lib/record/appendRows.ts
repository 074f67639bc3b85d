/** Rows that somebody sends by their columns' names, as they will stand at the end of a table in the file's own style. */
import { plainLine } from "./clean.ts";
import { type CsvTable, splitTable } from "./csv.ts";
import { type Findings, shown } from "./errors.ts";
import { type FoundColumn, matchColumn, matchHeader, mendHeader } from "./header.ts";
import { decimalOf, quoted } from "./noteRow.ts";
import { type Column, columnsOf, dimensionOf, type TableName, wideZones } from "./schema.ts";
import type { Settings } from "./settings.ts";
import { parseNumber } from "./written.ts";
import { zoneColumns } from "./zoneRows.ts";

/** A row as it is sent: cells by their columns' names, decimals with a point. */
export type SentRow = Readonly<Record<string, string>>;

/** Rows as they will stand. */
export interface AppendedRows {
  /** what comes behind the table's text, line ends included; of a table that is begun, its header too */
  readonly added: string;
  /** the file's own number of each row's line, from 1 */
  readonly lines: readonly number[];
}

/** More rows than this at once are no reading of a bench. */
export const MOST_SENT = 50;

/** How many of mm one of these is, where that is exact: the only units that are changed into one another. */
const EXACT: Readonly<Record<string, number>> = { mm: 1, in: 25.4 };

/** A column of the request: which column of the table it is, and what its cells are multiplied by on the way. */
interface SentColumn {
  readonly name: string;
  readonly found: FoundColumn;
  /** 1 where the file has the same unit */
  readonly times: number;
}

/**
 * Rows at the end of a table: its comments, order, line ends, delimiter and decimal sign stay as they are.
 *
 * Columns that are not sent stay empty. A length that is sent in mm is written in inches where the file has inches, and
 * the other way round; no other unit is changed. A newline within a cell becomes a space.
 *
 * @param table     which of the record's tables
 * @param rows      what is sent
 * @param text      the table as it stands, without its byte order mark; `undefined` where it is to be begun
 * @param mask      of mirror.yaml, for zones with one row for each run
 * @param findings  where refusals go
 * @returns nothing where something is refused, or where the file itself cannot be understood
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * const file = "# at the bench\r\ngo_mm;nogo_mm;note\r\n0,10;0,15;\r\n";
 * const rows = appendedRows("sagitta", [{ go_mm: "0.88+0.25", nogo_mm: "1.15" }], file, undefined, new Findings());
 * assert.deepEqual(rows, { added: "0,88+0,25;1,15;\r\n", lines: [4] });
 * ```
 */
export function appendedRows(
  table: TableName,
  rows: readonly SentRow[],
  text: string | undefined,
  mask: Settings["mask"],
  findings: Findings,
): AppendedRows | undefined {
  const file = `${table}.csv`, before = findings.count;
  if (rows.length > MOST_SENT) {
    const mend = "send them in smaller parts";
    findings.refuse({ file }, `${rows.length} rows at once`, `at most ${MOST_SENT}`, mend);
    return undefined;
  }
  const isBegun = text === undefined || text.trim() === "";
  const begun = isBegun ? headerOf(rows) : "";
  const whole = isBegun ? begun : text;
  const csv = splitTable(whole, file, findings);
  const known = csv === undefined
    ? undefined
    : isBegun && table === "zones" && mask !== undefined && namesOf(rows).some(isWide)
    ? wideZones(mask.map((_, at) => at + 1))
    : table === "zones"
    ? zoneColumns(csv, mask, findings)
    : columnsOf(table);
  if (csv === undefined || known === undefined || findings.count > before) return undefined;
  const ofFile = matchHeader(known, csv, findings);
  if (findings.count > before) return undefined;
  const columns = namesOf(rows).flatMap((name) =>
    sentColumn(name, table, known, ofFile, findings) ?? []
  );
  for (const row of rows) {
    refuseTwins(columns.filter(({ name }) => (row[name] ?? "") !== ""), file, findings);
  }
  const decimal = decimalOf(csv.rows.map(({ cells }) => cells), ofFile);
  const cells = rows.map((row) => rowCells(row, columns, csv, decimal, findings));
  if (findings.count > before) return undefined;
  const end = /\r\n|\r|\n/.exec(text ?? "")?.[0] ?? "\n";
  const gap = isBegun || /[\r\n]$/.test(whole) ? "" : end;
  // blank lines of a file that is begun stand before its header
  const above = isBegun ? text ?? "" : "";
  const first = (above + whole + gap).split(/\r\n|\r|\n/).length;
  const added = cells.map((row) =>
    row.map((cell, at) => quoted(cell, csv.delimiter, at)).join(csv.delimiter) + end
  ).join("");
  return {
    added: begun + gap + added,
    lines: rows.map((_, at) => first + at),
  };
}

const isWide = (name: string): boolean => /^(zone_?\d+|first_again)(_|$)/i.test(name);

/** The columns' names of all rows, each once, in the order in which they come. */
function namesOf(rows: readonly SentRow[]): readonly string[] {
  return [...new Set(rows.flatMap((row) => Object.keys(row)))];
}

/** The header of a table that is begun: what is sent. */
function headerOf(rows: readonly SentRow[]): string {
  const names = namesOf(rows).map((name) => plainLine(name));
  return `${names.map((name, at) => quoted(name, ",", at)).join(",")}\n`;
}

function sentColumn(
  name: string,
  table: TableName,
  known: readonly Column[],
  ofFile: readonly FoundColumn[],
  findings: Findings,
): SentColumn | undefined {
  const place = { file: `${table}.csv`, column: plainLine(name).slice(0, 60) || "1" };
  const match = matchColumn(name, known);
  if (typeof match === "string") {
    // a zone's column for a table with one row for each opening, and the like: known to the kit, not to this form
    findings.refuse(place, `column ${shown(name)}`, match, mendHeader(name, known));
    return undefined;
  }
  const found = ofFile.find(({ column }) => column.field === match.column.field);
  if (found === undefined) {
    const mend = `write ${
      plainLine(name)
    } into the header and an empty cell into each row, or send it in the note`;
    findings.refuse(place, `column ${shown(name)}`, `one that ${table}.csv has`, mend);
    return undefined;
  }
  if (found.factor === match.factor) return { name, found, times: 1 };
  const [from, to] = [exactUnit(name, found.column), exactUnit(found.header, found.column)];
  if (from === undefined || to === undefined) {
    const mend = `send it as ${found.header}`;
    findings.refuse(place, `column ${shown(name)}`, `the unit of the file`, mend);
    return undefined;
  }
  const isShare = found.column.kind === "per length";
  return { name, found, times: isShare ? to / from : from / to };
}

/** mm of the unit in a column's name, where that is one of the exact ones. */
function exactUnit(header: string, column: Column): number | undefined {
  if (dimensionOf(column) !== "length") return undefined;
  return EXACT[header.trim().toLowerCase().slice(column.name.length + 1)];
}

function refuseTwins(columns: readonly SentColumn[], file: string, findings: Findings): void {
  const seen = new Map<string, string>();
  for (const { name, found: { column: { field } } } of columns) {
    const first = seen.get(field);
    if (first === undefined) seen.set(field, name);
    else {
      const found = `columns ${shown(first)} and ${shown(name)}`;
      findings.refuse({ file, column: name }, found, "each column once", "leave one of them out");
    }
  }
}

/** The cells of one row in the file's order. */
function rowCells(
  row: SentRow,
  columns: readonly SentColumn[],
  { file, header }: CsvTable,
  decimal: "." | ",",
  findings: Findings,
): readonly string[] {
  const cells = header.cells.map(() => "");
  for (const { name, found, times } of columns) {
    const cell = plainLine((row[name] ?? "").toWellFormed()).trim();
    if (cell === "") continue;
    cells[found.index] = written(cell, found, times, decimal, file, findings);
  }
  if (cells.every((cell) => cell === "")) {
    findings.refuse({ file }, "a row without a cell", "a reading", "write it, or leave it out");
  }
  return cells;
}

/** A cell in the file's unit and with its decimal sign. */
function written(
  cell: string,
  { column, header }: FoundColumn,
  times: number,
  decimal: "." | ",",
  file: string,
  findings: Findings,
): string {
  const isNumeric = column.kind === "leaves" || "least" in column || column.kind === "turn";
  if (!isNumeric || cell === "") return cell;
  const parts = column.kind === "leaves" ? cell.split("+").map((one) => one.trim()) : [cell];
  if (parts.some((part) => /^[+-]?\d*,\d*$/.test(part))) {
    findings.refuse(
      { file, column: header },
      shown(cell),
      "decimals with a point",
      `write ${cell.replaceAll(",", ".")}; the file gets its own decimal sign`,
    );
    return "";
  }
  const numbers = parts.map((part) => {
    const value = times === 1 ? undefined : parseNumber(part, ".");
    return value === undefined ? part : shortest(value * times, times);
  });
  const joined = numbers.join("+");
  return decimal === "," ? joined.replaceAll(".", ",") : joined;
}

/** Fewest digits that give what was sent again to a tenth of a nanometre, far below any gauge. */
function shortest(value: number, times: number): string {
  for (let digits = 3; digits < 15; digits++) {
    const text = String(Number(value.toPrecision(digits)));
    if (Math.abs(Number(text) - value) / times < 1e-7) return text;
  }
  return String(value);
}
