/**
 * A reader's record in a page's thread: the files that the page carries, with the readings laid on them that are kept in the
 * browser, judged and told as `check` would.
 */
import { type FieldRefusal, judgeRows, type TypedRow } from "../forms/judgeRows.ts";
import { type TableForm, tableForm } from "../forms/tableForm.ts";
import { toldInInches, type ToldRecord, toldRecord } from "../forms/toldRecord.ts";
import { summarize } from "../knowledge/summary.ts";
import { splitTable } from "../record/csv.ts";
import { describe, Findings, RecordRefused } from "../record/errors.ts";
import { decodeText, encodingOf } from "../record/files.ts";
import { files } from "../record/fileSystem.ts";
import type { MemoryFile } from "../record/memoryFiles.ts";
import { type DecodedPhoto, photoOf, photoRows } from "../record/readPhoto.ts";
import { dayNow, readRecord } from "../record/readRecord.ts";
import { type TableName, TABLES } from "../record/schema.ts";
import type { MirrorRecord } from "../record/types.ts";

/** A row that was typed in a page. */
export interface KeptRow {
  /** its own, for ever */
  readonly id: string;
  readonly table: TableName;
  readonly cells: TypedRow;
}

/** How a kept row stands to the record. */
export type Mark =
  /** the record's own table has it, cell by cell: it is that row */
  | { readonly is: "in the record" }
  /** laid on the record by this page, at this line of the file */
  | { readonly is: "kept here"; readonly line: number }
  /** kept, and not laid on: why */
  | { readonly is: "refused" | "waits"; readonly why: string };

/** The record with the kept rows laid on it. */
export interface Laid {
  readonly marks: ReadonlyMap<string, Mark>;
  /** the tables that the kept rows changed, by their names in the folder, whole */
  readonly changed: ReadonlyMap<string, MemoryFile>;
}

/** The page's record and what is laid on it. */
export class HeldRecord {
  readonly #files: Map<string, MemoryFile>;
  /** texts of the record as the page or its reader gave them, by their paths */
  #base: ReadonlyMap<string, MemoryFile>;
  #record: MirrorRecord | undefined;
  readonly #decoded = new WeakMap<object, DecodedPhoto>();

  /**
   * @param all     the files that the library reads from: `readFromPage` has the same map
   * @param folder  path of the reader's record in it
   * @param today   ISO day; default the clock's, asked anew each time
   */
  constructor(
    all: Map<string, MemoryFile>,
    readonly folder: string,
    private readonly today?: string,
  ) {
    this.#files = all;
    this.#base = new Map([...all].filter(([path]) => path.startsWith(`${folder}/`)));
  }

