/**
 * A class in, one book out: the lessons once, each bench's numbers as data beside them, and its own report and sheets.
 *
 * A lesson is built on the first bench whose record can be read. In the page another is chosen: its script brings its files,
 * its summary and what is its own on each page, and the cells run on them there. No page is made twice.
 */
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { classNow } from "../knowledge/classLines.ts";
import { foldersIn, openClass } from "../knowledge/classOfRecords.ts";
import type { Mirror } from "../knowledge/open.ts";
import { stageNameOf } from "../lessons/course.ts";
import { rememberIn } from "../numeric/remembered.ts";
import { type ClassSettings, readClassSettings } from "../record/classSettings.ts";
import { clean } from "../record/clean.ts";
import { Findings } from "../record/errors.ts";
import { dayNow } from "../record/readRecord.ts";
import { benchPages, type BenchRead, readBench, sharedData } from "./benchPages.ts";
import {
  type BuildOptions,
  type BuiltBook,
  dayOfBuild,
  inEdition,
  type Means,
  notebooksIn,
  type Ran,
  run,
  saveOwn,
  unwritable,
  withLock,
} from "./build.ts";
import { Kept } from "./kept.ts";
import { classScript, classScripts, picturesScript } from "./library.ts";
import { checkPlace, putWhole } from "./outputFolder.ts";
import { classFront } from "./pages/classFront.ts";
import { classPage } from "./pages/classPage.ts";
import type { BookFacts, ClassBenches } from "./pages/facts.ts";
import { glossaryPage } from "./pages/glossaryPage.ts";
import { lessonPage } from "./pages/lessonPage.ts";
import { glossaryPlaces, placesOf, placesOfPage, searchPage } from "./pages/searchPage.ts";
import { copiesOf, leadersOwn } from "./workingCopies.ts";
import {
  BuildStopped,
  type Executed,
  type Made,
  madeOf,
  putInto,
  tableTexts,
  writeLibrary,
  writeNotebooks,
} from "./writeBook.ts";
import { NotebookThread } from "./withoutKernels.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));

/** What a class's book is built from. */
export interface ClassBookOptions extends BuildOptions {
  /** the lessons alone: a room gives out what is the benches' own */
  readonly isForRoom?: true;
}

async function settingsOf(folder: string): Promise<ClassSettings> {
  const text = await Deno.readTextFile(join(folder, "class.yaml")).catch(() => "");
  return readClassSettings(text, new Findings());
}

/** The first bench whose record can be read: the lessons are built on it. */
async function firstRead(
  folder: string,
  names: readonly string[],
  today?: string,
): Promise<BenchRead & { readonly mirror: Mirror }> {
  const said: string[] = [];
  for (const name of names) {
    const bench = await readBench(folder, name, today);
    if ("mirror" in bench) return bench;
    said.push(`${name}: ${bench.refusals[0] ?? "it cannot be read."}`);
  }
  throw new BuildStopped(
    `No bench of ${folder} can be read yet; a book begins with the first that can.\n${
      said.slice(0, 3).join("\n")
    }`,
  );
}

/**
 * Builds the one book of a class.
 *
 * @param options  of a book; `record` is the class's folder
 * @throws as `buildBook`
 */
export async function buildClassBook(options: ClassBookOptions): Promise<BuiltBook> {
  const folder = await Deno.realPath(options.record), { edition, today } = options;
  const found = await foldersIn(folder);
  const names = found.flatMap(({ name, kind }) => kind === "record" ? [name] : []);
  const threads = options.kernels === true
    ? []
    : Array.from({ length: options.jobs ?? 2 }, () => new NotebookThread());
  const kept = await Kept.of(join(folder, names[0] ?? ""), today ?? dayNow(), edition);
  rememberIn(kept.results);
  try {
    const first = await firstRead(folder, names, today);
    return await build(options, folder, names, first, { kept, threads });
  } finally {
    for (const thread of threads) thread.end();
    rememberIn(undefined);
    await kept.keepResults();
  }
}

