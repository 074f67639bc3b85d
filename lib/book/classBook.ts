/**
 * A class in, one book out: the lessons once, each bench's numbers as data beside them, and its own report and sheets.
 *
 * A lesson is built on the first bench whose record can be read. In the page another is chosen: its script brings its files,
 * its summary and what is its own on each page, and the cells run on them there. No page is made twice.
 */
import { createHash } from "node:crypto";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { type Html, safe } from "../figures/html.ts";
import { classNow } from "../knowledge/classLines.ts";
import { foldersIn, openClass } from "../knowledge/classOfRecords.ts";
import { type Mirror, openMirror } from "../knowledge/open.ts";
import { summaryText } from "../knowledge/summaryFile.ts";
import { stageNameOf } from "../lessons/course.ts";
import type { PageData } from "../living/pageData.ts";
import { rememberIn } from "../numeric/remembered.ts";
import { pageInInches } from "../quantity/inches.ts";
import { type ClassSettings, readClassSettings } from "../record/classSettings.ts";
import { clean } from "../record/clean.ts";
import { describe, Findings, RecordRefused } from "../record/errors.ts";
import { dayNow } from "../record/readRecord.ts";
import { KIT_VERSION } from "../version.ts";
import {
  type BuildOptions,
  type BuiltBook,
  dayOfBuild,
  inEdition,
  type Means,
  notebooksIn,
  run,
  saveOwn,
  unwritable,
  withLock,
} from "./build.ts";
import { Kept } from "./kept.ts";
import { benchScript, classScript, classScripts, scripts } from "./library.ts";
import type { Notebook } from "./notebook.ts";
import { checkPlace, putWhole } from "./outputFolder.ts";
import type { Chapter } from "./pages/chapters.ts";
import { classFront } from "./pages/classFront.ts";
import { classPage } from "./pages/classPage.ts";
import { contentsPage } from "./pages/contentsPage.ts";
import type { BookFacts, ClassBenches } from "./pages/facts.ts";
import { glossaryPage } from "./pages/glossaryPage.ts";
import { lessonPage, mirrorParts } from "./pages/lessonPage.ts";
import { printablesOf, printFiles } from "./pages/printPages.ts";
import { reportPage } from "./pages/reportPage.ts";
import { glossaryPlaces, placesOf, placesOfPage, searchPage } from "./pages/searchPage.ts";
import { plainBar, shell } from "./pages/shell.ts";
import type { RunResult } from "./runner.ts";
import { copiesOf, leadersOwn } from "./workingCopies.ts";
import {
  BuildStopped,
  cautionsOf,
  putInto,
  tableTexts,
  writeLibrary,
  writeNotebooks,
} from "./writeBook.ts";
import { NotebookThread } from "./withoutKernels.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));

/** A bench of the class: its mirror, or why there is none. */
export type BenchRead =
  | { readonly folder: string; readonly mirror: Mirror }
  | { readonly folder: string; readonly refusals: readonly string[] };

/** Reads one bench's record with everything worked out, its photographs too. */
export async function readBench(
  classFolder: string,
  folder: string,
  today?: string,
): Promise<BenchRead> {
  try {
    return { folder, mirror: await openMirror(join(classFolder, folder), today) };
  } catch (error) {
    if (!(error instanceof RecordRefused)) throw error;
    return { folder, refusals: error.refusals.map(describe) };
  }
}

/** What is a bench's own on each page, as its script brings it. */
export async function scriptOfBench(
  classFolder: string,
  bench: BenchRead,
  chapters: readonly Chapter[],
  about: Pick<BookFacts, "builtOn" | "today" | "benches">,
): Promise<string> {
  if (!("mirror" in bench)) {
    const { folder: name, refusals } = bench;
    return await benchScript(classFolder, { name, inInches: false, refusals, parts: {} });
  }
  const { folder: name, mirror: { record, summary } } = bench,
    facts = { ...about, record, summary };
  const inInches = record.settings.shownIn === "inch";
  const told = (part: Html | undefined): string => {
    const markup = part?.markup ?? "";
    return inInches ? pageInInches(markup) : markup;
  };
  const texts = await tableTexts(record.folder);
  const parts = Object.fromEntries(
    chapters.filter(({ file }) => file !== undefined).map((chapter) => {
      const { sign, way, readings } = mirrorParts(facts, chapter, chapters, texts);
      return [
        stageNameOf(chapter.stem),
        { sign: told(sign), way: told(way), readings: told(readings) },
      ];
    }),
  );
  return await benchScript(classFolder, { name, record, summary, inInches, parts });
}

/** The book's own name, under which its pages keep what a reader writes. */
function nameInBrowser(folder: string, name: string, edition: BuildOptions["edition"]): string {
  const mark = createHash("sha256").update(folder).digest("hex").slice(0, 8);
  return [name, "class", edition, mark].filter(Boolean).join("-");
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
export async function buildClassBook(options: BuildOptions): Promise<BuiltBook> {
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
    return await build(options, folder, names, first, { kept, threads, bodies: new Map() });
  } finally {
    for (const thread of threads) thread.end();
    rememberIn(undefined);
    await kept.keepResults();
  }
}

