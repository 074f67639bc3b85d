/** Cells to values: by each column's kind, by one decimal sign for the whole file. */
import { isDate } from "./date.ts";
import { clean } from "./clean.ts";
import type { CsvRow, CsvTable } from "./csv.ts";
import { type Findings, type Place, shown } from "./errors.ts";
import type { FoundColumn } from "./header.ts";
import { nearest } from "./nearest.ts";
import { rangeInWords, rangeOf } from "./schema.ts";
import { findAbrasive } from "./abrasiveNames.ts";
import { type Decimal, decimalSign, parseNumber } from "./written.ts";

/** One row's cells in the kit's units, by their fields; what was left empty is absent. */
export interface Values {
  readonly line: number;
  /** something in this row was refused: what it says as a whole is not judged */
  readonly refused: boolean;
  /** the file's own spelling of each column, for refusals */
  readonly headers: ReadonlyMap<string, string>;
  readonly get: (field: string) => Value;
}

export type Value = number | string | readonly number[] | undefined;

/** What all rows of a table share: a long table is held column by column, in little memory. */
interface Store {
  readonly headers: ReadonlyMap<string, string>;
  /** each column's values by its field, one for each row */
  readonly columns: ReadonlyMap<string, readonly Value[]>;
  /** rows in which something was refused */
  readonly refused: ReadonlySet<number>;
}

/** One row of a store: where it stands, and nothing of its own. */
class StoredRow implements Values {
  constructor(
    readonly line: number,
    private readonly store: Store,
    private readonly at: number,
  ) {}

  get refused(): boolean {
    return this.store.refused.has(this.at);
  }

  get headers(): ReadonlyMap<string, string> {
    return this.store.headers;
  }

  get(field: string): Value {
    return this.store.columns.get(field)?.[this.at];
  }
}

/** A cell that was refused. */
const REFUSED = Symbol("refused");

/** Kinds of column in which the same few words stand again and again; each is looked up once. */
const FEW_WORDS: readonly string[] = ["choice", "abrasive", "date"];

/**
 * Reads all rows of a table; a row with a refusal is still returned, marked as such.
 *
 * @param csv       the file's cells
 * @param columns   its columns as `matchHeader` found them
 * @param findings  refusals: no number, a mixed decimal sign, a word there is none of, a value beyond any bench
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { splitTable } from "./csv.ts";
 * import { Findings } from "./errors.ts";
 * import { matchHeader } from "./header.ts";
 * import { columnsOf } from "./schema.ts";
 * const findings = new Findings();
 * const csv = splitTable("distance_m;image_mm\n1,199;11,1\n", "sun.csv", findings);
 * const rows = csv && readCells(csv, matchHeader(columnsOf("sun"), csv, findings), findings);
 * assert.equal(rows?.[0]?.get("distance"), 1199);
 * ```
 */
export function readCells(
  csv: CsvTable,
  columns: readonly FoundColumn[],
  findings: Findings,
): Values[] {
  const decimal = decimalOf(csv, columns, findings);
  const headers = new Map(columns.map(({ column, header }) => [column.field, header]));
  const store = {
    headers,
    columns: new Map(columns.map(({ column }) => [column.field, [] as Value[]])),
    refused: new Set<number>(),
  };
  const words = columns.map(({ column }) =>
    FEW_WORDS.includes(column.kind) ? new Map<string, Value>() : undefined
  );
  const valueOf = (
    row: CsvRow,
    found: FoundColumn,
    known?: Map<string, Value>,
  ): Value | typeof REFUSED => {
    const text = row.cells[found.index] ?? "", before = known?.get(text);
    if (before !== undefined) return before;
    const place = { file: csv.file, line: row.line, column: found.header };
    const value = readCell(text, found, place, decimal, findings);
    if (value !== REFUSED) known?.set(text, value);
    return value;
  };
  return csv.rows.map((row, at) => {
    for (const [i, found] of columns.entries()) {
      const value = valueOf(row, found, words[i]);
      if (value === REFUSED) store.refused.add(at);
      store.columns.get(found.column.field)?.push(value === REFUSED ? undefined : value);
    }
    return new StoredRow(row.line, store, at);
  });
}