async function build(
  options: ClassBookOptions,
  folder: string,
  names: readonly string[],
  first: BenchRead & { readonly mirror: Mirror },
  means: Means,
): Promise<BuiltBook> {
  const { edition, today } = options, settings = await settingsOf(folder);
  const many = await openClass(folder, today === undefined ? {} : { today });
  const now = classNow(many, settings, []);
  const named = new Map(now.benches.map((bench) => [bench.folder, bench.name]));
  const benches: ClassBenches = {
    title: now.title,
    all: names.map((name) => ({ folder: name, name: named.get(clean(name)) ?? clean(name) })),
  };
  const { record, summary } = first.mirror;
  const facts: BookFacts = {
    record,
    summary,
    builtOn: options.builtOn ?? dayOfBuild(today),
    benches,
    ...(today === undefined ? {} : { today }),
    ...(edition === undefined ? {} : { edition }),
  };
  const files = (await notebooksIn(resolve(options.notebooks ?? join(root, "notebooks"))))
    .filter((file) => edition === undefined || stageNameOf(stemOfFile(file)) !== leadersOwn);
  const name = [many.name, edition].filter(Boolean).join("-");
  const wanted = resolve(options.out ?? join(root, "book", name));
  const out = await Deno.realPath(wanted).catch(() => wanted);
  let saved: readonly string[] = [];
  /** what is made of a notebook as soon as it has run */
  const ready = new Map<string, Made>();
  const onRan = (result: Executed): void => void ready.set(stemOfFile(result.path), madeOf(result));
  const write = async ({ results, library }: Ran, into: string): Promise<void> => {
    const { chapters, bodies, notebookOf } = await writeNotebooks(into, results, ready);
    const put = putInto(into), others = names.filter((one) => one !== first.folder);
    const shared = sharedData(folder, [first.folder, ...others], facts);
    await writeLibrary(into, library);
    await put(classScripts.pictures, await picturesScript());
    if (options.isForRoom !== true) {
      await put(classScripts.shared, await classScript(folder, names));
    }
    const texts = await tableTexts(record.folder), places = glossaryPlaces();
    for (const chapter of chapters) {
      const body = bodies.get(chapter.stem);
      if (body === undefined) continue;
      const notebook = notebookOf(chapter.stem);
      const page = lessonPage({
        body,
        chapter,
        chapters,
        facts,
        living: shared,
        texts,
        ...notebook,
      });
      await put(`${chapter.stem}.html`, ofBench(page, first.folder));
      places.push(...placesOf(body, chapter));
    }
    const words = new Map([...bodies].map(([stem, body]) => [stem, body.words]));
    if (edition === undefined) {
      const page = classPage(many, true);
      await put("class.html", page);
      places.push(...placesOfPage(page, "class.html", "The class"));
    }
    await put(
      "index.html",
      classFront({ now, chapters, builtOn: facts.builtOn, isLearners: edition !== undefined }),
    );
    await put("glossary.html", ofClass(glossaryPage(chapters, words)));
    await put("search.html", ofClass(searchPage(chapters, places)));
    const lessons = results.map(({ notebook }) => notebook);
    const pages = { folder, chapters, about: facts, shared, lessons };
    for (const bench of options.isForRoom === true ? [] : names) {
      const read = bench === first.folder ? first : await readBench(folder, bench, today);
      await Deno.mkdir(join(into, "benches", bench, "print"), { recursive: true });
      for (const [name, text] of benchPages(read, pages)) {
        await put(join("benches", bench, name), await text());
      }
    }
  };
  try {
    await checkPlace(out);
    await Deno.mkdir(dirname(out), { recursive: true });
    await withLock(
      join(dirname(out), `.${name}.lock`),
      `A build of ${name}`,
      () =>
        putWhole(out, (into) =>
          inEdition(edition, files, async (made) => {
            await write(await run(made, facts, options, { ...means, onRan }), into);
            saved = await saveOwn(out, copiesOf(record.folder, edition === "learner"));
          })),
    );
  } catch (error) {
    unwritable(out, error);
  }
  return {
    folder: out,
    index: join(out, "index.html"),
    summary: join(out, "benches"),
    stages: files.length,
    saved,
  };
}

const stemOfFile = (path: string): string => path.replace(/^.*[\\/]|\.ipynb$/g, "");

/** A lesson's links to the pages of one mirror lead to those of a bench. */
function ofBench(page: string, folder: string): string {
  const own = `benches/${encodeURIComponent(folder)}`;
  return page.replace(/href="((?:report|print)\.html)/g, `href="${own}/$1`);
}

/** Pages that are no bench's lead to the front, where one is chosen. */
function ofClass(page: string): string {
  return page.replace(/href="(?:report|print)\.html[^"]*"/g, 'href="index.html#benches"');
}
