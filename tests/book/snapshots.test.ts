/**
 * Every page of the books on three records, before any notebook has run, as a reader read it when it was last looked at: contents,
 * report, glossary, search, what is printed, and the summary. A change on purpose is looked at in `deno task book`, and kept anew by
 *
 *     RECORD=1 deno test -A tests/book/snapshots.test.ts
 */
import { basename, join, relative } from "node:path";
import { readNotebook } from "../../lib/book/notebook.ts";
import { notebookPaths } from "../notebooks/notebookPaths.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import { inFolder } from "../commands/run.ts";
import { stageNameOf } from "../../lib/lessons/course.ts";
import { assertSnapshots, read } from "../snapshots.ts";
import { writeBook } from "./learnerBook.ts";
import { RECORDS, STATES } from "../notebooks/books.ts";

const results = await Promise.all((await notebookPaths()).map(async (path) => ({
  path,
  notebook: await readNotebook(path),
})));

/** All files below a folder. */
function filesBelow(folder: string): string[] {
  return [...Deno.readDirSync(folder)].flatMap(({ name, isDirectory }) =>
    isDirectory ? filesBelow(join(folder, name)) : [join(folder, name)]
  ).sort();
}

/** Not the notebooks beside the pages, nor the digests by which they are known, nor what pages compute with. */
const isPage = (path: string): boolean => !/\.ipynb$|\.js$|^\./.test(basename(path));

/** The lists of all stages, which every lesson has: kept with the first one alone. */
const withoutLists = (page: string): string =>
  page.replace(/<nav aria-label="Stages of the job">[\s\S]*?<\/nav>/, "")
    .replace(/<details><summary>The whole way<\/summary>[\s\S]*?<\/details>/, "");

Deno.test("every page of three books is as it was when it was last looked at", async () => {
  const now: Record<string, string> = {};
  for (const state of STATES) {
    const facts = { ...await openMirror(RECORDS[state]), builtOn: new Date(2026, 10, 26) };
    await inFolder(async (folder) => {
      await writeBook(folder, results, facts);
      for (const file of filesBelow(folder).filter(isPage)) {
        const name = relative(folder, file).replaceAll("\\", "/");
        const text = await Deno.readTextFile(file);
        const page = name.startsWith("00-") ? text : withoutLists(text);
        now[`${state}/${stageNameOf(name)}`] = name.endsWith(".html") ? read(page) : text.trimEnd();
      }
    });
  }
  await assertSnapshots(new URL("snapshots/", import.meta.url), now);
});