/** The file's decimal sign is the first one found in a cell for numbers; a later cell with the other is refused. */
function decimalOf(csv: CsvTable, columns: readonly FoundColumn[], findings: Findings): Decimal {
  let first: { sign: Decimal; line: number } | undefined;
  for (const row of csv.rows) {
    for (const found of columns) {
      if (!isNumeric(found)) continue;
      const cell = row.cells[found.index] ?? "";
      for (const part of found.column.kind === "leaves" ? cell.split("+") : [cell]) {
        const sign = decimalSign(part.trim());
        if (sign === undefined) continue;
        first ??= { sign, line: row.line };
        if (sign === first.sign) continue;
        const name = { ".": "point", ",": "comma" };
        const wanted = `a decimal ${name[first.sign]} as in line ${first.line}`;
        const place = { file: csv.file, line: row.line, column: found.header };
        findings.refuse(
          place,
          `${shown(part)} with a decimal ${name[sign]}`,
          wanted,
          "keep to one of them in a file",
        );
      }
    }
  }
  return first?.sign ?? ".";
}

function isNumeric({ column }: FoundColumn): boolean {
  return column.kind === "leaves" || rangeOf(column) !== undefined;
}

/** Reads one cell: its value, `undefined` for one that may be empty and is, REFUSED where it was refused. */
function readCell(
  text: string,
  found: FoundColumn,
  place: Place,
  decimal: Decimal,
  findings: Findings,
): Value | typeof REFUSED {
  const { column } = found;
  if (text === "") {
    if (!column.required) return undefined;
    findings.refuse(place, "nothing", column.meaning, `write it, such as ${column.example}`);
    return REFUSED;
  }
  if (text.startsWith("=")) {
    const mend = "write what it comes to, as read from the gauge";
    findings.refuse(place, `the formula ${shown(text)}`, "a value", mend);
    return REFUSED;
  }
  if (column.kind === "leaves") {
    return readLeaves(text, found, column.most, place, decimal, findings) ?? REFUSED;
  }
  if (isNumeric(found)) return readNumber(text, found, place, decimal, findings) ?? REFUSED;
  return readWord(text, found, place, findings) ?? REFUSED;
}

function readNumber(
  text: string,
  { column, factor }: FoundColumn,
  place: Place,
  decimal: Decimal,
  findings: Findings,
): number | undefined {
  const typed = parseNumber(text, decimal);
  if (typed === undefined) {
    // The other decimal sign was already refused for the whole file.
    if (decimalSign(text) === undefined) refuseNumber(text, column.example, place, findings);
    return undefined;
  }
  const value = typed * factor, range = rangeOf(column);
  if (range === undefined || (value >= range.least && value <= range.most)) {
    return column.kind === "turn" ? degrees(value) : value;
  }
  findings.refuse(
    place,
    shown(text),
    rangeInWords(column) ?? "",
    "no bench has this; look at the digits and at the header's unit",
  );
  return undefined;
}

/** rad to degrees below a full turn, without the last digits that the conversion left. */
function degrees(rad: number): number {
  return Number((rad * 180 / Math.PI).toPrecision(12)) % 360;
}

