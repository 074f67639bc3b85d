import assert from "node:assert/strict";
import { basename } from "node:path";
import { cellTags, isCode, type Notebook, readNotebook } from "../../lib/book/notebook.ts";
import {
  dialectOn,
  pageAge,
  proseOf,
  readingAgeOf,
  unexplained,
} from "../../lib/book/plainWords.ts";
import { dialect, keyTerms } from "../../lib/record/tables.ts";
import { notebookPaths } from "../notebooks/notebookPaths.ts";
import { notebookOf, prose } from "./sampleBook.ts";

const pages: (readonly [string, Notebook])[] = [];
for (const path of await notebookPaths()) {
  pages.push([basename(path, ".ipynb"), await readNotebook(path)]);
}

/** COMMON PRACTICE after R. Flesch, The Art of Readable Writing (1949): plain English, which most newspapers keep to, is the eighth and ninth year of school */
const NEWSPAPER = 9;

Deno.test("the grade formula by hand", () => {
  // DERIVED: ten words, two sentences, ten syllables: 0.39 x 5 + 11.8 x 1 - 15.59 = -1.84
  const { words, sentences, grade } = readingAgeOf("The cat sat on a mat. It had a nap.");
  assert.deepEqual([words, sentences, grade.toFixed(2)], [10, 2, "-1.84"]);
  // DERIVED: 3 words, 1 sentence, 12 syllables (6, 5, 1): 0.39 x 3 + 11.8 x 4 - 15.59 = 32.78
  assert.ok(readingAgeOf("Responsibilities characterizing light.").grade > 25);
});

Deno.test("no page is harder than a newspaper, and no longer piece of one", () => {
  for (const [stem, notebook] of pages) {
    const { grade, age, words } = pageAge(notebook);
    assert.ok(grade <= NEWSPAPER && words > 300, `${stem}: grade ${grade.toFixed(1)}`);
    assert.ok(Math.abs(age - grade - 5) < 1e-9);
    for (const cell of notebook.cells) {
      if (isCode(cell) || cellTags(cell).includes("card")) continue;
      const piece = readingAgeOf(proseOf(cell.source));
      // one sentence alone says nothing by such a formula
      if (piece.sentences < 3) continue;
      assert.ok(
        piece.grade <= NEWSPAPER,
        `${stem}: grade ${piece.grade.toFixed(1)}: ${cell.source}`,
      );
    }
  }
});

Deno.test("no word of a dialect stands on any page; where one did, it would be found", () => {
  const found = pages.flatMap(([stem, notebook]) =>
    dialectOn(notebook, dialect()).map(({ word, use, around }) =>
      `${stem}: "${word}", write ${use}: ${around}`
    )
  );
  assert.deepEqual(found, []);
  const odd = notebookOf([prose("A slip of the pencil, within parts in a hundred.")]);
  assert.deepEqual(dialectOn(odd, dialect()).map(({ use }) => use), ["per cent", "mistake"]);
});

Deno.test("every term is explained where it first stands; the first page needs one, and says it", () => {
  assert.deepEqual(unexplained(pages, keyTerms()), []);
  const bare = notebookOf([prose("The Strehl ratio is 0.8.")]);
  const strehl = keyTerms().filter(({ term }) => term === "Strehl ratio");
  assert.match(unexplained([["x", bare]], strehl)[0] ?? "", /first on x, unexplained/);
  const [first] = pages;
  assert.ok(first !== undefined);
  const text = first[1].cells.map(({ source }) => proseOf(source)).join("\n");
  const here = keyTerms().filter(({ pattern }) => new RegExp(pattern).test(text));
  // each is said in the same breath; no number of the test, and no name of a method, stands on the first page
  assert.deepEqual(unexplained([first], here), []);
  assert.deepEqual(
    here.map(({ term }) => term).filter((term) => term !== "frame"),
    ["sagitta", "focal length", "tool", "pitch", "trained adult"],
  );
});
