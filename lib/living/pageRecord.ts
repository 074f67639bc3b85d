/// <reference lib="dom" />
/**
 * The record of a page: its files, with the readings laid on them that are kept in the browser, a record that was put in, and
 * photographs that were taken. Everything else of the page reads the files from here.
 */
import type { ToldRecord } from "../forms/toldRecord.ts";
import type { MemoryFile } from "../record/memoryFiles.ts";
import { type TableName, TABLES } from "../record/schema.ts";
import type { HeldAsked } from "./heldThread.ts";
import type { HeldClient } from "./heldClient.ts";
import type { KeptRow, Laid, Mark } from "./heldRecord.ts";
import type { Kept, KeptPiece } from "./kept.ts";
import type { KeptFiles } from "./keptFiles.ts";

/** A row that was typed, with how it stands to the record. */
export interface LaidRow extends KeptRow {
  /** ISO, when it was typed */
  readonly at: string;
  readonly mark: Mark | undefined;
}

/** What the page's record is made from. */
export interface PageRecordOptions {
  /** the files that the page's cells read from; this changes those of the record */
  readonly files: Map<string, MemoryFile>;
  /** path of the record among them */
  readonly folder: string;
  readonly kept: Kept;
  readonly keptFiles: KeptFiles;
  readonly thread: Pick<HeldClient, "ask">;
  /** another, for the photographs alone: they take seconds, and no reading waits for them; begun when there are some */
  readonly behind: Pick<HeldClient, "ask" | "end">;
  /** told when the files are other ones, with a mark of them */
  readonly changed: (mark: string) => void;
}

/** The record that the page's reader sees. */
export class PageRecord {
  /** the record as the book or its reader gave it, by the names of its files */
  #base: ReadonlyMap<string, MemoryFile>;
  #laid: Laid = { marks: new Map(), changed: new Map() };
  #photos = new Set<string>();
  #version = 0;
  #laidNow = "";
  #isOther = false;
  #asked = 0;
  #reducing: Promise<unknown> = Promise.resolve();
  /** why the browser's database does not keep files */
  notKept: string | undefined;

  constructor(private readonly options: PageRecordOptions) {
    this.#base = this.#own();
  }

