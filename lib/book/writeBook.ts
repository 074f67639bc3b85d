/** The files of a book, from notebooks that have run and the record's summary. */
import type { PageData } from "../living/pageData.ts";
import { type KitScripts, recordInPage, recordScript, scripts } from "./library.ts";
import { summaryText } from "../knowledge/summaryFile.ts";
import { createHash } from "node:crypto";
import { basename, join } from "node:path";
import type { StageCautions } from "../figures/prints/sheetsToWriteOn.ts";
import { classBeside } from "../knowledge/classBeside.ts";
import { cellTags, isCode, type Notebook, notebookText } from "./notebook.ts";
import { type Chapter, chaptersOf } from "./pages/chapters.ts";
import { classPage } from "./pages/classPage.ts";
import { contentsPage } from "./pages/contentsPage.ts";
import type { BookFacts } from "./pages/facts.ts";
import { glossaryPage } from "./pages/glossaryPage.ts";
import { type LessonBody, lessonBody, titleOf } from "./pages/lessonBody.ts";
import { lessonPage, type LessonParts } from "./pages/lessonPage.ts";
import { printablesOf, printFiles } from "./pages/printPages.ts";
import { reportPage } from "./pages/reportPage.ts";
import {
  glossaryPlaces,
  type Place,
  placesOf,
  placesOfPage,
  searchPage,
} from "./pages/searchPage.ts";
import { pageInInches } from "../quantity/inches.ts";
import { noteWritten } from "./workingCopies.ts";
import { recordsFolder } from "../knowledge/open.ts";
import { stageNameOf } from "../lessons/course.ts";
import { Findings } from "../record/errors.ts";
import { decodeText } from "../record/files.ts";
import { TABLES } from "../record/schema.ts";
import type { MirrorRecord } from "../record/types.ts";
import type { RunResult } from "./runner.ts";

/** Why there is no new book: one sentence for each thing that went wrong; the last good book still stands. */
export class BuildStopped extends Error {
  override readonly name = "BuildStopped";
}

/** A notebook that has run, and its path. */
export type Executed = Pick<RunResult, "path" | "notebook">;

/** The body of one notebook's page; a mistake in its prose is told with the notebook's name. */
export function bodyOf({ path, notebook }: Executed): LessonBody {
  try {
    return lessonBody(notebook, stageNameOf(basename(path, ".ipynb")));
  } catch (reason) {
    if (!(reason instanceof Error) || reason.cause === undefined) throw reason;
    throw new BuildStopped(`${path}, ${reason.message}`);
  }
}

/** What can be made of a notebook as soon as it has run, while others run. */
export interface Made {
  readonly body: LessonBody;
  /** its file */
  readonly text: string;
}

/** Makes it. */
export function madeOf(result: Executed): Made {
  return { body: bodyOf(result), text: notebookText(result.notebook, result.path) };
}

const stemOf = ({ path }: Executed): string => basename(path, ".ipynb");

/** Writes texts into a folder. */
export function putInto(folder: string): (name: string, text: string) => Promise<void> {
  return (name, text) => Deno.writeTextFile(join(folder, name), text);
}

/** The lessons of a book: its stages, the bodies of their pages, their notebooks as they were before they ran. */
export interface Lessons {
  readonly chapters: readonly Chapter[];
  readonly bodies: ReadonlyMap<string, LessonBody>;
  readonly notebookOf: (stem: string) => Pick<LessonParts, "notebook">;
}

