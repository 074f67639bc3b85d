/**
 * The front door for tables: text to cells, with the file's own line numbers. It knows quotes, comments, blank lines,
 * comma, semicolon or tab; it knows nothing of what the cells mean.
 */
import { type Findings, shown } from "./errors.ts";

/** More rows than this are no maker's table. */
export const MOST_ROWS = 100_000;
const MOST_CELLS = 64;

/** One row of a table; `line` is where it begins in the file, the first line being 1. */
export interface CsvRow {
  readonly line: number;
  readonly cells: readonly string[];
}

export interface CsvTable {
  readonly file: string;
  readonly delimiter: "," | ";" | "\t";
  readonly header: CsvRow;
  readonly rows: readonly CsvRow[];
  /** the comment lines, without their `#` */
  readonly comments: readonly string[];
}

/**
 * Splits the text of a table into its header and rows.
 *
 * The header decides the delimiter: tab if it holds one, else semicolon, else comma. A line is a comment when its first
 * sign is `#`, unless the table's first column is `abrasive` and the line begins with a grade such as `#400`.
 * Columns without a name must be empty and fall away; so do rows in which every cell is empty.
 *
 * @param text      the whole file
 * @param file      its name, for refusals
 * @param findings  where refusals go: an open quote, a ragged row, no header
 * @returns the table, or `undefined` when there is not even a header
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * const table = splitTable("# leaves\ngo_mm;nogo_mm\n\n0,88;0,90\n", "sagitta.csv", new Findings());
 * assert.deepEqual(table?.rows, [{ line: 4, cells: ["0,88", "0,90"] }]);
 * ```
 */
