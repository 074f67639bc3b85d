/** What a reader has written into a book's notebooks: found, and laid where no later build replaces it. */
import { createHash } from "node:crypto";
import { extname, join } from "node:path";

/** Beside the notebooks of a book: how each was written, so that one that was changed since is known. */
const WRITTEN = ".written.json";
/** Files of a book are written within this time of its first page, ms; for books that do not tell how they were written. */
const AT_ONCE = 60_000;

async function digestOf(path: string): Promise<string> {
  return createHash("sha256").update(await Deno.readFile(path)).digest("hex");
}

/** Files of a folder, hidden ones left out. */
async function filesIn(folder: string): Promise<readonly string[]> {
  const entries = await Array.fromAsync(Deno.readDir(folder)).catch(() => []);
  return entries.filter(({ name, isFile }) => isFile && !name.startsWith("."))
    .map(({ name }) => name).sort();
}

/** Notes how the notebooks of a book that has just been filled were written. */
export async function noteWritten(book: string): Promise<void> {
  const folder = join(book, "notebooks");
  const notes = (await filesIn(folder)).map(async (name) =>
    [name, await digestOf(join(folder, name))] as const
  );
  const text = JSON.stringify(Object.fromEntries(await Promise.all(notes)), null, 1);
  await Deno.writeTextFile(join(folder, WRITTEN), `${text}\n`);
}

/** Names of the files among a book's notebooks that a reader has changed or put there. */
export async function readersFiles(book: string): Promise<readonly string[]> {
  const folder = join(book, "notebooks"), names = await filesIn(folder);
  const text = await Deno.readTextFile(join(folder, WRITTEN)).catch(() => undefined);
  if (text === undefined) return await laterThan(join(book, "index.html"), folder, names);
  const written = JSON.parse(text) as Record<string, string>;
  const changed = await Promise.all(
    names.map(async (name) => written[name] !== await digestOf(join(folder, name)) ? [name] : []),
  );
  return changed.flat();
}

async function laterThan(
  page: string,
  folder: string,
  names: readonly string[],
): Promise<readonly string[]> {
  const timeOf = async (path: string): Promise<number> =>
    (await Deno.stat(path).catch(() => undefined))?.mtime?.getTime() ?? 0;
  const then = await timeOf(page);
  const later = await Promise.all(
    names.map(async (name) => await timeOf(join(folder, name)) > then + AT_ONCE ? [name] : []),
  );
  return later.flat();
}

/**
 * Lays the reader's files of a book into another folder, each under its name or, where that is taken, with a number.
 *
 * @returns the paths under which they are now; empty where the book holds nothing of a reader's
 */
export async function saveReadersFiles(book: string, into: string): Promise<readonly string[]> {
  const names = await readersFiles(book), saved: string[] = [];
  if (names.length > 0) await Deno.mkdir(into, { recursive: true });
  for (const name of names) {
    saved.push(await copyBeside(join(book, "notebooks", name), into, name));
  }
  return saved;
}

async function copyBeside(from: string, folder: string, name: string): Promise<string> {
  const bytes = await Deno.readFile(from), ending = extname(name);
  for (let number = 1;; number++) {
    const numbered = number === 1
      ? name
      : `${name.slice(0, name.length - ending.length)}-${number}${ending}`;
    const path = join(folder, numbered);
    try {
      await Deno.writeFile(path, bytes, { createNew: true });
      return path;
    } catch (error) {
      if (!(error instanceof Deno.errors.AlreadyExists)) throw error;
    }
  }
}
