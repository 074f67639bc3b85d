/** A maker's record in, a book out: reads the record, runs the notebooks on it, writes the pages. */
import { basename, dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { observed } from "../knowledge/observed.ts";
import { demoName, openMirror, recordsFolder } from "../knowledge/open.ts";
import { course, stageNameOf } from "../lessons/course.ts";
import { rememberIn } from "../numeric/remembered.ts";
import { dayNow } from "../record/readRecord.ts";
import { Kept } from "./kept.ts";
import { type KitScripts, kitScripts } from "./library.ts";
import { learnersNotebook } from "./learner.ts";
import { readNotebook, writeNotebook } from "./notebook.ts";
import type { BookFacts } from "./pages/facts.ts";
import { failureText, type Progress, runNotebooks, type RunResult } from "./runner.ts";
import { checkPlace, OutputRefused, putWhole, tempFolder } from "./outputFolder.ts";
import { NotebookThread, runWithoutKernels } from "./withoutKernels.ts";
import { copiesOf, leadersOwn, saveReadersFiles } from "./workingCopies.ts";
import { BookWriter, BuildStopped, type Executed, writeSheets } from "./writeBook.ts";

export { BuildStopped };

const root = fileURLToPath(new URL("../../", import.meta.url));

/** What a book is built from, and where to. */
export interface BuildOptions {
  /** folder of the record */
  readonly record: string;
  /** the book's folder; default `book/NAME` in the kit's own folder */
  readonly out?: string;
  /** folder of the notebooks; default the kit's own */
  readonly notebooks?: string;
  /** runs the notebooks in Jupyter's kernels, as a reader's own copies run; default in threads of this process */
  readonly kernels?: boolean;
  /** how many notebooks run at a time; default 2 */
  readonly jobs?: number;
  readonly onProgress?: (progress: Progress) => void;
  /** the learner's edition: exercises without their answers, and no page for the leader */
  readonly edition?: "learner";
  /** ends the build: kernels are killed, the last book stays */
  readonly signal?: AbortSignal;
  /** the day on the pages; default today */
  readonly builtOn?: Date;
  /** ISO date: the day it is, where not the clock's; also on the pages */
  readonly today?: string;
}

/** A book that stands. */
export interface BuiltBook {
  readonly folder: string;
  readonly index: string;
  readonly summary: string;
  /** how many stages have a page */
  readonly stages: number;
  /** notebooks that a reader had changed in the last book, where they are now */
  readonly saved: readonly string[];
}

/** The course's notebooks in a folder, in course order. */
export async function notebooksIn(folder: string): Promise<string[]> {
  const entries = await Array.fromAsync(Deno.readDir(folder)).catch(() => {
    throw new BuildStopped(`${folder} is not a folder of notebooks.`);
  });
  const files = entries.filter(({ name, isFile }) => isFile && name.endsWith(".ipynb"))
    .map(({ name }) => name.slice(0, -".ipynb".length)).sort();
  const stems = new Set(course.map(({ stem }) => stem));
  const strange = files.find((stem) => !stems.has(stem));
  if (strange !== undefined) {
    throw new BuildStopped(
      `${join(folder, strange)}.ipynb is no stage of the course; lib/lessons/course.ts lists them.`,
    );
  }
  if (files.length === 0) throw new BuildStopped(`${folder} holds no notebook.`);
  return files.map((stem) => join(folder, `${stem}.ipynb`));
}

async function lessonsOf(files: readonly string[]): Promise<readonly Executed[]> {
  return await Promise.all(
    files.map(async (path) => ({ path, notebook: await readNotebook(path) })),
  );
}

/** Hands on the notebooks of the edition: the leader's as they stand, the learner's made from them, for as long as it takes. */
export async function inEdition<T>(
  edition: BuildOptions["edition"],
  files: readonly string[],
  act: (files: readonly string[]) => Promise<T>,
): Promise<T> {
  if (edition === undefined) return await act(files);
  // notebooks find the kit by the deno.json above them, so they are put into the kit's own folder
  await Deno.mkdir(join(root, "book"), { recursive: true });
  const folder = await tempFolder("learner", join(root, "book"));
  try {
    const made = files.map(async (file) => {
      const path = join(folder, basename(file));
      await writeNotebook(path, learnersNotebook(await readNotebook(file)));
      return path;
    });
    return await act(await Promise.all(made));
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

/** What a build has at hand: what the last one left, and threads. */
export interface Means {
  readonly kept: Kept;
  readonly threads: readonly NotebookThread[];
  /** told each notebook that has run to its end, while others run */
  readonly onRan?: (result: RunResult) => void;
}

/** What a book is written from. */
export interface Ran {
  readonly results: readonly RunResult[];
  readonly library: KitScripts;
}

/** Runs the notebooks on the record, and makes the pages' library beside; all that failed is told, not only the first. */
export async function run(
  files: readonly string[],
  facts: Pick<BookFacts, "record" | "summary">,
  options: BuildOptions,
  means: Means,
): Promise<Ran> {
  const stop = new AbortController(), running = Promise.withResolvers<void>();
  const signal = AbortSignal.any([stop.signal, ...options.signal ? [options.signal] : []]);
  const library = kitScripts({ after: running.promise, signal });
  // whether it failed is asked when the notebooks have run
  library.catch(() => {});
  try {
    const results = options.kernels === true
      ? await byKernels(files, facts, options, means)
      : await byThreads(files, facts, options, means);
    const failures = results.flatMap((result) => result.failures);
    if (failures.length > 0) throw new BuildStopped(failures.map(failureText).join("\n"));
    running.resolve();
    return { results, library: await library };
  } catch (error) {
    stop.abort(error);
    running.resolve();
    await library.catch(() => {});
    throw error;
  }
}

async function byKernels(
  files: readonly string[],
  { record: { folder } }: Pick<BookFacts, "record">,
  { jobs = 2, onProgress, signal, today }: BuildOptions,
  { onRan }: Means,
): Promise<RunResult[]> {
  const results = await runNotebooks(files, {
    parallel: jobs,
    env: {
      FIRST_MIRROR_RECORD: folder,
      ...(today === undefined ? {} : { FIRST_MIRROR_TODAY: today }),
    },
    ...(onProgress === undefined ? {} : { onProgress }),
    ...(signal === undefined ? {} : { signal }),
  });
  for (const result of results) if (result.failures.length === 0) onRan?.(result);
  return results;
}

/**
 * The stages that take longest, at the two ends of the row: two threads take from there and meet among the short ones, and
 * what rests on the same readings is worked out by one of them.
 */
const LONGEST = {
  first: ["judge-mirror", "measure-zones", "shape-surface", "read-bands", "open-record"],
  last: ["grind-hollow", "compare-class", "read-star", "observe-sky"],
} as const;

function rowOf(files: readonly string[]): readonly string[] {
  const fileOf = (name: string): readonly string[] =>
    files.filter((file) => stageNameOf(basename(file, ".ipynb")) === name);
  const first = LONGEST.first.flatMap(fileOf), last = LONGEST.last.flatMap(fileOf);
  return [...first, ...files.filter((file) => ![...first, ...last].includes(file)), ...last];
}

async function byThreads(
  files: readonly string[],
  { record, summary }: Pick<BookFacts, "record" | "summary">,
  { onProgress, signal, today }: BuildOptions,
  { kept, threads, onRan }: Means,
): Promise<RunResult[]> {
  const { folder } = record;
  const isDemo = folder === await Deno.realPath(join(recordsFolder, demoName));
  const demo = isDemo ? undefined : await openMirror(join(recordsFolder, demoName));
  const known = new Map([
    [folder, { record, summary, isDemo }],
    ...(demo === undefined ? [] : [[demo.record.folder, demo] as const]),
  ]);
  return await runWithoutKernels(files, {
    threads,
    ...(threads.length > 1 ? { row: rowOf(files) } : {}),
    onResult: (result) => {
      if (result.failures.length === 0) onRan?.(result);
    },
    record: folder,
    known,
    kept,
    ...(today === undefined ? {} : { today }),
    ...(onProgress === undefined ? {} : { onProgress }),
    ...(signal === undefined ? {} : { signal }),
  });
}

/** Turns what the file system refused into one sentence. */
export function unwritable(out: string, error: unknown): never {
  if (!(error instanceof Error)) throw error;
  const system = Object.values(Deno.errors).some((kind) => error instanceof kind) ||
    "code" in error;
  if (!system) throw error;
  throw new BuildStopped(
    `${out} cannot be written (${error.message}); name another folder with --out.`,
  );
}

/** Lays what a reader has changed in the last book out of the new one's way. */
export async function saveOwn(out: string, into: string): Promise<readonly string[]> {
  return await saveReadersFiles(out, into).catch((error: unknown) => {
    if (!(error instanceof Error) || !("code" in error)) throw error;
    throw new BuildStopped(
      `${out} holds notebooks that you have changed, and they cannot be laid into ${into} (${error.message}); ` +
        "move them, or name another folder with --out.",
    );
  });
}

/** Noon of a day that was named, where this runs; else now. */
export function dayOfBuild(today: string | undefined): Date {
  return today === undefined ? new Date() : new Date(`${today}T12:00:00`);
}

/** The folder a record's book goes into, each edition its own. */
export function bookName(record: string, edition: BuildOptions["edition"]): string {
  return edition === undefined ? record : `${record}-${edition}`;
}

/**
 * Builds a book: contents, one page a stage, the report, the summary, the executed notebooks.
 *
 * The record is read first, so that one that is refused costs no time. Everything is written beside the place and moved
 * there at the end: whatever fails, the last good book stays. What cells gave is kept, so that the next build runs only what
 * has changed.
 * What a reader has changed in the last book's notebooks is laid into the record's folder first.
 *
 * @throws {RecordRefused} with every refusal found in the record
 * @throws {Busy} where the same book is being built already
 * @throws {ShelfRefused} where something else than a book stands in the place
 * @throws {BuildStopped} naming notebook, cell and line, or the folder that cannot be written
 */
export async function buildBook(options: BuildOptions): Promise<BuiltBook> {
  const folder = await Deno.realPath(options.record).catch(() => options.record);
  const kept = await Kept.of(folder, options.today ?? dayNow(), options.edition);
  // they read the library while the record is read
  const threads = options.kernels === true
    ? []
    : Array.from({ length: options.jobs ?? 2 }, () => new NotebookThread(!kept.isAsLast));
  rememberIn(kept.results);
  try {
    return await build(options, { kept, threads });
  } finally {
    for (const thread of threads) thread.end();
    rememberIn(undefined);
    await kept.keepResults();
  }
}

async function build(options: BuildOptions, means: Means): Promise<BuiltBook> {
  const { record, summary } = await openMirror(options.record, options.today);
  const { edition } = options;
  const facts: BookFacts = {
    record,
    summary,
    builtOn: options.builtOn ?? dayOfBuild(options.today),
    ...(options.today === undefined ? {} : { today: options.today }),
    ...(edition === undefined ? {} : { edition }),
  };
  const files = (await notebooksIn(resolve(options.notebooks ?? join(root, "notebooks"))))
    .filter((file) =>
      edition === undefined || stageNameOf(basename(file, ".ipynb")) !== leadersOwn
    );
  const wanted = resolve(options.out ?? join(root, "book", bookName(record.name, edition)));
  const out = await Deno.realPath(wanted).catch(() => wanted);
  let saved: readonly string[] = [];
  try {
    await checkPlace(out);
    await Deno.mkdir(dirname(out), { recursive: true });
    const lock = join(dirname(out), `.${basename(out)}.lock`);
    await withLock(
      lock,
      `A build of ${basename(out)}`,
      () =>
        putWhole(
          out,
          (folder) =>
            inEdition(
              edition,
              files,
              async (made) => {
                const writer = new BookWriter(
                  folder,
                  await lessonsOf(made),
                  facts,
                  () => observed(record),
                );
                const onRan = (result: RunResult): void => {
                  writer.take(result);
                  writer.begin();
                };
                try {
                  const { library } = await run(made, facts, options, { ...means, onRan });
                  await writer.end(library);
                } finally {
                  await writer.stopped();
                }
                saved = await saveOwn(out, copiesOf(record.folder, edition === "learner"));
              },
            ),
        ),
    );
  } catch (error) {
    unwritable(out, error);
  }
  return {
    folder: out,
    index: join(out, "index.html"),
    summary: join(out, "summary.json"),
    stages: files.length,
    saved,
  };
}

/**
 * Writes the report, the mask and the sheets of a record, without running a notebook: whole or not at all, with an index.
 *
 * @param options  of a book; the folder by default `book/NAME-print` in the kit's own
 * @returns the index
 * @throws {RecordRefused} with every refusal found in the record
 * @throws {OutputRefused} where something else stands in the place, a book too
 * @throws {BuildStopped} naming the folder that cannot be written
 */
export async function printSheets(
  options: Pick<BuildOptions, "record" | "out" | "notebooks" | "today">,
): Promise<string> {
  const { record, summary } = await openMirror(options.record, options.today);
  const facts: BookFacts = {
    record,
    summary,
    nights: await observed(record),
    builtOn: dayOfBuild(options.today),
    isAlone: true,
  };
  const wanted = resolve(options.out ?? join(root, "book", `${record.name}-print`));
  const out = await Deno.realPath(wanted).catch(() => wanted);
  if (await Deno.lstat(join(out, "summary.json")).then(() => true, () => false)) {
    throw new OutputRefused(`${out} is a book and stays; name another folder with --out.`);
  }
  const files = await notebooksIn(resolve(options.notebooks ?? join(root, "notebooks")));
  const notebooks = await Promise.all(files.map(readNotebook));
  try {
    await checkPlace(out);
    await Deno.mkdir(dirname(out), { recursive: true });
    await withLock(
      join(dirname(out), `.${basename(out)}.lock`),
      `Printing of ${basename(out)}`,
      () => putWhole(out, (folder) => writeSheets(folder, notebooks, facts)),
    );
  } catch (error) {
    unwritable(out, error);
  }
  return join(out, "index.html");
}

// One build of a book at a time: a lock that the system itself lets go when its process ends, however it ends.

/** Another process is at the same work. */
export class Busy extends Error {
  override readonly name = "Busy";
}

/** Who holds a lock, as the file says it. */
function holder(text: string): string {
  try {
    const { process, since } = JSON.parse(text) as { process?: unknown; since?: unknown };
    if (typeof process === "number" && typeof since === "string") {
      return `process ${process}, since ${since}`;
    }
  } catch { /* not readable while it is held, or not ours: then who holds it stays unknown */ }
  return "another process";
}

/** Whether an open file is still the one that stands at the path: its last holder may have removed it meanwhile. */
async function stillThere(file: Deno.FsFile, path: string): Promise<boolean> {
  const there = await Deno.stat(path).catch(() => undefined);
  return there !== undefined && there.ino === (await file.stat()).ino;
}

async function take(path: string, work: string): Promise<Deno.FsFile> {
  while (true) {
    const file = await Deno.open(path, { read: true, write: true, create: true });
    if (!(await file.tryLock(true))) {
      file.close();
      const text = await Deno.readTextFile(path).catch(() => "");
      throw new Busy(
        `${work} is under way already (${holder(text)}); wait until it has ended, or stop it.`,
      );
    }
    if (await stillThere(file, path)) return file;
    file.close();
  }
}

/** Writes who holds the lock, for whoever finds it taken. */
async function sign(file: Deno.FsFile): Promise<void> {
  const since = new Date().toTimeString().slice(0, 8);
  await file.truncate();
  await file.write(new TextEncoder().encode(JSON.stringify({ process: Deno.pid, since })));
}

/**
 * Does a piece of work while nobody else does the same.
 *
 * The lock is the operating system's own on an open file, so that of a process that was killed binds nobody.
 *
 * @param path  the lock's file, in a folder that exists; it is gone afterwards
 * @param work  the work in words, as "A build of demo-150-f8", for the one who has to wait
 * @param act   what to do
 * @returns what `act` returns
 * @throws {Busy} one sentence that says who holds it
 */
export async function withLock<T>(path: string, work: string, act: () => Promise<T>): Promise<T> {
  const file = await take(path, work);
  try {
    await sign(file);
    return await act();
  } finally {
    await Deno.remove(path).catch(() => {});
    file.close();
  }
}