async function build(
  options: BuildOptions,
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
  const write = async (results: readonly RunResult[], into: string): Promise<void> => {
    const { chapters, bodies, notebookOf } = await writeNotebooks(into, results, means.bodies);
    const put = putInto(into),
      shared: Omit<PageData, "page"> = {
        version: KIT_VERSION,
        book: nameInBrowser(folder, many.name, edition),
        record: first.folder,
        folder: `/records/${first.folder}`,
        scripts: [
          classScripts.shared,
          `benches/BENCH/${classScripts.bench}`,
          scripts.library,
        ],
        editor: scripts.editor,
        ...(today === undefined ? {} : { today }),
        inInches: false,
        files: {},
        benches: names,
      };
    await writeLibrary(into);
    await put(classScripts.shared, await classScript(folder, names));
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
    const cautions = results.map(({ notebook }) => notebook);
    for (const bench of names) {
      const read = bench === first.folder ? first : await readBench(folder, bench, today);
      await writeBench(join(into, "benches", bench), read, {
        folder,
        chapters,
        facts,
        shared,
        cautions,
      });
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
            await write(await run(made, facts, options, means), into);
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

interface BenchPages {
  readonly folder: string;
  readonly chapters: readonly Chapter[];
  readonly facts: BookFacts;
  readonly shared: Omit<PageData, "page">;
  readonly cautions: readonly Notebook[];
}

/** Writes a bench's own pages: its front, its report, its sheets, its script. */
async function writeBench(
  into: string,
  bench: BenchRead,
  { folder, chapters, facts, shared, cautions }: BenchPages,
): Promise<void> {
  await Deno.mkdir(join(into, "print"), { recursive: true });
  const put = putInto(into), { benches: all, ...about } = facts;
  await put(classScripts.bench, await scriptOfBench(folder, bench, chapters, facts));
  if (!("mirror" in bench)) {
    await put("index.html", outOfFolder(refusedBench(bench, all), bench.folder));
    return;
  }
  const { record, summary } = bench.mirror, own: BookFacts = { ...about, record, summary };
  const { benches: _, ...page } = shared;
  const living = {
    ...page,
    record: bench.folder,
    folder: `/records/${bench.folder}`,
    scripts: [`../../${classScripts.shared}`, classScripts.bench, `../../${scripts.library}`],
    editor: `../../${scripts.editor}`,
  };
  const inHouse = record.settings.shownIn === "inch" ? pageInInches : (html: string) => html;
  const isLeaders = facts.edition === undefined;
  await put(
    "index.html",
    outOfFolder(inHouse(contentsPage(own, chapters, isLeaders, living)), bench.folder),
  );
  await put("report.html", outOfFolder(reportPage(own), bench.folder));
  await put("summary.json", summaryText(summary));
  for (const [name, text] of printFiles(printablesOf(own, cautions.map(cautionsOf)), own)) {
    await put(name, outOfFolder(text, bench.folder));
  }
}

/** The front of a bench whose record cannot be read: what to mend. */
function refusedBench(
  { folder, refusals }: { readonly folder: string; readonly refusals: readonly string[] },
  benches: ClassBenches | undefined,
): string {
  const name = benches?.all.find((one) => one.folder === folder)?.name ?? folder;
  return shell({
    title: `${name} · First Mirror`,
    description: "A record that cannot be read yet.",
    header: safe`${plainBar(false)}
<div class="title">
<h1>${name}</h1>
<p class="standfirst">Its record cannot be read. Mend what is said here, then build the book again.</p>
</div>`,
    main: safe`<ul>${refusals.map((sentence) => safe`<li>${sentence}</li>`)}</ul>`,
    footer:
      safe`<p>The lessons can be read all the same: <a href="../../index.html">all of them</a>.</p>`,
  });
}

/** A lesson's links to the pages of one mirror lead to those of a bench. */
function ofBench(page: string, folder: string): string {
  const own = `benches/${encodeURIComponent(folder)}`;
  return page.replace(/href="((?:report|print)\.html)/g, `href="${own}/$1`);
}

/** Pages that are no bench's lead to the front, where one is chosen. */
function ofClass(page: string): string {
  return page.replace(/href="(?:report|print)\.html[^"]*"/g, 'href="index.html#benches"');
}

/** A bench's own page: its links to what all benches share lead out of its folder. */
function outOfFolder(page: string, folder: string): string {
  const bench = `?bench=${encodeURIComponent(folder)}`;
  return page
    .replace(
      /href="(\d\d-[\w-]+\.html)(#[^"]*)?"/g,
      (_, file: string, place = "") => `href="../../${file}${bench}${place}"`,
    )
    .replace(/href="((?:glossary|search|class)\.html)/g, 'href="../../$1');
}