export function splitTable(text: string, file: string, findings: Findings): CsvTable | undefined {
  const lines = text.split(/\r\n|\r|\n/);
  const first = lines.find((line) => line.trim() !== "" && !/^\s*#/.test(line)) ?? "";
  const before = findings.count;
  const delimiter = delimiterOf(first);
  const scan = scanRows(lines, delimiter, commentTest(first), file, findings);
  const [header, ...rows] = scan.rows;
  if (header === undefined) {
    if (findings.count > before) return undefined;
    const mend = "write the column names in the first line, or delete the file";
    findings.refuse({ file, line: 1 }, "no row at all", "a header and readings", mend);
    return undefined;
  }
  const table = trimmed(header, rows, delimiter, file, findings);
  return table && { file, delimiter, ...table, comments: scan.comments };
}

function delimiterOf(header: string): CsvTable["delimiter"] {
  const bare = header.replace(/"[^"]*"/g, "");
  if (bare.includes("\t")) return "\t";
  if (bare.includes(";")) return ";";
  // One column only: no delimiter is in use, so a comma in a row can only be a decimal comma.
  return bare.includes(",") ? "," : ";";
}

function commentTest(header: string): (line: string) => boolean {
  const gradesFirst = /^\s*"?abrasive\b/i.test(header);
  return (line) => /^\s*#/.test(line) && !(gradesFirst && /^\s*#\d+\s*[,;\t]/.test(line));
}

interface Scan {
  readonly rows: CsvRow[];
  readonly comments: string[];
}

function scanRows(
  lines: readonly string[],
  delimiter: string,
  isComment: (line: string) => boolean,
  file: string,
  findings: Findings,
): Scan {
  const scan: Scan = { rows: [], comments: [] };
  for (let index = 0; index < lines.length; index++) {
    const line = lines[index] ?? "";
    if (line.trim() === "") continue;
    if (isComment(line)) {
      scan.comments.push(line.trim().slice(1).trim());
      continue;
    }
    if (scan.rows.length > MOST_ROWS) {
      findings.refuse(
        { file, line: index + 1 },
        `more than ${MOST_ROWS} rows`,
        "a maker's table",
        "split it",
      );
      break;
    }
    const row = splitRow(lines, index, delimiter, file, findings);
    if (row === undefined) break;
    if (row.cells.some((cell) => cell !== "")) {
      scan.rows.push({ line: index + 1, cells: row.cells });
    }
    index = row.last;
  }
  return scan;
}

/** Reads one row, which may run over several lines inside quotes; `last` is the index of its last line. */
function splitRow(
  lines: readonly string[],
  first: number,
  delimiter: string,
  file: string,
  findings: Findings,
): { cells: string[]; last: number } | undefined {
  const spaces = delimiter === "\t" ? /^ +/ : /^\s+/;
  const cells: string[] = [];
  let last = first;
  let rest = lines[first] ?? "";
  for (;;) {
    rest = rest.replace(spaces, "");
    if (rest.startsWith('"')) {
      const quoted = readQuoted(lines, last, rest.slice(1));
      if (quoted === undefined) {
        const mend = "close it, or write two quotation marks for one inside a cell";
        const found = "a quotation mark that never closes";
        findings.refuse({ file, line: first + 1 }, found, "a pair of them", mend);
        return undefined;
      }
      cells.push(quoted.text.trim());
      last = quoted.last;
      rest = quoted.rest.replace(spaces, "");
    } else {
      const end = rest.indexOf(delimiter);
      cells.push((end < 0 ? rest : rest.slice(0, end)).trim());
      rest = end < 0 ? "" : rest.slice(end);
    }
    // a copy is as long as the row, while a list that grew keeps room for a dozen cells more
    if (rest === "") return { cells: cells.slice(), last };
    if (!rest.startsWith(delimiter)) {
      const found = `${shown(rest)} after a closing quotation mark`;
      const mend = "put the quotation marks round the whole cell";
      findings.refuse({ file, line: last + 1 }, found, "the next cell", mend);
      return undefined;
    }
    rest = rest.slice(1);
  }
}

/** Text up to the closing quotation mark, at most 100 lines further on; two marks inside stand for one. */
function readQuoted(
  lines: readonly string[],
  from: number,
  start: string,
): { text: string; rest: string; last: number } | undefined {
  let text = "";
  let rest = start;
  for (let last = from; last < lines.length && last < from + 100;) {
    const end = rest.indexOf('"');
    if (end < 0) {
      text += `${rest}\n`;
      rest = lines[++last] ?? "";
    } else if (rest[end + 1] === '"') {
      text += rest.slice(0, end + 1);
      rest = rest.slice(end + 2);
    } else {
      return { text: text + rest.slice(0, end), rest: rest.slice(end + 1), last };
    }
  }
  return undefined;
}

/** Drops nameless empty columns and refuses rows that have more or fewer cells than the header. */
function trimmed(
  header: CsvRow,
  rows: readonly CsvRow[],
  delimiter: string,
  file: string,
  findings: Findings,
): { header: CsvRow; rows: CsvRow[] } | undefined {
  let width = header.cells.length;
  while (width > 0 && header.cells[width - 1] === "") width--;
  if (width > MOST_CELLS) {
    const found = `${width} columns`;
    findings.refuse({ file, line: header.line }, found, `at most ${MOST_CELLS}`, "take some out");
    return undefined;
  }
  const kept: CsvRow[] = [];
  const name = (cell: string): string => cell.toLowerCase();
  for (const row of rows) {
    if (row.cells.every((cell, at) => name(cell) === name(header.cells[at] ?? ""))) {
      const found = "the column names again", mend = "take this line out: were two files joined?";
      findings.refuse({ file, line: row.line }, found, "a row of readings", mend);
      continue;
    }
    const spare = row.cells.some((cell, at) => at >= width && cell !== "");
    if (row.cells.length >= width && !spare) {
      kept.push(row.cells.length === width ? row : { ...row, cells: row.cells.slice(0, width) });
      continue;
    }
    const hint = spare && delimiter === ","
      ? "put a number with a decimal comma in quotation marks, or part the cells with semicolons"
      : "leave a cell empty rather than out";
    const found = `${row.cells.length} ${row.cells.length === 1 ? "cell" : "cells"}`;
    findings.refuse({ file, line: row.line }, found, `${width} as in the header`, hint);
  }
  return { header: { line: header.line, cells: header.cells.slice(0, width) }, rows: kept };
}
