/** Rows that somebody types, judged as the record would judge them: refused in its own sentences, or ready for the file. */
import { appendedRows, type SentRow } from "../record/appendRows.ts";
import { describe, Findings, RecordRefused } from "../record/errors.ts";
import { decodeText, encoded, encodingOf, LARGEST } from "../record/files.ts";
import { files } from "../record/fileSystem.ts";
import { readRecord } from "../record/readRecord.ts";
import type { TableName } from "../record/schema.ts";
import type { MirrorRecord, Refusal } from "../record/types.ts";

/** A refusal at the field that it is about. */
export interface FieldRefusal {
  /** which of the rows, from 0 */
  readonly row?: number;
  /** the field's name; absent where it is about the row or the file as a whole */
  readonly name?: string;
  /** what is wrong, what is wanted, how to mend it */
  readonly sentence: string;
}

/** Rows that the record takes. */
export interface RowsTaken {
  /** the table as it will stand, byte for byte but for what is added at its end */
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** the same as text, without a byte order mark */
  readonly text: string;
  /** what is added */
  readonly added: string;
  /** the number of each row's line in the file, from 1 */
  readonly lines: readonly number[];
  /** the record as it will be, its photographs not decoded */
  readonly record: MirrorRecord;
}

/** What rows come to. */
export type JudgedRows =
  | { readonly taken: RowsTaken }
  | { readonly refusals: readonly FieldRefusal[] }
  /** nothing is wrong with them, but the record can be read only when another reading is there */
  | { readonly waits: string };

/** Cells as they are typed: by the file's names, with a decimal point or comma. */
export type TypedRow = SentRow;

/**
 * Judges rows as if they stood at the end of their table already.
 *
 * A comma within a number is read as its decimal sign, since some phones have no point on the keys for numbers.
 *
 * @param folder  of a record that can be read
 * @param table   which of its tables
 * @param rows    cells by the names of the file's columns, or of a fresh file's where there is none yet
 * @param names   those names, so that a file that is begun gets all of them
 * @param record  as it was read, without these rows
 * @param today   ISO day
 */
export async function judgeRows(
  folder: string,
  table: TableName,
  rows: readonly TypedRow[],
  names: readonly string[],
  { settings }: Pick<MirrorRecord, "settings">,
  today: string,
): Promise<JudgedRows> {
  const file = `${table}.csv`, path = `${folder}/${file}`, findings = new Findings();
  const before = await files().isThere(path) ? await files().read(path) : undefined;
  const text = before && decodeText(before, file, findings);
  const sent = rows.map((row) =>
    Object.fromEntries(names.map((name) => [name, withPoint(row[name] ?? "")]))
  );
  const appended = appendedRows(table, sent, text, settings.mask, findings);
  if (appended === undefined) return { refusals: findings.refusals.map((one) => atField(one, [])) };
  const { added, lines } = appended;
  const end = encoded(added, before === undefined ? "utf-8" : encodingOf(before));
  const bytes = joined(before ?? new Uint8Array(), end);
  if (bytes.length > LARGEST.table) {
    const sentence = `${file} would be larger than ${LARGEST.table / 1e6} MB, and is full.`;
    return { refusals: [{ sentence }] };
  }
  try {
    const record = await readRecord(folder, today, new Map([[file, bytes]]), { photos: true });
    return { taken: { bytes, text: (text ?? "") + added, added, lines, record } };
  } catch (error) {
    if (!(error instanceof RecordRefused)) throw error;
    const waits = error.refusals.every(isForAnother);
    const [first] = error.refusals;
    if (waits && first !== undefined) return { waits: sentenceOf(first) };
    return { refusals: error.refusals.map((one) => atField(one, lines)) };
  }
}

/** The spherometer's first reading is nothing without its other: no reason to send it back. */
export function isForAnother({ file, message }: Refusal): boolean {
  return file === "spherometer.csv" && message.startsWith("found no reading on the ");
}

function withPoint(cell: string): string {
  return cell.split("+").every((part) => /^\s*[+−-]?\d*,\d*\s*$|^\s*[+−-]?[\d.]+\s*$/.test(part))
    ? cell.replaceAll(",", ".")
    : cell;
}

function joined(
  one: Uint8Array<ArrayBuffer>,
  other: Uint8Array<ArrayBuffer>,
): Uint8Array<ArrayBuffer> {
  const both = new Uint8Array(one.length + other.length);
  both.set(one);
  both.set(other, one.length);
  return both;
}

function atField(refusal: Refusal, lines: readonly number[]): FieldRefusal {
  const { line, column } = refusal, row = line === undefined ? -1 : lines.indexOf(line);
  // of a row that is not there yet, the file and the line say nothing to whoever types it
  const isTyped = row >= 0 || lines.length === 0;
  return {
    ...(row < 0 ? {} : { row }),
    ...(typeof column === "string" && isTyped ? { name: column } : {}),
    sentence: isTyped ? sentenceOf(refusal) : `${capital(describe(refusal))}.`,
  };
}

function sentenceOf({ message }: Refusal): string {
  return /[.?!]$/.test(message) ? capital(message) : `${capital(message)}.`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
