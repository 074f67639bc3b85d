/** A maker's folder to a typed record: everything found wrong is told at once, nothing is guessed. */
import { KIT_DAY } from "../version.ts";
import { clean } from "./clean.ts";
import { Budget, checkBounds, madeOf, MOST_PHOTOS } from "./bounds.ts";
import { readCells, type Values } from "./cells.ts";
import { splitTable } from "./csv.ts";
import { Findings, RecordRefused, shown } from "./errors.ts";
import { decodeText, LARGEST, openFolder, readInside, type RecordFolder } from "./files.ts";
import { lastName } from "./fileSystem.ts";
import { matchHeader } from "./header.ts";
import { nearest } from "./nearest.ts";
import { checkPhotos } from "./photos.ts";
import { readRow, withMinutesAdded } from "./rows.ts";
import { columnsOf, type TableName, TABLES } from "./schema.ts";
import { readSettings, type Settings } from "./settings.ts";
import type { MirrorRecord, RowOf, Tables } from "./types.ts";
import { lookForUnlikely } from "./unlikely.ts";
import { zoneColumns, zoneRows } from "./zoneRows.ts";

/** What is left out of the reading of a record. */
export interface LeftOut {
  /** photographs are named but not decoded, which takes a second each */
  readonly photos?: boolean;
  /** tables that are passed over, by their file's name: what the others say can be told where one is refused */
  readonly tables?: ReadonlySet<string>;
}

/** A comment line by which a maker says that a table without rows is meant to have none yet. */
const NO_READINGS_YET = "no readings yet";

/**
 * Reads a record: mirror.yaml, the tables that are there, the photographs they name.
 *
 * @param folder  path of the record's folder
 * @param today   ISO date; a later day in a table is refused
 * @param instead tables by their file's name, read in place of those in the folder: a record as it would be
 * @param leave   what is left out of the reading: the decoding of photographs, tables by their file's name
 * @returns typed rows in the kit's units, with warnings for what is merely unlikely
 * @throws {RecordRefused} with every refusal found, each with file, line, column and how to mend it
 * @example the demo mirror has 23 runs over its zones, on four days
 * ```ts
 * import assert from "node:assert/strict";
 * import { fileURLToPath } from "node:url";
 * const folder = new URL("../../data/records/demo-150-f8", import.meta.url);
 * const record = await readRecord(fileURLToPath(folder));
 * assert.equal(new Set(record.zones.map(({ run }) => run)).size, 23);
 * ```
 */
export async function readRecord(
  folder: string,
  today: string = dayNow(),
  instead: ReadonlyMap<string, Uint8Array<ArrayBuffer>> = new Map(),
  leave: LeftOut = {},
): Promise<MirrorRecord> {
  const findings = new Findings();
  const opened = await openFolder(folder, findings);
  if (opened === undefined) throw new RecordRefused(findings.refusals);
  const name = clean(lastName(opened.path));
  const read = await settingsOf(opened, name, findings);
  const budget = new Budget();
  const record = {
    name,
    folder: opened.path,
    settings: read?.settings ?? STANDIN,
    defaults: read?.told ?? [],
    ...await tables(),
  };
  if (!findings.refused) refuseFlatless(record.spherometer, findings);
  checkBounds(record, findings);
  if (leave.photos !== true) {
    for (const rows of [record.ronchi, record.star, record.knife]) {
      await checkPhotos(rows.slice(0, MOST_PHOTOS), opened, findings);
    }
  }
  if (findings.refused) throw new RecordRefused(findings.refusals);
  warnOfStrangers(opened, findings);
  lookForUnlikely(record, read?.keyLines ?? new Map(), findings);
  const defaults = [...record.defaults, ...usualSeating(record)];
  return { ...record, defaults, warnings: findings.warnings };

  async function tables(): Promise<Tables> {
    const all: Partial<Record<TableName, readonly RowOf<TableName>[]>> = {};
    for (const table of TABLES) all[table] = await rows(table);
    return all as Tables;
  }

  async function rows(table: TableName): Promise<readonly RowOf<TableName>[]> {
    if (opened === undefined || budget.spent) return [];
    const file = `${table}.csv`;
    if (leave.tables?.has(file) === true) return [];
    const settings = read?.settings ?? STANDIN;
    const maskLine = read?.keyLines.get("mask");
    const mask = read === undefined || (maskLine !== undefined && settings.mask === undefined)
      ? "refused"
      : settings.mask;
    const values = await tableOf(table, opened, { mask, today, instead }, findings);
    const bench = { file, settings, findings };
    const made = madeOf(
      values,
      file,
      findings,
      (one) => table === "zones" ? zoneRows(one, bench) : [readRow(table, one, bench)],
    );
    budget.take(made.length, file, findings);
    return withMinutesAdded(table, made, findings);
  }
}

/** Where mirror.yaml was refused the tables are still looked through, with a disc that forbids nothing. */
const STANDIN: Settings = {
  title: "",
  aperture: Infinity,
  focalLength: Infinity,
  bevel: 0,
  glass: "soda-lime",
  thickness: 1,
  goal: { surfaceWaves: 1 / 8, wavelength: 550, shape: "auto", scope: "whole surface" },
  gauges: {
    leaves: { width: 12.7, tolerance: 0.005 },
    dialStep: 0.001,
    depthGaugeStep: 0.01,
    rulerStep: 1,
    chordU: 0.15,
  },
  tester: { source: "moves with knife", openings: "bands", ronchi: "same grating" },
};

