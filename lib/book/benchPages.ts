/**
 * One bench of a class's book: its script, its front, its report, its sheets; from its record as it stands. A class's book
 * writes them, a room gives them out anew each time.
 */
import { createHash } from "node:crypto";
import { basename, join } from "node:path";
import { type Html, safe } from "../figures/html.ts";
import { observed } from "../knowledge/observed.ts";
import { type Mirror, openMirror } from "../knowledge/open.ts";
import { summaryText } from "../knowledge/summaryFile.ts";
import { stageNameOf } from "../lessons/course.ts";
import type { PageData } from "../living/pageData.ts";
import { pageInInches } from "../quantity/inches.ts";
import { describe, RecordRefused } from "../record/errors.ts";
import { KIT_VERSION } from "../version.ts";
import { benchScript, classScripts, scripts } from "./library.ts";
import type { Notebook } from "./notebook.ts";
import type { Chapter } from "./pages/chapters.ts";
import { contentsPage } from "./pages/contentsPage.ts";
import type { BookFacts, ClassBenches } from "./pages/facts.ts";
import { mirrorParts } from "./pages/lessonPage.ts";
import { printablesOf, printFiles } from "./pages/printPages.ts";
import { reportPage } from "./pages/reportPage.ts";
import { plainBar, shell } from "./pages/shell.ts";
import { cautionsOf, tableTexts } from "./writeBook.ts";

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
  about: Omit<BookFacts, "record" | "summary">,
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
function nameInBrowser(folder: string, edition: BookFacts["edition"]): string {
  const mark = createHash("sha256").update(folder).digest("hex").slice(0, 8);
  return [basename(folder), "class", edition, mark].filter(Boolean).join("-");
}

/**
 * What all pages of a class's book carry.
 *
 * @param folder   path of the class's folder
 * @param benches  its records' folders, the one that the lessons are built on first
 */
export function sharedData(
  folder: string,
  benches: readonly string[],
  { edition, today }: Pick<BookFacts, "edition" | "today">,
): Omit<PageData, "page"> {
  const [first = ""] = benches;
  return {
    version: KIT_VERSION,
    book: nameInBrowser(folder, edition),
    record: first,
    folder: `/records/${first}`,
    scripts: [
      classScripts.pictures,
      classScripts.shared,
      `benches/BENCH/${classScripts.bench}`,
      scripts.library,
    ],
    editor: scripts.editor,
    ...(today === undefined ? {} : { today }),
    inInches: false,
    files: {},
    benches,
  };
}

/** What a bench's own pages are made from. */
export interface BenchPagesOptions {
  /** path of the class's folder */
  readonly folder: string;
  readonly chapters: readonly Chapter[];
  /** of the book; record and summary are the bench's own */
  readonly about: Omit<BookFacts, "record" | "summary">;
  /** what all pages of the book carry for the scripts beside them */
  readonly shared: Omit<PageData, "page">;
  /** the lessons, for their cautions */
  readonly lessons: readonly Notebook[];
}

/** A bench's own files by their paths in its folder, each made when it is asked for. */
export function benchPages(
  bench: BenchRead,
  { folder, chapters, about, shared, lessons }: BenchPagesOptions,
): ReadonlyMap<string, () => string | Promise<string>> {
  const { benches: all, ...plain } = about;
  const script = [classScripts.bench, () => scriptOfBench(folder, bench, chapters, about)] as const;
  if (!("mirror" in bench)) {
    const front = (): string => outOfFolder(refusedBench(bench, all), bench.folder);
    return new Map<string, () => string | Promise<string>>([script, ["index.html", front]]);
  }
  const { record, summary } = bench.mirror, own: BookFacts = { ...plain, record, summary };
  const { benches: _, ...page } = shared;
  const living = {
    ...page,
    record: bench.folder,
    folder: `/records/${bench.folder}`,
    scripts: [
      `../../${classScripts.pictures}`,
      `../../${classScripts.shared}`,
      classScripts.bench,
      `../../${scripts.library}`,
    ],
    editor: `../../${scripts.editor}`,
  };
  const inHouse = record.settings.shownIn === "inch" ? pageInInches : (html: string) => html;
  const isLeaders = about.edition === undefined;
  const sheets = printFiles(printablesOf(own, lessons.map(cautionsOf)), own);
  return new Map<string, () => string | Promise<string>>([
    script,
    [
      "index.html",
      () => outOfFolder(inHouse(contentsPage(own, chapters, isLeaders, living)), bench.folder),
    ],
    [
      "report.html",
      async () => outOfFolder(reportPage({ ...own, nights: await observed(record) }), bench.folder),
    ],
    ["summary.json", () => summaryText(summary)],
    ...[...sheets].map(([name, text]) => [name, () => outOfFolder(text, bench.folder)] as const),
  ]);
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
