/** Opens the record a notebook is about, and the demo beside it. */
import type { DataFrame } from "nodejs-polars";
import { files, kitFolder } from "../record/fileSystem.ts";
import { readPhotos } from "../record/readPhoto.ts";
import { tableFrame } from "../record/frames.ts";
import { readRecord } from "../record/readRecord.ts";
import type { TableName } from "../record/schema.ts";
import { summarize } from "./summary.ts";
import type { Summary } from "./summaryTypes.ts";
import type { MirrorRecord } from "../record/types.ts";

/** A record that has been read, with everything worked out from it. */
export interface Mirror {
  /** what the maker wrote */
  readonly record: MirrorRecord;
  /** what it comes to */
  readonly summary: Summary;
  /** true for the kit's own demo mirror */
  readonly isDemo: boolean;
}

/** Folder of the records that come with the kit. */
export const recordsFolder: string = `${kitFolder}/data/records`;

/** The finished mirror that every lesson tells of. */
export const demoName = "demo-150-f8";

/**
 * Where a record named on a command line or in the environment lives: a path if it is one, else a folder of data/records.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(recordFolder("demo-150-f8").endsWith("demo-150-f8"));
 * ```
 */
export function recordFolder(name: string): string {
  const isPath = /[\\/]/.test(name) || name === "." || name === "..";
  return isPath ? name : `${recordsFolder}/${name}`;
}

/** Opens a record: its folder, the day it is, tables by their file's name in place of those in the folder. */
export type Opener = (
  folder: string,
  today?: string,
  instead?: ReadonlyMap<string, Uint8Array<ArrayBuffer>>,
) => Promise<Mirror>;

let inUse: Opener = openAnew;

/**
 * Opens mirrors by another way from now on: by one that knows some already.
 *
 * @param other  `undefined` for reading each anew
 */
export function openMirrorsBy(other: Opener | undefined): void {
  inUse = other ?? openAnew;
}

/**
 * Reads one record and works out its summary.
 *
 * @param folder  path of the record's folder
 * @param today   ISO date; a later day in the record is refused; default the clock's
 * @param instead tables by their file's name, read in place of those in the folder
 * @throws {RecordRefused} with every refusal found
 */
export async function openMirror(
  folder: string,
  today?: string,
  instead?: ReadonlyMap<string, Uint8Array<ArrayBuffer>>,
): Promise<Mirror> {
  return await inUse(folder, today, instead);
}

/**
 * The same, whoever may know it already.
 *
 * @param known  its summary, where somebody has worked it out; default it is worked out
 */
export async function openAnew(
  folder: string,
  today?: string,
  instead?: ReadonlyMap<string, Uint8Array<ArrayBuffer>>,
  known?: Summary,
): Promise<Mirror> {
  const record = await readRecord(folder, today, instead);
  const summary = known ?? summarize(record, await readPhotos(record));
  return { record, summary, isDemo: record.folder === await demoFolder() };
}

async function demoFolder(): Promise<string> {
  return await files().realPath(`${recordsFolder}/${demoName}`);
}

/** The record that the environment names; without one the demo. */
function recordHere(): string {
  return files().setting("record") ?? demoName;
}

/**
 * The reader's own mirror and the demo, for a notebook's first cell.
 *
 * The record is named by the environment's FIRST_MIRROR_RECORD, as `deno task book` sets it; without one the demo is
 * both; FIRST_MIRROR_TODAY, where it is set, is the day it is. A record with errors stops the notebook with the sentence that says how to mend it.
 *
 * @param name  a folder of data/records, or a path; default the environment's
 */
export async function openRecord(
  name: string = recordHere(),
): Promise<{ yours: Mirror; demo: Mirror }> {
  const demo = await openMirror(`${recordsFolder}/${demoName}`);
  const folder = recordFolder(name);
  const yours = await files().realPath(folder).catch(() => folder) === demo.record.folder
    ? demo
    : await openMirror(folder, files().setting("today"));
  return { yours, demo };
}

/**
 * A table of the reader's own record as a polars frame, for any cell: the file's columns by their names, in mm and degrees,
 * then `date`, `after_min`, `note` and `line`. A table without rows gives a frame without rows.
 *
 * @param table    which of the record's tables
 * @param mirrors  whose: the first of these that has a row in it; default the record that the environment names
 * @throws {RecordRefused} with every refusal found
 * @example the widest scatter of an opening among repeated readings
 * ```ts
 * import assert from "node:assert/strict";
 * import pl from "nodejs-polars";
 * const frame = await readings("zones", (await openRecord()).demo);
 * const scatter = frame.groupBy("date", "angle_deg", "knife_deg", "inner_mm").agg(pl.col("reading_mm").std());
 * assert.equal(scatter.getColumn("reading_mm").max().toFixed(1), "0.1");
 * ```
 */
export async function readings(table: TableName, ...mirrors: Mirror[]): Promise<DataFrame> {
  const records = mirrors.map(({ record }) => record);
  const record = records.find((one) => one[table].length > 0) ?? records[0] ??
    await readRecord(recordFolder(recordHere()), files().setting("today"));
  return await tableFrame(record, table);
}
