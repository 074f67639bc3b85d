/**
 * A reader's own copies of the lessons: made once, never replaced. A lesson that has changed since is laid beside them with
 * its number, `04-measure-curve-2.ipynb`, and the reader's own stays as the reader left it.
 */
import { createHash } from "node:crypto";
import { dirname, extname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { course } from "../lessons/course.ts";
import { learnersNotebook } from "./learner.ts";
import { type Notebook, notebookText, readNotebook } from "./notebook.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));

/** The stage about many mirrors, for the leader only. */
export const leadersOwn = "compare-class";

/** The key of a notebook's metadata under which it says which lesson it is a copy of. */
const MARK = "first_mirror";

/** What was laid into a folder, by file name. */
export interface Copied {
  /** lessons that were not there */
  readonly made: readonly string[];
  /** newer lessons, beside copies of an older one */
  readonly newer: readonly string[];
}

/** Where the copies of a record's reader are. */
export function copiesOf(record: string, learner: boolean): string {
  return join(record, learner ? "learner-notebooks" : "notebooks");
}

/**
 * Lays the lessons into a folder, each that is not there yet.
 *
 * @param folder   of the reader's copies; made where it is not there
 * @param learner  whether they are the learner's: exercises without answers, nothing about a class
 * @param lessons  folder of the lessons; default the kit's own
 */
export async function layCopies(
  folder: string,
  learner: boolean,
  lessons: string = join(root, "notebooks"),
): Promise<Copied> {
  await Deno.mkdir(folder, { recursive: true });
  const made: string[] = [], newer: string[] = [];
  const there = (await Array.fromAsync(Deno.readDir(folder))).map(({ name }) => name);
  for (const { name: stage, stem } of course) {
    if (learner && stage === leadersOwn) continue;
    const stored = await readNotebook(join(lessons, `${stem}.ipynb`)).catch(() => undefined);
    if (stored === undefined) continue;
    const lesson = learner ? learnersNotebook(stored) : stored, mark = markOf(lesson);
    const own = there.filter((name) => numberOf(name, stem) > 0);
    const marks = await Promise.all(own.map((name) => markIn(join(folder, name))));
    if (marks.includes(mark)) continue;
    const number = Math.max(0, ...own.map((name) => numberOf(name, stem))) + 1;
    const name = number === 1 ? `${stem}.ipynb` : `${stem}-${number}.ipynb`;
    const marked = { ...lesson, metadata: { ...lesson.metadata, [MARK]: { lesson: mark } } };
    await writeNew(join(folder, name), notebookText(marked, name));
    (number === 1 ? made : newer).push(name);
  }
  return { made, newer };
}

/** 1 for `STEM.ipynb`, n for `STEM-n.ipynb`, 0 for any other name. */
function numberOf(name: string, stem: string): number {
  if (name === `${stem}.ipynb`) return 1;
  if (!name.startsWith(`${stem}-`)) return 0;
  return Number(/^(\d+)\.ipynb$/.exec(name.slice(stem.length + 1))?.[1] ?? 0);
}

function markOf(lesson: Notebook): string {
  return createHash("sha256").update(JSON.stringify(lesson.cells)).digest("hex").slice(0, 16);
}

/** Which lesson a file is a copy of; nothing where it does not say, or is no notebook any more. */
async function markIn(path: string): Promise<unknown> {
  try {
    const { metadata } = JSON.parse(await Deno.readTextFile(path));
    return metadata?.[MARK]?.lesson;
  } catch {
    return undefined;
  }
}

/** Writes a file that is not there; one that has come meanwhile stays. */
async function writeNew(path: string, text: string): Promise<void> {
  await Deno.writeTextFile(path, text, { createNew: true }).catch((error: unknown) => {
    if (!(error instanceof Deno.errors.AlreadyExists)) throw error;
  });
}

/**
 * Makes the kit's own names known to notebooks that lie outside its folder, by a deno.json beside them; a deno.json that is
 * the reader's own stays.
 */
export async function makeKitKnown(folder: string): Promise<void> {
  if (isWithin(folder, root)) return;
  const path = join(folder, "deno.json"), kit = pathToFileURL(root);
  const before = await Deno.readTextFile(path).catch(() => undefined);
  if (before !== undefined && !before.includes('"first-mirror/record"')) return;
  const { imports, compilerOptions } = JSON.parse(
    await Deno.readTextFile(join(root, "deno.json")),
  ) as { imports: Record<string, string>; compilerOptions: unknown };
  const known = Object.entries(imports).map(([name, at]) =>
    [name, at.startsWith("./") ? new URL(at, kit).href : at] as const
  );
  const config = {
    imports: Object.fromEntries(known),
    compilerOptions,
    nodeModulesDir: "none",
    lock: false,
  };
  await Deno.writeTextFile(path, `${JSON.stringify(config, null, 2)}\n`);
}

function isWithin(path: string, folder: string): boolean {
  for (let at = path; at !== dirname(at); at = dirname(at)) {
    if (join(at, ".") === join(folder, ".").replace(/[\\/]$/, "")) return true;
  }
  return false;
}

// What a reader has written into a book's notebooks: found, and laid where no later build replaces it.

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
