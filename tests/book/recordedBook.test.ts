/**
 * Every page of the books on three records, before any notebook has run, as it was when it was last looked at: contents, report,
 * glossary, search, what is printed, and the summary. A change on purpose is looked at in `deno task book`, and recorded anew by
 *
 *     RECORD=1 deno test -A tests/book/recordedBook.test.ts
 */
import { join, relative } from "node:path";
import { readNotebook } from "../../lib/book/notebook.ts";
import { notebookPaths } from "../notebooks/notebookPaths.ts";
import { writeBook } from "../../lib/book/writeBook.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import { inFolder } from "../commands/run.ts";
import { assertRecorded, digest, withoutScripts } from "../recorded.ts";
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

Deno.test("every page of three books is as it was when it was last looked at", async () => {
  const now: Record<string, string> = {};
  for (const state of STATES) {
    const facts = { ...await openMirror(RECORDS[state]), builtOn: new Date(2026, 10, 26) };
    await inFolder(async (folder) => {
      await writeBook(folder, results, facts);
      for (const file of filesBelow(folder).filter((name) => !name.endsWith(".ipynb"))) {
        const name = `${state}, ${relative(folder, file).replaceAll("\\", "/")}`;
        now[name] = digest(withoutScripts(await Deno.readTextFile(file)));
      }
    });
  }
  await assertRecorded(new URL("recordedBook.json", import.meta.url), now);
});
