/** A folder of records as a class: every mirror in one row; a record that cannot be read is said, never fatal. */
import { median } from "../numeric/quantiles.ts";
import { rememberedOf } from "../numeric/remembered.ts";
import { clean } from "../record/clean.ts";
import { describe, RecordRefused } from "../record/errors.ts";
import { files, lastName } from "../record/fileSystem.ts";
import { LARGEST } from "../record/files.ts";
import { dayNow, type LeftOut, longAgo, readRecord } from "../record/readRecord.ts";
import { TABLES } from "../record/schema.ts";
import { bevelSlip, type ClassRow, classRow } from "./classRow.ts";
import { summarize } from "./summary.ts";

/** A record that was refused, with its first sentences. */
export interface Unreadable {
  /** name of its folder */
  readonly record: string;
  /** how to mend it, each a sentence; the first few */
  readonly why: readonly string[];
  /** how many there are in all */
  readonly refusals: number;
  /** what the files say that can be read, where mirror.yaml is one of them */
  readonly rest?: ClassRow;
  /** set where not the record is wrong but the kit: what was thrown */
  readonly fault?: Fault;
}

/** A fault of the program, as data. */
export interface Fault {
  /** name of the error's class */
  readonly name: string;
  /** what it says */
  readonly message: string;
  /** where it was thrown */
  readonly stack: string;
}

/** A folder beside the records that holds none. */
export interface OtherFolder {
  /** its name */
  readonly folder: string;
  /** in a few words */
  readonly what: string;
}

/** A class: its rows in the order of the folders' names. */
export interface ClassOfRecords {
  /** name of the folder */
  readonly name: string;
  /** mirrors whose record was read */
  readonly rows: readonly ClassRow[];
  /** records that were refused */
  readonly unreadable: readonly Unreadable[];
  /** folders in it that hold no record, so that every folder is named; absent where there is none */
  readonly others?: readonly OtherFolder[];
  /** the latest day that any record tells of, ISO: idle days are counted back from it */
  readonly today?: string;
}

/** What reading one record came to. */
export type Member = { readonly row: ClassRow } | { readonly unreadable: Unreadable };

/** How a class is read. */
export interface ClassOptions {
  /** folders left out, by name */
  readonly without?: readonly string[];
  /** ISO day that idle days are counted back from, and after which a record tells of none; default the latest day of any record */
  readonly today?: string;
  /** processes reading side by side; default two where there are two cores and many records */
  readonly workers?: number;
}

/** From so many records on, a second reader is worth its start. */
const manyRecords = 60;

/** What is said of a folder without a file in it. */
export const EMPTY = "empty";

const tables = new Set(TABLES.map((table) => `${table}.csv`));

/** What a folder is: a record (mirror.yaml, or a table that lacks it; also one that may not be looked into), or what else. */
async function kindOf(folder: string, isLink: boolean): Promise<"record" | OtherFolder["what"]> {
  if (isLink) return "a link, which is not followed";
  let isEmpty = true;
  try {
    for await (const { name } of files().list(folder)) {
      if (name === "mirror.yaml" || tables.has(name)) return "record";
      isEmpty = false;
    }
  } catch {
    return "record"; // reading it says why it cannot be read
  }
  return isEmpty ? EMPTY : "no mirror.yaml and no table in it";
}

/**
 * Every folder in a class, in the order of the names, numbers by their value; hidden ones and plain files are passed over.
 *
 * @param folder  a path
 * @returns "record", or what else it is in a few words
 */
export async function foldersIn(folder: string): Promise<{ name: string; kind: string }[]> {
  const found: { name: string; kind: string }[] = [];
  for await (const { name, isFolder, isLink } of files().list(folder)) {
    if (name.startsWith(".")) continue;
    const path = `${folder}/${name}`;
    const leadsToFolder = isLink &&
      await files().info(path).then((to) => to.isFolder, () => false);
    if (isFolder || leadsToFolder) found.push({ name, kind: await kindOf(path, isLink) });
  }
  const { compare } = new Intl.Collator("en", { numeric: true });
  return found.sort((a, b) => compare(a.name, b.name));
}

/**
 * Names of the records in a folder, sorted, numbers by their value; links and other folders are passed over.
 *
 * @param folder  a path
 */
export async function recordsIn(folder: string): Promise<string[]> {
  return (await foldersIn(folder)).flatMap(({ name, kind }) => kind === "record" ? [name] : []);
}

/**
 * Whether a folder is a class: no mirror.yaml of its own, and at least one record in it.
 *
 * @param folder  a path; one that is not there is no class
 */
export async function isClass(folder: string): Promise<boolean> {
  if (await files().isThere(`${folder}/mirror.yaml`)) return false;
  return (await recordsIn(folder).catch(() => [])).length > 0;
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
  const all = (await foldersIn(folder)).filter(({ name }) => !out.has(name));
  const names = all.flatMap(({ name, kind }) => kind === "record" ? [name] : []);
  const others = all.flatMap(({ name, kind }) =>
    kind === "record" ? [] : [{ folder: clean(name), what: kind }]
  );
  const folders = names.map((name) => `${folder}/${name}`);
  const readers = options.workers ?? (names.length >= manyRecords ? files().readers : 1);
  const members = readers > 1
    ? await sideBySide(folders, readers, options.today)
    : await inTurn(folders, options.today);
  const rows = members.flatMap((member) => "row" in member ? [member.row] : []);
  const unreadable = members.flatMap((m) => "unreadable" in m ? [m.unreadable] : []);
  const today = options.today ?? latest(rows);
  return {
    name: clean(lastName(await files().realPath(folder))),
    rows: withSlips(rows),
    unreadable,
    ...(others.length === 0 ? {} : { others }),
    ...(today === undefined ? {} : { today }),
  };
}