async function settingsOf(
  folder: RecordFolder,
  name: string,
  findings: Findings,
): Promise<ReturnType<typeof readSettings>> {
  const file = "mirror.yaml";
  if (!folder.entries.includes(file)) {
    const near = nearest(file, folder.entries, 1)[0];
    const mend = near === undefined
      ? "write aperture and focal_length into it"
      : `is it ${near}? Rename it`;
    findings.refuse({ file }, "no such file", "the mirror's own page", mend);
    return undefined;
  }
  const bytes = await readInside(folder, file, LARGEST.settings, { file }, findings);
  const text = bytes && decodeText(bytes, file, findings);
  return text === undefined ? undefined : readSettings(text, name, findings);
}

async function tableOf(
  table: TableName,
  folder: RecordFolder,
  { mask, today, instead }: {
    mask: Settings["mask"] | "refused";
    today: string;
    instead: ReadonlyMap<string, Uint8Array<ArrayBuffer>>;
  },
  findings: Findings,
): Promise<Values[]> {
  const file = `${table}.csv`;
  const other = instead.get(file);
  if (other === undefined && !folder.entries.includes(file)) return [];
  const before = findings.count;
  const bytes = other ?? await readInside(folder, file, LARGEST.table, { file }, findings);
  const text = bytes && decodeText(bytes, file, findings);
  const csv = text === undefined ? undefined : splitTable(text, file, findings);
  if (csv === undefined) return [];
  const known = table === "zones" ? zoneColumns(csv, mask, findings) : columnsOf(table);
  if (known === undefined) return [];
  const columns = matchHeader(known, csv, findings);
  const understood = findings.count === before;
  if (csv.rows.length === 0 && understood && !saysNoneYet(csv.comments)) {
    const mend = `type one, delete the file, or write a line \`# ${NO_READINGS_YET}\``;
    findings.refuse({ file, line: csv.header.line }, "a header without rows", "readings", mend);
  }
  const values = readCells(csv, columns, findings);
  checkDays(values, file, today, findings);
  // With a column or a row missing, what rows say as a whole cannot be judged.
  return understood ? values.filter(({ refused }) => !refused) : [];
}

function saysNoneYet(comments: readonly string[]): boolean {
  return comments.some((comment) => comment.toLowerCase().startsWith(NO_READINGS_YET));
}

function refuseFlatless(rows: MirrorRecord["spherometer"], findings: Findings): void {
  for (const surface of ["flat", "mirror"] as const) {
    const first = rows[0];
    if (first === undefined || rows.some((row) => row.surface === surface)) continue;
    const place = { file: first.file, line: first.line, column: "surface" };
    const mend = surface === "flat"
      ? "read the dial on flat glass too"
      : "read the dial on the mirror too";
    findings.refuse(
      place,
      `no reading on the ${surface}`,
      "readings on flat glass and on the mirror",
      mend,
    );
  }
}

/** How well the mirror is put back matters, and is told, once it was turned. */
function usualSeating(
  { zones, settings }: Pick<MirrorRecord, "zones" | "settings">,
): readonly string[] {
  const seats = new Set(zones.map(({ angleDeg = 0 }) => angleDeg));
  return settings.tester.seating !== undefined || seats.size < 2 ? [] : [
    "tester.seating: 0.1 mm along the axis either way, each time the mirror is put back; with no knife turned, as much as the seats differ",
  ];
}

/** A table whose name is misspelt would pass unseen. */
function warnOfStrangers({ entries }: RecordFolder, findings: Findings): void {
  const names = TABLES.map((table) => `${table}.csv`);
  for (const file of entries) {
    const isOurs = names.includes(file) || file === "mirror.yaml" || file === "history.csv";
    if (!/\.(csv|tsv|txt|ya?ml)$/i.test(file) || isOurs) continue;
    const near = nearest(file, names, 1)[0];
    if (near !== undefined) findings.warn({ file }, `not read: is ${near} meant? Rename it`);
  }
}

/** Years back from today beyond which a day is asked about. */
const LONG_AGO = 30;

/** The day before which a day is asked about, ISO. */
export function longAgo(today: string): string {
  return `${Number(today.slice(0, 4)) - LONG_AGO}${today.slice(4)}`;
}

/**
 * The day it is where this runs. A clock that stands before the kit's own day is wrong, and is not believed.
 *
 * @param now  the clock's time; default now
 * @returns ISO date
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(dayNow(new Date(2031, 0, 9)), "2031-01-09");
 * ```
 */
export function dayNow(now: Date = new Date()): string {
  const two = (part: number): string => String(part).padStart(2, "0");
  const day = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  return day > KIT_DAY ? day : KIT_DAY;
}

/**
 * Refuses days that some rows have and others have not, and days after today; asks about days long ago.
 *
 * @param rows   the table's rows; a row with a refusal of its own is passed over
 * @param today  ISO date
 */
function checkDays(
  rows: readonly Values[],
  file: string,
  today: string,
  findings: Findings,
): void {
  const dated = rows.find((row) => row.get("date") !== undefined);
  if (dated === undefined) return;
  const column = dated.headers.get("date") ?? "date";
  const bare = rows.find((row) => !row.refused && row.get("date") === undefined);
  if (bare !== undefined) {
    const wanted = `a day in each row, as in line ${dated.line}`;
    const mend = "write its day; where none is known, leave the column out";
    findings.refuse({ file, line: bare.line, column }, "nothing", wanted, mend);
  }
  const old = longAgo(today);
  let asked = false;
  for (const row of rows) {
    const { line } = row, day = row.get("date");
    if (typeof day !== "string") continue;
    if (day > today) {
      const mend = "look at the year and the month; --today sets the day where a clock is wrong";
      findings.refuse({ file, line, column }, shown(day), `a day up to today, ${today}`, mend);
    } else if (day < old && !asked) {
      asked = true;
      const message = `${day} is more than ${LONG_AGO} years ago: is the year right?`;
      findings.warn({ file, line, column }, message);
    }
  }
}