function refuseNumber(text: string, example: string, place: Place, findings: Findings): void {
  const unit = /^[+-]?[\d.,]+ *(mm|cm|m|µm|μm|um|nm|in|inch|inches|"|deg|°|min|h)$/i.test(text);
  const marks = /^\d{1,3}([.,' ]\d{3})+([.,]\d+)?$/.test(text);
  const mend = unit
    ? "write the unit in the header, only digits in the cell"
    : marks
    ? "leave thousands marks out"
    : `write digits, such as ${example}`;
  findings.refuse(place, shown(text), "a number", mend);
}

function readLeaves(
  text: string,
  { column, factor }: FoundColumn,
  most: number,
  place: Place,
  decimal: Decimal,
  findings: Findings,
): number[] | undefined {
  const parts = text.split("+").map((part) => part.trim());
  const typed = parts.map((part) => parseNumber(part, decimal));
  const leaves = typed.flatMap((leaf) => leaf === undefined ? [] : [leaf * factor]);
  if (leaves.length < parts.length) {
    const bad = parts.find((part) => parseNumber(part, decimal) === undefined) ?? "";
    if (decimalSign(bad) === undefined) {
      refuseNumber(bad === "" ? text : bad, column.example, place, findings);
    }
    return undefined;
  }
  const twin = typed.find((leaf, index) => typed.indexOf(leaf) !== index);
  if (twin !== undefined) {
    const wanted = "each leaf once, for a set has one of each";
    findings.refuse(
      place,
      `${shown(text)}, the leaf ${twin} twice`,
      wanted,
      "look at the leaves again",
    );
    return undefined;
  }
  const sum = leaves.reduce((total, leaf) => total + leaf, 0);
  const isNone = leaves.length === 1 && leaves[0] === 0;
  if (isNone || leaves.every((leaf) => leaf > 0) && sum <= most) return leaves;
  const wanted = `leaves above 0 and up to ${most} mm together, or 0 where none passes`;
  findings.refuse(
    place,
    shown(text),
    wanted,
    "no set has this; look at the digits and at the header's unit",
  );
  return undefined;
}

function readWord(
  text: string,
  { column }: FoundColumn,
  place: Place,
  findings: Findings,
): string | undefined {
  if (column.kind === "choice") {
    const plain = text.toLowerCase().replace(/\s+/g, " ");
    const meant = column.also?.[plain] ?? plain;
    const word = column.choices.find((choice) => choice === meant);
    if (word === undefined) refuseWord(text, column.choices, place, findings);
    return word;
  }
  if (column.kind === "abrasive") {
    const { name, mend } = findAbrasive(text);
    if (name === undefined) {
      findings.refuse(place, shown(text), "a row of data/tables/abrasives.csv", mend);
    }
    return name;
  }
  if (column.kind === "date" && !isDate(text)) {
    findings.refuse(
      place,
      shown(text),
      "a day that there is, year first",
      `write it like ${column.example}`,
    );
    return undefined;
  }
  if (column.kind === "clock") return readClock(text, column.example, place, findings);
  if (text.length <= 2000) {
    if (column.kind === "photo") return /[\\/]/.test(text) ? text : `photos/${text}`;
    // a maker's own words stay as they are and are cleaned where they are printed
    return column.kind === "words" ? text : clean(text, 2000);
  }
  findings.refuse(
    place,
    `${text.length} letters`,
    "at most 2000",
    "keep long tales in a file of their own",
  );
  return undefined;
}

/** A clock's time with two digits each, as `21:43` or `21:43:10.5`; a clock of twelve hours is asked about. */
function readClock(
  text: string,
  example: string,
  place: Place,
  findings: Findings,
): string | undefined {
  const found = /^(\d{1,2})[:.h](\d\d)(?::(\d\d(?:[.,]\d{1,3})?))?$/.exec(text);
  const [hour = "99", minute = "99", second = "0"] = found?.slice(1).map((part) => part) ?? [];
  if (found !== null && Number(hour) < 24 && Number(minute) < 60 && parseFloat(second) < 60) {
    const clock = `${hour.padStart(2, "0")}:${minute}`;
    return found[3] === undefined ? clock : `${clock}:${second.replace(",", ".")}`;
  }
  const mend = /[ap]\.?m/i.test(text)
    ? `count the hours to 24, such as ${example}`
    : `write it like ${example}`;
  findings.refuse(place, shown(text), "a time of the clock", mend);
  return undefined;
}

/** Few words are told, of many the three nearest. */
function refuseWord(
  text: string,
  choices: readonly string[],
  place: Place,
  findings: Findings,
): void {
  const isFew = choices.length <= 3;
  const near = nearest(text, choices, isFew ? 1 : 3), [first] = near;
  const mend = first !== undefined
    ? `did you mean ${near.join(" or ")}?`
    : isFew
    ? "write one of them"
    : `data/records/README.md lists them`;
  const wanted = isFew ? choices.join(" or ") : `one of the ${choices.length} words known here`;
  findings.refuse(place, shown(text), wanted, mend);
}