async function inTurn(folders: readonly string[], today?: string): Promise<Member[]> {
  const members: Member[] = [];
  for (const folder of folders) members.push(await readMember(folder, today));
  return members;
}

/** Readers in threads of their own, each taking the next record when it has done one. */
async function sideBySide(
  folders: readonly string[],
  readers: number,
  today?: string,
): Promise<Member[]> {
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
        } else worker.postMessage({ folder, today });
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
export function withSlips(rows: readonly ClassRow[]): ClassRow[] {
  const bevels = rows.map(({ bevel }) => bevel).filter((bevel) => bevel > 0);
  const usual = bevels.length > 0 ? median(bevels) : 0;
  return rows.map((row) => {
    if (row.slip !== undefined) return row;
    const found = bevelSlip(row.focalBy, { aperture: row.aperture, bevel: row.bevel || usual });
    return found === undefined ? row : { ...row, slip: found };
  });
}

/** Refusals told of one record; `check` of the record tells all. */
const told = 3;

/** What is told of a record that the program itself fails at. */
const FAULT = "the kit has a fault here; the record is not to blame";

function faultOf(error: unknown): Fault {
  const { name, message, stack = "" } = error instanceof Error ? error : new Error(String(error));
  return { name, message, stack };
}

/** A record's row, and the first day that the record tells of: what it says of days, it says on a day between. */
export interface DatedRow {
  readonly row: ClassRow;
  readonly firstDay?: string;
}

/**
 * A record's row, wherever the record lies: as it was kept where its files are the same, or worked out.
 *
 * @throws {RecordRefused} with every refusal found
 */
export async function datedRow(
  folder: string,
  today: string = dayNow(),
  leave: LeftOut = {},
): Promise<DatedRow> {
  return await rememberedOf(
    "datedRow",
    () => rowInputs(folder, leave),
    async () => {
      const record = await readRecord(folder, today, undefined, leave);
      const days = TABLES.flatMap((table) => record[table].flatMap(({ date }) => date ?? []));
      const firstDay = days.sort()[0], row = classRow(record, summarize(record));
      return { row, ...(firstDay === undefined ? {} : { firstDay }) };
    },
    ({ row: { lastDay = "" }, firstDay }) =>
      lastDay <= today && (firstDay === undefined || firstDay >= longAgo(today)),
  );
}

/**
 * All that a row depends on but the day, as text; `undefined` where more lies in the folder than settings and tables, such as
 * photographs.
 */
export async function rowInputs(
  folder: string,
  { photos = false, tables: without }: LeftOut = {},
): Promise<string | undefined> {
  if (without !== undefined) return undefined;
  const found: [string, string][] = [];
  try {
    for await (const { name, isFolder, isLink } of files().list(folder)) {
      const path = `${folder}/${name}`;
      if (isFolder || isLink || name !== "mirror.yaml" && !tables.has(name)) return undefined;
      if ((await files().info(path)).size > LARGEST.settings) return undefined;
      // byte for byte: a text with a mark before it is another file
      const bytes = await files().read(path);
      found.push([name, new TextDecoder("latin1").decode(bytes)]);
    }
    const name = lastName(await files().realPath(folder));
    return JSON.stringify([name, photos, found.sort(([a], [b]) => a < b ? -1 : 1)]);
  } catch {
    return undefined; // reading it says why
  }
}

/**
 * Reads a record's folder; whatever is wrong with it becomes a sentence.
 *
 * @param leave  what is not looked at; photographs are in no case reduced
 */
export async function readMember(
  folder: string,
  today?: string,
  leave: LeftOut = {},
): Promise<Member> {
  try {
    return { row: (await datedRow(folder, today, leave)).row };
  } catch (error) {
    const record = clean(lastName(folder));
    if (!(error instanceof RecordRefused)) {
      return { unreadable: { record, why: [FAULT], refusals: 1, fault: faultOf(error) } };
    }
    const why = error.refusals.map(describe), rest = await restOf(folder, error, today);
    return {
      unreadable: {
        ...{ record, why: why.slice(0, told), refusals: why.length },
        ...(rest === undefined ? {} : { rest }),
      },
    };
  }
}

/** What a record says without the tables that were refused; nothing where mirror.yaml is refused too, or nothing is left. */
async function restOf(
  folder: string,
  { refusals }: RecordRefused,
  today?: string,
): Promise<ClassRow | undefined> {
  const refused = new Set(refusals.map(({ file }) => file));
  if ([...refused].some((file) => !tables.has(file))) return undefined;
  try {
    const record = await readRecord(folder, today, undefined, { tables: refused, photos: true });
    return classRow(record, summarize(record));
  } catch {
    return undefined;
  }
}
