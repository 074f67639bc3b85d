/**
 * Notebooks that ran to their end in a build that did not: kept beside no book, and used by the next try.
 *
 * A notebook is used again only where nothing it could see has changed: its own text, the record's files, the library and
 * its tables, the Deno that ran it, the day. What was kept is taken away when a book stands, and after three days.
 */
import { createHash } from "node:crypto";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Notebook, notebookText, parseNotebook } from "./notebook.ts";
import type { RunResult } from "./runner.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));
/** Where they are kept: in the kit's own folder of books, so that nothing is left where a maker works. */
const PLACE = join(root, "book", ".kept");
const DAYS = 3;
/** Folders in which nothing lies that a notebook reads. */
const UNREAD = /^(\..*|notebooks|node_modules|pictures)$/;

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

function digest(...texts: readonly string[]): string {
  const hash = createHash("sha256");
  for (const text of texts) hash.update(text).update("\0");
  return hash.digest("hex").slice(0, 24);
}

/** The notebooks kept for one record as it stands now. */
export class Kept {
  private constructor(private readonly folder: string) {}

  /**
   * @param record  folder of the record that the notebooks are about
   * @param day     the day on which they run, as ISO date
   */
  static async of(record: string, day: string): Promise<Kept> {
    const looks = await Promise.all(
      [record, join(root, "lib"), join(root, "data")].map(looksOf),
    );
    const config = await Promise.all(
      ["deno.json", "deno.lock"].map((name) => Deno.readTextFile(join(root, name)).catch(() => "")),
    );
    const engine = JSON.stringify([Deno.version, Deno.build.target]);
    await dropOld();
    return new Kept(join(PLACE, digest(record, day, engine, ...config, ...looks.flat())));
  }

  /** A notebook that ran well before, as it came out then; nothing where there is none. */
  async find(path: string, notebook: Notebook): Promise<RunResult | undefined> {
    const file = this.#file(path, notebook);
    try {
      const executed = parseNotebook(await Deno.readTextFile(file), file);
      return { path, notebook: executed, failures: [], seconds: 0 };
    } catch {
      return undefined;
    }
  }

  /** Keeps a notebook that ran well; where nothing can be written none is kept. */
  async keep(before: Notebook, { path, notebook, failures }: RunResult): Promise<void> {
    if (failures.length > 0) return;
    const file = this.#file(path, before), part = `${file}.${Deno.pid}.part`;
    try {
      await Deno.mkdir(this.folder, { recursive: true });
      await Deno.writeTextFile(part, notebookText(notebook, path));
      await Deno.rename(part, file);
    } catch {
      await Deno.remove(part).catch(() => {});
    }
  }

  /** Takes all of it away: the book stands. */
  async drop(): Promise<void> {
    await Deno.remove(this.folder, { recursive: true }).catch(() => {});
  }

  #file(path: string, notebook: Notebook): string {
    return join(
      this.folder,
      `${basename(path, ".ipynb")}-${digest(JSON.stringify(notebook))}.ipynb`,
    );
  }
}

async function dropOld(): Promise<void> {
  const before = Date.now() - DAYS * 86_400_000;
  for (const { name } of await Array.fromAsync(Deno.readDir(PLACE)).catch(() => [])) {
    const path = join(PLACE, name),
      { mtime } = await Deno.stat(path).catch(() => ({ mtime: null }));
    if ((mtime?.getTime() ?? Date.now()) > before) continue;
    await Deno.remove(path, { recursive: true }).catch(() => {});
  }
}
