/** What a room gives out of a bench's book: everything that is the bench's own, from its record as it stands. */
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { course } from "../lessons/course.ts";
import { benchPages, readBench, sharedData } from "./benchPages.ts";
import { type Notebook, readNotebook } from "./notebook.ts";
import { type Chapter, chaptersOf } from "./pages/chapters.ts";
import { titleOf } from "./pages/lessonBody.ts";
import { leadersOwn } from "./workingCopies.ts";

const notebooks = fileURLToPath(new URL("../../notebooks", import.meta.url));

interface Lessons {
  readonly chapters: readonly Chapter[];
  readonly lessons: readonly Notebook[];
}

let known: Promise<Lessons> | undefined;

async function lessonsHere(): Promise<Lessons> {
  const stems = course.filter(({ name }) => name !== leadersOwn).map(({ stem }) => stem);
  const lessons = await Promise.all(
    stems.map((stem) => readNotebook(join(notebooks, `${stem}.ipynb`))),
  );
  const titles = new Map(lessons.flatMap((lesson, at) => {
    const title = titleOf(lesson), stem = stems[at];
    return title === undefined || stem === undefined ? [] : [[stem, title] as const];
  }));
  return { chapters: chaptersOf(stems, titles), lessons };
}

/**
 * One of a bench's own files.
 *
 * @param path   of the bench's folder
 * @param file   its path in the bench's part of the book: "index.html", "bench.js", "print/zone-mask-a4.html"
 * @param today  ISO day
 * @returns nothing where there is no such file
 */
export async function roomBenchFile(
  path: string,
  file: string,
  today: string,
): Promise<string | undefined> {
  const folder = dirname(path), name = basename(path);
  const { chapters, lessons } = await (known ??= lessonsHere());
  const benches = { title: basename(folder), all: [{ folder: name, name }] };
  const about = {
    builtOn: new Date(`${today}T12:00:00`),
    today,
    edition: "learner" as const,
    benches,
    readingsAt: `/bench/${encodeURIComponent(name)}`,
  };
  const shared = sharedData(folder, [name], about);
  const pages = benchPages(await readBench(folder, name, today), {
    ...{ folder, chapters, about, shared, lessons },
  });
  return await pages.get(file)?.();
}
