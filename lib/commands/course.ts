// deno-lint-ignore-file no-console
/** `deno task course`: what each stage does, with page and line, and how plainly it is written. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { idleReasons, stageRow, tableLines } from "../book/courseTable.ts";
import { type Notebook, readNotebook } from "../book/notebook.ts";
import { dialectOn, pageAge, unexplained } from "../book/plainWords.ts";
import { course } from "../lessons/course.ts";
import { dialect, keyTerms } from "../record/tables.ts";
import { runTask } from "./command.ts";

const help = `deno task course

Prints the stages of the course by what they do: teach, compute, take readings, decide, show a live
figure, caution. "04:231 (1)" is page 04, line 231 of its file in notebooks, one such piece; where a
stage cannot do a thing, why stands below. Then how plainly each page is written: words, words in a
sentence, and the age of a reader by the grade formula of Flesch and Kincaid, which counts words and
syllables and knows nothing else. Last the words of a dialect (data/tables/dialect.csv) and the terms
that come before their explanation (data/tables/terms.csv): none, where the tests pass.

  --help   this text`;

const notebooks = fileURLToPath(new URL("../../notebooks/", import.meta.url));

/** The whole of it in plain lines. */
export async function courseLines(folder: string = notebooks): Promise<string[]> {
  const files = course.map((stage) => ({ stage, path: join(folder, `${stage.stem}.ipynb`) }));
  const pages: (readonly [stem: string, notebook: Notebook])[] = [];
  const rows = [];
  for (const { stage, path } of files) {
    const notebook = await readNotebook(path);
    pages.push([stage.stem, notebook]);
    rows.push(stageRow(stage, notebook.cells, await Deno.readTextFile(path)));
  }
  const ages = pages.map(([stem, notebook]) => {
    const { words, sentences, age } = pageAge(notebook);
    return `${stem.padEnd(18)}  ${String(words).padStart(5)}  ${
      (words / sentences).toFixed(1).padStart(8)
    }  ${age.toFixed(1).padStart(5)}`;
  });
  const strange = pages.flatMap(([stem, notebook]) =>
    dialectOn(notebook, dialect()).map(({ word, use, around }) =>
      `${stem}: ${word}; write ${use}: ${around}`
    )
  );
  const early = unexplained(pages, keyTerms());
  return [
    ...tableLines(rows),
    ...idleReasons(rows).map((one) => `A reason without need: ${one}.`),
    "",
    "page                words  a phrase    age",
    ...ages,
    "",
    strange.length === 0 ? "No word of the dialect stands on any page." : strange.join("\n"),
    early.length === 0 ? "Every term is explained where it first stands." : early.join("\n"),
  ];
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "course",
      help,
      act: async () => {
        console.log((await courseLines()).join("\n"));
        return 0;
      },
    }),
  );
}
