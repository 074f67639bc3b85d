/** A folder of records as a class: every mirror in one row; a record that cannot be read is said, never fatal. */
import { availableParallelism } from "node:os";
import { basename, join } from "node:path";
import { bevelSlip, type ClassRow } from "./classRow.ts";
import { readMember } from "./classMember.ts";
import { TABLES } from "./schema.ts";
import { median } from "../numeric/lines.ts";

/** A record that was refused, with its first sentences. */
export interface Unreadable {
  readonly record: string;
  /** how to mend it, each a sentence; the first few */
  readonly why: readonly string[];
  readonly refusals: number;
}

/** A class: its rows in the order of the folders' names. */
export interface ClassOfRecords {
  /** name of the folder */
  readonly name: string;
  readonly rows: readonly ClassRow[];
  readonly unreadable: readonly Unreadable[];
  /** the latest day that any record tells of, ISO: idle days are counted back from it */
  readonly today?: string;
}

/** What reading one record came to. */
export type Member = { readonly row: ClassRow } | { readonly unreadable: Unreadable };

/** How a class is read. */
export interface ClassOptions {
  /** folders left out, by name */
  readonly without?: readonly string[];
  /** ISO day that idle days are counted back from; default the latest day of any record */
  readonly today?: string;
  /** processes reading side by side; default two where there are two cores and many records */
  readonly workers?: number;
}

/** From so many records on, a second reader is worth its start. */
const manyRecords = 60;

const tables = new Set(TABLES.map((table) => `${table}.csv`));

/** Does a folder look like a record: mirror.yaml, or a table that lacks it? */
async function looksLikeRecord(folder: string): Promise<boolean> {
  for await (const { name } of Deno.readDir(folder)) {
    if (name === "mirror.yaml" || tables.has(name)) return true;
  }
  return false;
}

/**
 * Names of the records in a folder, sorted, numbers by their value; links and other folders are passed over.
 *
 * @param folder  a path
 */
export async function recordsIn(folder: string): Promise<string[]> {
  const names: string[] = [];
  for await (const { name, isDirectory } of Deno.readDir(folder)) {
    if (isDirectory && !name.startsWith(".") && await looksLikeRecord(join(folder, name))) {
      names.push(name);
    }
  }
  return names.sort(new Intl.Collator("en", { numeric: true }).compare);
}

/**
 * Whether a folder is a class: no mirror.yaml of its own, and at least one record in it.
 *
 * @param folder  a path; one that is not there is no class
 */
export async function isClass(folder: string): Promise<boolean> {
  try {
    await Deno.lstat(join(folder, "mirror.yaml"));
    return false;
  } catch {
    return (await recordsIn(folder).catch(() => [])).length > 0;
  }
}

/**
 * Reads every record of a folder.
 *
 * Photographs are left out: each takes about a second, and `deno task check` of the one record reads them.
 *
 * @param folder   a path whose folders are records
 * @param options  which to leave out, which day is today, how many readers
 * @throws {Error} where the folder cannot be listed
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { join } from "node:path";
 * import { recordsFolder } from "./open.ts";
 * const { rows, unreadable } = await openClass(join(recordsFolder, "class-kestrel-lane"));
 * assert.deepEqual([rows.length, unreadable.length], [12, 0]);
 * ```
 */
export async function openClass(
  folder: string,
  options: ClassOptions = {},
): Promise<ClassOfRecords> {
  const out = new Set(options.without ?? []);
  const names = (await recordsIn(folder)).filter((name) => !out.has(name));
  const folders = names.map((name) => join(folder, name));
  const cores = Math.min(2, availableParallelism());
  const readers = options.workers ?? (names.length >= manyRecords ? cores : 1);
  const members = readers > 1 ? await sideBySide(folders, readers) : await inTurn(folders);
  const rows = members.flatMap((member) => "row" in member ? [member.row] : []);
  const unreadable = members.flatMap((m) => "unreadable" in m ? [m.unreadable] : []);
  const today = options.today ?? latest(rows);
  return {
    name: basename(await Deno.realPath(folder)),
    rows: withSlips(rows),
    unreadable,
    ...(today === undefined ? {} : { today }),
  };
}

async function inTurn(folders: readonly string[]): Promise<Member[]> {
  const members: Member[] = [];
  for (const folder of folders) members.push(await readMember(folder));
  return members;
}

/** Readers in threads of their own, each taking the next record when it has done one. */
async function sideBySide(folders: readonly string[], readers: number): Promise<Member[]> {
  const members: Member[] = new Array(folders.length);
  let next = 0;
  const read = (): Promise<void> =>
    new Promise((done, fail) => {
      const worker = new Worker(new URL("./classWorker.ts", import.meta.url), { type: "module" });
      let at = -1;
      const give = (): void => {
        at = next++;
        const folder = folders[at];
        if (folder === undefined) {
          worker.terminate();
          done();
        } else worker.postMessage(folder);
      };
      worker.onmessage = ({ data }: MessageEvent<Member | "ready">): void => {
        if (data !== "ready") members[at] = data;
        give();
      };
      worker.onerror = (event): void => {
        event.preventDefault();
        worker.terminate();
        fail(new Error(`reading ${folders[at] ?? "a class"} failed: ${event.message}`));
      };
    });
  await Promise.all(Array.from({ length: Math.min(readers, folders.length) }, read));
  return members;
}

function latest(rows: readonly ClassRow[]): string | undefined {
  return rows.reduce<string | undefined>(
    (last, { lastDay }) => lastDay !== undefined && lastDay > (last ?? "") ? lastDay : last,
    undefined,
  );
}

/** The slip that only the class gives away: a bevel left at 0 where the others' discs have one. */
function withSlips(rows: readonly ClassRow[]): ClassRow[] {
  const bevels = rows.map(({ bevel }) => bevel).filter((bevel) => bevel > 0);
  const usual = bevels.length > 0 ? median(bevels) : 0;
  return rows.map((row) => {
    if (row.slip !== undefined) return row;
    const found = bevelSlip(row.focalBy, { aperture: row.aperture, bevel: row.bevel || usual });
    return found === undefined ? row : { ...row, slip: found };
  });
}
