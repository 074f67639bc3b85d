/**
 * What the last build of a book gave, cell by cell, and what its long computations came to: so that the next runs only what
 * has changed.
 *
 * A cell's outputs are used again where its stamp is the same: its own text, that of all cells it rests on and, where one of
 * these reads the record, the record's files and those beside it. A computation's result is used again for the same inputs.
 * Both hold for the code as it stands: another library, table, package or Deno begins anew, and so does another day.
 */
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { deserialize, serialize } from "node:v8";
import type { ThreadCell } from "./notebookThread.ts";
import { digest, Results } from "./results.ts";

const root = fileURLToPath(new URL("../../", import.meta.url)).replace(/[\\/]$/, "");
/** Where they are kept: in the kit's own folder of books, so that nothing is left where a maker works. */
const PLACE = join(root, "book", ".kept");
const DAYS = 14;
/** Results of more bytes are not kept but for those of the last build: a long winter of readings makes no heap. */
const MOST_KEPT = 8e6;
/** Folders in which nothing lies that a notebook reads. */
const UNREAD = /^(\..*|notebooks|node_modules|pictures)$/;
/** The form in which it is kept. */
const FORM = "1";

/** Names, sizes and times of all files in a folder, in order. */
async function looksOf(folder: string): Promise<readonly string[]> {
  const entries = await Array.fromAsync(Deno.readDir(folder)).catch(() => []);
  const looks = await Promise.all(entries.map(async ({ name, isDirectory }) => {
    if (UNREAD.test(name)) return [];
    const path = join(folder, name);
    if (isDirectory) return await looksOf(path);
    const stat = await Deno.stat(path).catch(() => undefined);
    return [`${path} ${stat?.size} ${stat?.mtime?.getTime()}`];
  }));
  return looks.flat().sort();
}

/** A record and those that lie beside it, which a class is made of. */
async function looksOfRecord(record: string): Promise<readonly string[]> {
  const above = dirname(record);
  const entries = await Array.fromAsync(Deno.readDir(above)).catch(() => []);
  const isRecord = (name: string): Promise<boolean> =>
    Deno.stat(join(above, name, "mirror.yaml")).then(({ isFile }) => isFile, () => false);
  const folders = await Promise.all(
    entries.filter(({ isDirectory }) => isDirectory).map(async ({ name }) =>
      await isRecord(name) ? [join(above, name)] : []
    ),
  );
  const all = [...new Set([record, ...folders.flat()])].sort();
  return (await Promise.all(all.map(looksOf))).flat();
}

async function read(file: string): Promise<unknown> {
  try {
    return deserialize(await Deno.readFile(file));
  } catch {
    return undefined; // not there, or not whole: then it is worked out anew
  }
}

/** Writes a file whole or not at all; where nothing can be written nothing is kept. */
async function write(file: string, value: unknown): Promise<void> {
  const part = `${file}.${Deno.pid}.part`;
  try {
    await Deno.mkdir(dirname(file), { recursive: true });
    await Deno.writeFile(part, serialize(value));
    await Deno.rename(part, file);
  } catch {
    await Deno.remove(part).catch(() => {});
  }
}

/** What is kept for one record as it stands now. */
export class Kept {
  private constructor(
    private readonly code: string,
    private readonly cells: string,
    /** a mark of the record's files and of those beside it */
    readonly record: string,
    /** of the code as it stands */
    readonly results: Results,
    /** whether the last build was of the same code, record and day: then cells have hardly changed */
    readonly isAsLast: boolean,
  ) {}

  /**
   * @param record   folder of the record that the notebooks are about
   * @param day      the day on which they run, as ISO date
   * @param edition  of the book, each by itself
   */
  static async of(record: string, day: string, edition = "leader"): Promise<Kept> {
    const looks = await Promise.all([join(root, "lib"), join(root, "data")].map(looksOf));
    const config = await Promise.all(
      ["deno.json", "deno.lock"].map((name) => Deno.readTextFile(join(root, name)).catch(() => "")),
    );
    const engine = JSON.stringify([FORM, Deno.version, Deno.build.target]);
    const code = join(PLACE, digest(engine, ...config, ...looks.flat()));
    await dropOld(code);
    const known = await read(join(code, "results")), cells = join(code, digest(record, edition));
    const mark = digest(day, ...await looksOfRecord(record));
    return new Kept(
      code,
      cells,
      mark,
      new Results(known instanceof Map ? known as Map<string, Uint8Array> : undefined),
      await read(join(cells, "last")) === mark,
    );
  }

  /** What a notebook's cells gave last, by their stamps. */
  async cellsOf(name: string): Promise<ReadonlyMap<string, ThreadCell>> {
    const kept = await read(join(this.cells, name));
    return kept instanceof Map ? kept as Map<string, ThreadCell> : new Map();
  }

  /** Keeps what a notebook's cells gave, by their stamps. */
  async keepCells(name: string, cells: ReadonlyMap<string, ThreadCell>): Promise<void> {
    await write(join(this.cells, name), cells);
  }

  /** Keeps what was worked out. */
  async keepResults(): Promise<void> {
    if (!this.isAsLast) await write(join(this.cells, "last"), this.record);
    if (this.results.added.size === 0) return;
    await write(join(this.code, "results"), this.results.all(MOST_KEPT));
  }
}

/** Takes away what was kept for other code, once it is old. */
async function dropOld(but: string): Promise<void> {
  const before = Date.now() - DAYS * 86_400_000;
  for (const { name } of await Array.fromAsync(Deno.readDir(PLACE)).catch(() => [])) {
    const path = join(PLACE, name);
    const { mtime } = await Deno.stat(path).catch(() => ({ mtime: null }));
    if (path === but || (mtime?.getTime() ?? Date.now()) > before) continue;
    await Deno.remove(path, { recursive: true }).catch(() => {});
  }
}