/** Writes the executed notebooks. @returns what their pages are made from */
export async function writeNotebooks(
  folder: string,
  results: readonly Executed[],
  before: ReadonlyMap<string, Made>,
): Promise<Lessons> {
  const titles = new Map(results.flatMap((result) => {
    const title = titleOf(result.notebook);
    return title === undefined ? [] : [[stemOf(result), title] as const];
  }));
  const made = new Map(results.map((result) => {
    const stem = stemOf(result);
    return [stem, before.get(stem) ?? madeOf(result)] as const;
  }));
  await Deno.mkdir(join(folder, "notebooks"));
  for (const [stem, { text }] of made) {
    await putInto(folder)(join("notebooks", `${stem}.ipynb`), text);
  }
  await noteWritten(folder);
  return {
    chapters: chaptersOf(results.map(stemOf), titles),
    bodies: new Map([...made].map(([stem, { body }]) => [stem, body])),
    notebookOf: (stem) => {
      const result = results.find((one) => stemOf(one) === stem);
      return result === undefined
        ? {}
        : { notebook: { name: stem, notebook: withoutOutputs(result.notebook) } };
    },
  };
}

/** Lets whatever waits for this process come first: a thread that asks for its next notebook. */
const breath = (): Promise<void> => new Promise((over) => setTimeout(over));

/**
 * A book that is written while its notebooks run: each lesson as soon as its own has run, what rests on none of them
 * meanwhile, and at the end what rests on all.
 */
export class BookWriter {
  readonly #chapters: readonly Chapter[];
  readonly #tell: (page: string) => string;
  readonly #places = new Map<string, readonly Place[]>();
  readonly #words = new Map<string, LessonBody["words"]>();
  /** lessons on their way */
  readonly #lessons: Promise<void>[] = [];
  #shared: ReturnType<BookWriter["writeShared"]> | undefined;
  #beside: ReturnType<BookWriter["writeBeside"]> | undefined;

  /**
   * @param folder   empty
   * @param lessons  the book's notebooks, before or after they ran
   * @param facts    what its pages tell
   * @param nights   what the nights came to, where `facts` do not say
   */
  constructor(
    private readonly folder: string,
    private readonly lessons: readonly Executed[],
    private readonly facts: BookFacts,
    private readonly nights?: () => Promise<BookFacts["nights"]>,
  ) {
    const titles = new Map(lessons.flatMap((lesson) => {
      const title = titleOf(lesson.notebook);
      return title === undefined ? [] : [[stemOf(lesson), title] as const];
    }));
    this.#chapters = chaptersOf(lessons.map(stemOf), titles);
    this.#tell = facts.record.settings.shownIn === "inch" ? pageInInches : (page) => page;
  }

  /** Writes the page of a notebook that has run, and its file. */
  take(result: Executed): void {
    const lesson = this.writeLesson(result);
    // whether it could be made is asked at the end
    lesson.catch(() => {});
    this.#lessons.push(lesson);
  }