  get #day(): string {
    return this.today ?? dayNow();
  }

  /** The record as it is now; its photographs are not decoded. */
  async record(): Promise<MirrorRecord> {
    return this.#record ??= await readRecord(this.folder, this.today, undefined, { photos: true });
  }

  #put(file: string, content: MemoryFile): void {
    this.#files.set(`${this.folder}/${file}`, content);
  }

  async #textOf(file: string): Promise<string | undefined> {
    const path = `${this.folder}/${file}`;
    if (!await files().isThere(path)) return undefined;
    return decodeText(await files().read(path), file, new Findings());
  }

  /** A table's form as it is now. */
  async form(table: TableName): Promise<TableForm> {
    return tableForm(table, await this.#textOf(`${table}.csv`), await this.record(), this.#day);
  }

  /** What is wrong with a row that is being typed; nothing where it could be added. */
  async refusals(table: TableName, cells: TypedRow): Promise<readonly FieldRefusal[]> {
    const judged = await this.#judged(table, [cells]);
    return "refusals" in judged ? judged.refusals : [];
  }

  async #judged(
    table: TableName,
    rows: readonly TypedRow[],
  ): ReturnType<typeof judgeRows> {
    const names = (await this.form(table)).fields.map(({ name }) => name);
    // a row may have been typed when the file had other columns
    const all = [
      ...new Set([
        ...names,
        ...rows.flatMap((row) => Object.keys(row).filter((name) => row[name] !== "")),
      ]),
    ];
    return await judgeRows(this.folder, table, rows, all, await this.record(), this.#day);
  }

  /** Lays the kept rows on the record as it was given, in their order. */
  async lay(rows: readonly KeptRow[]): Promise<Laid> {
    for (const path of [...this.#files.keys()]) {
      if (path.startsWith(`${this.folder}/`) && !this.#base.has(path)) this.#files.delete(path);
    }
    for (const [path, file] of this.#base) this.#files.set(path, file);
    this.#record = undefined;
    const marks = new Map<string, Mark>(), changed = new Map<string, MemoryFile>();
    for (const table of TABLES) {
      const own = rows.filter((row) => row.table === table);
      if (own.length === 0) continue;
      const file = `${table}.csv`, path = `${this.folder}/${file}`;
      const before = this.#files.get(path);
      await this.#layTable(table, own, marks);
      const after = this.#files.get(path);
      if (after !== undefined && after !== before) changed.set(file, after);
    }
    return { marks, changed };
  }

  async #layTable(
    table: TableName,
    own: readonly KeptRow[],
    marks: Map<string, Mark>,
  ): Promise<void> {
    const left: KeptRow[] = [], there = rowsIn(await this.#textOf(`${table}.csv`), `${table}.csv`);
    for (const row of own) {
      const at = there.findIndex((cells) => isSame(row.cells, cells));
      if (at < 0) left.push(row);
      else {
        there.splice(at, 1); // two kept rows alike are two rows of the record
        marks.set(row.id, { is: "in the record" });
      }
    }
    // all at once, which is one reading of the record; one by one where they do not go together
    if (left.length > 1 && await this.#take(table, left, marks)) return;
    let waiting: KeptRow[] = [];
    for (const row of left) {
      const now = [...waiting, row];
      waiting = await this.#take(table, now, marks)
        ? []
        : marks.get(row.id)?.is === "waits"
        ? now
        : waiting;
    }
  }

  async #take(
    table: TableName,
    rows: readonly KeptRow[],
    marks: Map<string, Mark>,
  ): Promise<boolean> {
    const judged = await this.#judged(table, rows.map(({ cells }) => cells));
    if ("taken" in judged) {
      this.#put(`${table}.csv`, asText(judged.taken.bytes));
      this.#record = judged.taken.record;
      rows.forEach(({ id }, at) =>
        marks.set(id, { is: "kept here", line: judged.taken.lines[at] ?? 0 })
      );
      return true;
    }
    const last = rows.at(-1)?.id ?? "";
    if ("waits" in judged) {
      for (const { id } of rows) marks.set(id, { is: "waits", why: judged.waits });
    } else marks.set(last, { is: "refused", why: judged.refusals[0]?.sentence ?? "" });
    return false;
  }

  /**
   * What is told of the record as it is now.
   *
   * @param table       whose numbers
   * @param withPhotos  the photographs are reduced too, which takes a second
   */
  async told(table: TableName | undefined, withPhotos: boolean): Promise<ToldRecord> {
    const record = await this.record();
    const photos = new Map<string, DecodedPhoto>();
    for (const row of withPhotos ? photoRows(record) : []) {
      const { photo } = row;
      const file = this.#files.get(`${this.folder}/${photo}`);
      if (file === undefined || photos.has(photo)) continue;
      const known = typeof file === "object" ? this.#decoded.get(file) : undefined;
      const decoded = known ?? await photoOf(row, await files().read(`${this.folder}/${photo}`));
      if (typeof file === "object") this.#decoded.set(file, decoded);
      photos.set(photo, decoded);
    }
    const told = toldRecord(summarize(record, photos), table);
    return record.settings.shownIn === "inch" ? toldInInches(told) : told;
  }

  /** A photograph beside the record's own, so that a row can name it. */
  addPhoto(path: string, picture: Blob): void {
    const base = new Map(this.#base);
    base.set(`${this.folder}/${path}`, picture);
    this.#base = base;
    this.#put(path, picture);
  }

  /**
   * Takes another record in place of this one, if it can be read.
   *
   * @param given  its files by their names in the folder
   * @returns what is wrong with it, sentence by sentence; then this record stays
   */
  async take(given: ReadonlyMap<string, MemoryFile>): Promise<readonly string[]> {
    const base = this.#base, now = new Map(this.#files), known = this.#record;
    for (const path of now.keys()) if (path.startsWith(`${this.folder}/`)) this.#files.delete(path);
    for (const [file, content] of given) this.#put(file, content);
    try {
      this.#record = await readRecord(this.folder, this.today);
      this.#base = new Map([...this.#files].filter(([path]) => path.startsWith(`${this.folder}/`)));
      return [];
    } catch (error) {
      this.#files.clear();
      for (const [path, file] of now) this.#files.set(path, file);
      this.#base = base;
      this.#record = known;
      if (error instanceof RecordRefused) return error.refusals.map(describe);
      throw error;
    }
  }
}

/** A file as text where it is UTF-8, its byte order mark kept; other bytes stay as they are. */
function asText(bytes: Uint8Array<ArrayBuffer>): MemoryFile {
  return encodingOf(bytes) === "utf-8"
    ? new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes)
    : bytes;
}

/** Rows of a table, each by the names of its columns. */
function rowsIn(text: string | undefined, file: string): Readonly<Record<string, string>>[] {
  const csv = text === undefined ? undefined : splitTable(text, file, new Findings());
  return csv?.rows.map(({ cells }) =>
    Object.fromEntries(csv.header.cells.map((name, at) => [name.trim(), (cells[at] ?? "").trim()]))
  ) ?? [];
}

/** Whether a typed row says what a row of the file says, cell by cell; a decimal comma is as good as a point. */
function isSame(typed: TypedRow, row: Readonly<Record<string, string>>): boolean {
  const names = new Set([...Object.keys(typed), ...Object.keys(row)]);
  return [...names].every((name) => plain(typed[name]) === plain(row[name]));
}

function plain(cell = ""): string {
  return cell.trim().split("+").map((part) => {
    const number = part.trim().replace(",", ".").replace("−", "-");
    return number !== "" && Number.isFinite(Number(number)) ? String(Number(number)) : part.trim();
  }).join("+");
}