  #own(): ReadonlyMap<string, MemoryFile> {
    const { files, folder } = this.options, start = `${folder}/`;
    return new Map(
      [...files].flatMap(([path, file]) =>
        path.startsWith(start) ? [[path.slice(start.length), file] as const] : []
      ),
    );
  }

  /** Whether another record stands in place of the book's. */
  get isOther(): boolean {
    return this.#isOther;
  }

  /** The record's files as they are now. */
  files(): ReadonlyMap<string, MemoryFile> {
    return this.#own();
  }

  /** All files, the record's as they were before anything was typed: what its thread begins with. */
  beginning(): Map<string, MemoryFile> {
    const { files, folder } = this.options;
    const others = [...files].filter(([path]) => !path.startsWith(`${folder}/`));
    const own = [...this.#base].map(([name, file]) => [`${folder}/${name}`, file] as const);
    return new Map([...others, ...own]);
  }

  /** Names of the files that were written in the page. */
  written(): readonly string[] {
    return [...this.#laid.changed.keys(), ...this.#photos];
  }

  /** A file as it was before anything was typed. */
  before(name: string): MemoryFile | undefined {
    return this.#base.get(name);
  }

  /** Takes up what the browser keeps. @returns whether there was anything */
  async begin(): Promise<boolean> {
    try {
      const [other, photos] = await withPatience(
        Promise.all([this.options.keptFiles.record(), this.options.keptFiles.photos()]),
      );
      if (other !== undefined && (await this.#ask(other)).length === 0) this.#take(other, true);
      for (const [path, picture] of photos) {
        if (!(picture instanceof Blob) || this.#base.has(path)) continue;
        await this.#addPhoto(path, picture);
      }
    } catch (error) {
      this.notKept = String(error);
    }
    const has = this.rows().length > 0 || this.#isOther || this.#photos.size > 0;
    if (has) await this.lay();
    return has;
  }

  #mark(): string {
    return this.options.kept.of("reading").map(({ key }) => key).join();
  }

  /** Whether rows were typed or taken back, in another tab too, that are not laid on the record yet. */
  get isBehind(): boolean {
    return this.#mark() !== this.#laidNow;
  }

  /** The typed rows in their order. */
  rows(): readonly LaidRow[] {
    return this.options.kept.of("reading").flatMap((piece) => rowOf(piece) ?? [])
      .map((row) => ({ ...row, mark: this.#laid.marks.get(row.id) }));
  }

  /** Keeps a row; it stands in the record after `lay`. */
  add(table: TableName, cells: Readonly<Record<string, string>>): void {
    this.options.kept.set("reading", table, newId(), JSON.stringify(cells));
  }

  /** Takes a row back. */
  remove({ table, id }: KeptRow): void {
    this.options.kept.set("reading", table, id, undefined);
  }

  /** Lays what is kept on the record. */
  async lay(): Promise<void> {
    this.#laidNow = this.#mark();
    this.#laid = await this.options.thread.ask(this.#laying());
    this.#put();
  }

  #laying(): Extract<HeldAsked, { ask: "lay" }> {
    return { ask: "lay", rows: this.rows().map(({ id, table, cells }) => ({ id, table, cells })) };
  }

  #put(): void {
    const { files, folder } = this.options;
    for (const path of [...files.keys()]) if (path.startsWith(`${folder}/`)) files.delete(path);
    for (const [name, file] of [...this.#base, ...this.#laid.changed]) {
      files.set(`${folder}/${name}`, file);
    }
    this.options.changed(`kept ${++this.#version}`);
  }

  /** What is told of the record as it is now, without its photographs. */
  async told(table: TableName | undefined): Promise<ToldRecord> {
    return await this.options.thread.ask(asking(table, false));
  }

  /**
   * The same with its photographs, once they are reduced: one asking after the other, and of those that wait only the latest.
   *
   * @returns nothing where a later asking, or another record, has overtaken this one
   */
  async toldWithPhotos(table: TableName | undefined): Promise<ToldRecord | undefined> {
    const asked = ++this.#asked;
    await this.#reducing;
    if (asked !== this.#asked) return undefined;
    const { behind } = this.options, base = this.#base;
    const told = behind.ask(this.#laying()).then(() => behind.ask(asking(table, true)));
    this.#reducing = told.catch(() => undefined);
    try {
      return await told;
    } catch (error) {
      if (base !== this.#base) return undefined;
      throw error;
    }
  }

  /** Whether the record has photographs, whose reduction takes a second. */
  hasPhotos(): boolean {
    return [...this.options.files.keys()].some((path) =>
      path.startsWith(`${this.options.folder}/photos/`)
    );
  }

  #ask(given: ReadonlyMap<string, MemoryFile>): Promise<readonly string[]> {
    return this.options.thread.ask({ ask: "take", given });
  }

  /** The record before anything was typed is another: who works on the last one is ended, and begins anew when asked. */
  #begun(base: ReadonlyMap<string, MemoryFile>): void {
    this.#base = base;
    this.options.behind.end("the record is another");
  }

  #take(given: ReadonlyMap<string, MemoryFile>, isOther: boolean): void {
    this.#begun(given);
    this.#isOther = isOther;
    this.#photos = new Set([...this.#photos].filter((path) => !given.has(path)));
  }

  /**
   * Takes another record, or some tables of it, if they can be read.
   *
   * @param given    by the names in the folder
   * @param isWhole  in place of all there is; else only what is given takes its place
   * @returns refusals; then nothing has changed
   */
  async putIn(
    given: ReadonlyMap<string, MemoryFile>,
    isWhole: boolean,
  ): Promise<readonly string[]> {
    const whole = isWhole ? given : new Map([...this.#base, ...given]);
    const refusals = await this.#ask(whole);
    if (refusals.length > 0) return refusals;
    this.#take(whole, true);
    await this.#keep(() => this.options.keptFiles.keepRecord(whole));
    await this.lay();
    return [];
  }

  async #keep(act: () => Promise<void>): Promise<void> {
    try {
      await act();
      this.notKept = undefined;
    } catch (error) {
      this.notKept = String(error);
    }
  }

  async #addPhoto(path: string, picture: Blob): Promise<void> {
    await this.options.thread.ask({ ask: "add photo", path, picture });
    this.#begun(new Map([...this.#base, [path, picture]]));
    this.#photos.add(path);
  }

  /** A photograph under a name of its own. @returns the name, without its folder */
  async addPhoto(picture: File): Promise<string> {
    const kind = /\.(\w{1,5})$/.exec(picture.name)?.[1]?.toLowerCase() ?? "jpg";
    const day = new Date().toISOString().slice(0, 10);
    let name = "";
    for (let n = 1; name === "" || this.#base.has(`photos/${name}`); n++) {
      name = `${day}-${n}.${kind}`;
    }
    const path = `photos/${name}`;
    await this.#addPhoto(path, picture);
    await this.#keep(() => this.options.keptFiles.keepPhoto(path, picture));
    return name;
  }
}

function asking(
  table: TableName | undefined,
  withPhotos: boolean,
): Extract<HeldAsked, { ask: "told" }> {
  return { ask: "told", withPhotos, ...(table === undefined ? {} : { table }) };
}

function rowOf({ page, key, value, at }: KeptPiece): Omit<LaidRow, "mark"> | undefined {
  const table = TABLES.find((one) => one === page);
  try {
    const cells = JSON.parse(value) as Record<string, unknown>;
    if (table === undefined || cells === null || typeof cells !== "object") return undefined;
    const texts = Object.entries(cells).filter((cell): cell is [string, string] =>
      typeof cell[1] === "string"
    );
    return { id: key, table, cells: Object.fromEntries(texts), at };
  } catch {
    return undefined;
  }
}

/** So long a page waits for the browser's database, ms: one that is held by another page may never answer. */
const PATIENCE = 3000;

function withPatience<T>(asked: Promise<T>): Promise<T> {
  return Promise.race([
    asked,
    new Promise<T>((_, failed) => setTimeout(() => failed(new Error("no answer")), PATIENCE)),
  ]);
}

/** 128 random bits, also where the browser gives no ids to a page without https. */
function newId(): string {
  return [...crypto.getRandomValues(new Uint8Array(16))]
    .map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