  /** Writes what rests on no notebook, if it is not begun yet. */
  begin(): ReturnType<BookWriter["writeBeside"]> {
    if (this.#beside !== undefined) return this.#beside;
    const beside = this.#beside = this.writeBeside();
    beside.catch(() => {});
    return beside;
  }

  /**
   * Writes what is left, once all notebooks have been taken.
   *
   * @param library  the scripts that are every book's
   * @throws {BuildStopped} where a page could not be made
   */
  async end(library: KitScripts): Promise<void> {
    const { folder, facts } = this, put = putInto(folder), chapters = this.#chapters;
    await writeLibrary(folder, library);
    await Promise.all(this.#lessons);
    const { living } = await this.#readShared(), besides = await this.begin();
    await noteWritten(folder);
    const contents = contentsPage(facts, chapters, besides.hasClass, living);
    await put("index.html", this.#tell(contents));
    const words = new Map(chapters.flatMap(({ stem }) => {
      const own = this.#words.get(stem);
      return own === undefined ? [] : [[stem, own] as const];
    }));
    await put("glossary.html", glossaryPage(chapters, words));
    const lessons = chapters.flatMap(({ stem }) => this.#places.get(stem) ?? []);
    const places = [...glossaryPlaces(), ...lessons, ...besides.places];
    await put("search.html", searchPage(chapters, places));
    await put("summary.json", summaryText(facts.summary));
  }

  /** Comes back when nothing is being written any more, whether it could be or not. */
  async stopped(): Promise<void> {
    await Promise.allSettled([...this.#lessons, this.#shared, this.#beside]);
  }

  #readShared(): ReturnType<BookWriter["writeShared"]> {
    return this.#shared ??= this.writeShared();
  }

  private async writeShared(): Promise<Pick<LessonParts, "texts"> & { living: LivingData }> {
    await Deno.mkdir(join(this.folder, "notebooks"));
    const texts = await tableTexts(this.facts.record.folder);
    return { texts, living: await writeScripts(this.folder, this.facts) };
  }

  private async writeLesson(result: Executed): Promise<void> {
    const { living, texts = new Map() } = await this.#readShared();
    const { facts } = this, chapters = this.#chapters, stem = stemOf(result);
    const { body, text } = madeOf(result), put = putInto(this.folder);
    await put(join("notebooks", `${stem}.ipynb`), text);
    const chapter = chapters.find((one) => one.stem === stem);
    if (chapter === undefined) return;
    const notebook = { name: stem, notebook: withoutOutputs(result.notebook) };
    const page = lessonPage({ body, chapter, chapters, facts, living, texts, notebook });
    this.#words.set(stem, body.words);
    this.#places.set(stem, placesOf(body, chapter));
    await put(`${stem}.html`, this.#tell(page));
  }

  private async writeBeside(): Promise<{ hasClass: boolean; places: readonly Place[] }> {
    const { folder, facts } = this, put = putInto(folder);
    await this.#readShared();
    await Deno.mkdir(join(folder, "print"));
    await breath();
    const nights = facts.nights ?? await this.nights?.();
    const report = reportPage(nights === undefined ? facts : { ...facts, nights });
    await put("report.html", report);
    await breath();
    const pages = new Map(await besidePages(facts, this.lessons));
    if (facts.edition === "learner") pages.delete("class.html");
    for (const [name, text] of pages) {
      await put(name, name === "class.html" ? this.#tell(text) : text);
    }
    const places = [
      ...placesOfPage(report, "report.html", "The mirror’s report"),
      ...placesOfPage(pages.get("print.html"), "print.html", "To print"),
      ...placesOfPage(pages.get("class.html"), "class.html", "The class"),
    ];
    return { hasClass: pages.has("class.html"), places };
  }
}

/** The record's tables as text, for the forms; a file that is no text is left out. */
export async function tableTexts(folder: string): Promise<ReadonlyMap<string, string>> {
  const texts = new Map<string, string>();
  for (const file of TABLES.map((table) => `${table}.csv`)) {
    const bytes = await Deno.readFile(join(folder, file)).catch(() => undefined);
    const text = bytes && decodeText(bytes, file, new Findings());
    if (text !== undefined) texts.set(file, text);
  }
  return texts;
}

/** A notebook as it was before it ran. */
function withoutOutputs(notebook: Notebook): Notebook {
  const cells = notebook.cells.map((cell) =>
    cell.cell_type === "code" ? { ...cell, outputs: [], execution_count: null } : cell
  );
  return { ...notebook, cells };
}

/** Writes the scripts that are every book's. */
export async function writeLibrary(
  folder: string,
  { library, editor }: KitScripts,
): Promise<void> {
  await Deno.writeTextFile(join(folder, scripts.library), library);
  await Deno.writeTextFile(join(folder, scripts.editor), editor);
}

/** What each page carries for the scripts beside it. */
type LivingData = Omit<PageData, "page">;

/** Writes the script of the record. @returns what each page carries for it */
async function writeScripts(
  folder: string,
  { record, summary, edition, today }: BookFacts,
): Promise<LivingData> {
  const inPage = await recordInPage(record), beside = recordScript(inPage, summary);
  await Deno.writeTextFile(join(folder, scripts.record), beside);
  return {
    version: summary.kitVersion,
    book: bookName(record, edition),
    record: record.name,
    folder: inPage.folder,
    scripts: [scripts.record, scripts.library],
    editor: scripts.editor,
    ...(today === undefined ? {} : { today }),
    inInches: record.settings.shownIn === "inch",
    files: inPage.files,
  };
}

/**
 * The book's own name, under which a page keeps what its reader writes: the same after an update, and another one for every
 * record, also where two makers' folders are called alike.
 */
export function bookName(
  { folder, name }: Pick<MirrorRecord, "folder" | "name">,
  edition: BookFacts["edition"],
): string {
  // the kit may be unpacked elsewhere in its next version
  const place = folder.startsWith(recordsFolder) ? folder.slice(recordsFolder.length) : folder;
  const mark = createHash("sha256").update(place).digest("hex").slice(0, 8);
  return [name, edition, mark].filter(Boolean).join("-");
}

// Pages that stand beside the lessons: what there is to print, and the class where the record lies in one.

/**
 * Files by their path in the book.
 *
 * @param lessons  the book's notebooks: their cautions go on the safety sheet
 */
export async function besidePages(
  facts: BookFacts,
  lessons: readonly { readonly notebook: Notebook }[],
): Promise<ReadonlyMap<string, string>> {
  const stages = lessons.map(({ notebook }) => cautionsOf(notebook));
  const { many, isDemo } = await classBeside(facts);
  return new Map([
    ...printFiles(printablesOf(facts, stages), facts),
    ...(isDemo ? [] : [["class.html", classPage(many, true)] as const]),
  ]);
}

/** Writes the report and what there is to print into an empty folder. */
export async function writeSheets(
  folder: string,
  notebooks: readonly Notebook[],
  facts: BookFacts,
): Promise<void> {
  await Deno.mkdir(join(folder, "print"));
  const files = printFiles(printablesOf(facts, notebooks.map(cautionsOf)), facts);
  for (const [name, text] of [...files, ["report.html", reportPage(facts)] as const]) {
    await Deno.writeTextFile(join(folder, name), text);
  }
}

// The cautions of the lessons, gathered from the notebooks themselves, so that no list of them can differ from what a page says.

/** Prose without its marks. */
function bare(markdown: string): string {
  return markdown.replace(/\[([^\]]*)\]\([^)]*\)/g, "$1").replace(/[*_`]+/g, "")
    .replace(/\s+/g, " ").trim();
}

/** Each bullet and each paragraph of a caution is a line of its own; the first bears what the caution is about. */
function linesOf(source: string): string[] {
  const lines: string[] = [];
  const about = /^#+ Caution: (.+)$/m.exec(source)?.[1]?.trim();
  let open = false;
  for (const line of source.split("\n")) {
    const text = line.replace(/^\s*(?:-|\d+\.)\s+/, "");
    if (line.trim() === "" || line.startsWith("#")) {
      open = false;
    } else if (text !== line || !open) {
      lines.push(text);
      open = true;
    } else lines[lines.length - 1] += ` ${text.trim()}`;
  }
  const [first, ...rest] = lines.map(bare).filter((line) => line !== "");
  if (first === undefined || about === undefined) {
    return first === undefined ? [] : [first, ...rest];
  }
  const said = bare(about);
  return [`${said.charAt(0).toUpperCase()}${said.slice(1)}: ${first}`, ...rest];
}

/**
 * What a notebook warns of, under its own title.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const cells = [
 *   { id: "a", cell_type: "markdown", metadata: {}, source: "# Polishing\n\nHow long?" },
 *   { id: "b", cell_type: "markdown", metadata: { tags: ["caution"] }, source: "### Caution: oxide\n\n- Keep it **wet**.\n- Rinse." },
 * ] as const;
 * const { stage, cautions } = cautionsOf({ nbformat: 4, nbformat_minor: 5, metadata: {}, cells });
 * assert.deepEqual([stage, cautions], ["Polishing", ["Oxide: Keep it wet.", "Rinse."]]);
 * ```
 */
export function cautionsOf({ cells }: Notebook): StageCautions {
  const title = /^# (.+)$/m.exec(cells[0]?.source ?? "")?.[1] ?? "";
  const cautions = cells.filter((cell) => !isCode(cell) && cellTags(cell).includes("caution"));
  return { stage: bare(title), cautions: cautions.flatMap(({ source }) => linesOf(source)) };
}
