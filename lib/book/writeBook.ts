/** The files of a book, from notebooks that have run and the record's summary. */
import { basename, join } from "node:path";
import { notebookText } from "./notebook.ts";
import { besidePages } from "./besidePages.ts";
import { chaptersOf } from "./pages/chapters.ts";
import { contentsPage } from "./pages/contentsPage.ts";
import type { BookFacts } from "./pages/facts.ts";
import { glossaryPage } from "./pages/glossaryPage.ts";
import { type LessonBody, lessonBody, titleOf } from "./pages/lessonBody.ts";
import { lessonPage } from "./pages/lessonPage.ts";
import { noteWritten } from "./readersOwn.ts";
import { reportPage } from "./pages/reportPage.ts";
import { glossaryPlaces, placesOf, placesOfPage } from "./pages/searchIndex.ts";
import { searchPage } from "./pages/searchPage.ts";
import type { RunResult } from "./runner.ts";

/** Why there is no new book: one sentence for each thing that went wrong; the last good book still stands. */
export class BuildStopped extends Error {
  override readonly name = "BuildStopped";
}

/** A notebook that has run, and its path. */
export type Executed = Pick<RunResult, "path" | "notebook">;

/** The body of one notebook's page; a mistake in its prose is told with the notebook's name. */
function bodyOf({ path, notebook }: Executed): LessonBody {
  try {
    return lessonBody(notebook, basename(path).slice(0, 2));
  } catch (reason) {
    if (!(reason instanceof Error) || reason.cause === undefined) throw reason;
    throw new BuildStopped(`${path}, ${reason.message}`);
  }
}

/** Writes every file of a book into an empty folder. */
export async function writeBook(
  folder: string,
  results: readonly Executed[],
  facts: BookFacts,
): Promise<void> {
  const stemOf = ({ path }: Executed): string => basename(path, ".ipynb");
  const titles = new Map(results.flatMap((result) => {
    const title = titleOf(result.notebook);
    return title === undefined ? [] : [[stemOf(result), title] as const];
  }));
  const chapters = chaptersOf(results.map(stemOf), titles);
  const bodies = new Map(results.map((result) => [stemOf(result), bodyOf(result)]));
  const put = (name: string, text: string): Promise<void> =>
    Deno.writeTextFile(join(folder, name), text);
  await Deno.mkdir(join(folder, "notebooks"));
  for (const result of results) {
    const text = notebookText(result.notebook, result.path);
    await put(join("notebooks", `${stemOf(result)}.ipynb`), text);
  }
  await noteWritten(folder);
  const places = glossaryPlaces();
  for (const chapter of chapters) {
    const body = bodies.get(chapter.stem);
    if (body === undefined) continue;
    await put(`${chapter.stem}.html`, lessonPage({ body, chapter, chapters, facts }));
    places.push(...placesOf(body, chapter));
  }
  const words = new Map([...bodies].map(([stem, body]) => [stem, body.words]));
  const beside = new Map(await besidePages(facts, results));
  if (facts.edition === "learner") beside.delete("class.html");
  const report = reportPage(facts);
  places.push(...placesOfPage(report, "report.html", "The mirror’s report"));
  places.push(...placesOfPage(beside.get("print.html"), "print.html", "To print"));
  places.push(...placesOfPage(beside.get("class.html"), "class.html", "The class"));
  await put("index.html", contentsPage(facts, chapters, beside.has("class.html")));
  await put("report.html", report);
  await put("glossary.html", glossaryPage(chapters, words));
  await put("search.html", searchPage(chapters, places));
  await Deno.mkdir(join(folder, "print"));
  for (const [name, text] of beside) await put(name, text);
  await put("summary.json", `${JSON.stringify(facts.summary, null, 2)}\n`);
}
