/** How plainly a page is written: its reading age, words of a dialect, and terms that come before their explanation. */
import { fleschKincaid } from "flesch-kincaid";
import { syllable } from "syllable";
import { type Dialect, type KeyTerm } from "../record/tables.ts";
import { cellTags, isCode, type Notebook } from "./notebook.ts";

/** A page's prose, counted. */
export interface ReadingAge {
  readonly words: number;
  readonly sentences: number;
  /** years of school by Flesch and Kincaid: 0.39 words a sentence + 11.8 syllables a word - 15.59 */
  readonly grade: number;
  /** age of a reader in that year of school: five more */
  readonly age: number;
}

/**
 * What a reader reads of a page's cell: no headings, code, formulae, addresses, no marks.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(proseOf("## A head\n\nThe _sagitta_ $s$ is [deep](01.ipynb).\n- **Bring** `x` paper."), "The sagitta is deep.\nBring paper.");
 * ```
 */
export function proseOf(markdown: string): string {
  return markdown.split("\n").filter((line) => !/^\s*(#|\|)/.test(line)).join("\n")
    .replace(/\$\$[^$]*\$\$/g, " ").replace(/\$[^$\n]*\$/g, " ").replace(/`[^`]*`/g, " ")
    .replace(/!?\[([^\]]*)\]\([^)]*\)/g, "$1")
    .replace(/^\s*(?:[-*]|\d+\.)\s+/gm, "").replace(/[*_]+/g, "")
    .split("\n").map((line) => line.replace(/\s+/g, " ").replace(/ ([.,;:?!])/g, "$1").trim())
    .filter((line) => line !== "").join("\n");
}

/**
 * The reading age of some prose.
 *
 * A colon ends a sentence too, as in Flesch's own rules: what stands behind it is a thought of its own.
 *
 * @param prose  as `proseOf` gives it; a line's end ends a sentence
 * @see Kincaid, Fishburne, Rogers and Chissom 1975, the grade formula (by hand in its test); npm packages flesch-kincaid and syllable
 * @example short words in a short sentence need no school
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(readingAgeOf("The cat sat on the mat. The dog ran.").grade < 1);
 * ```
 */
export function readingAgeOf(prose: string): ReadingAge {
  const sentences = prose.split(/[.?!]+(?=\s|$)|:(?=\s)|\n/).map((one) =>
    one.match(/\p{L}[\p{L}’'-]*/gu) ?? []
  ).filter((words) => words.length > 0);
  const words = sentences.flat(), count = { sentence: sentences.length, word: words.length };
  const syllables = words.reduce((sum, word) => sum + Math.max(1, syllable(word)), 0);
  const grade = words.length === 0 ? 0 : fleschKincaid({ ...count, syllable: syllables });
  return { words: count.word, sentences: count.sentence, grade, age: grade + 5 };
}

/** The prose cells of a notebook: those that are read, not its card and not what stands in code. */
function proseCells({ cells }: Notebook): string[] {
  return cells.filter((cell) => !isCode(cell) && !cellTags(cell).includes("card"))
    .map(({ source }) => source);
}

/** The reading age of a whole page. */
export function pageAge(notebook: Notebook): ReadingAge {
  return readingAgeOf(proseCells(notebook).map(proseOf).join("\n"));
}

/** A word that stands where another should. */
export interface Found {
  readonly word: string;
  /** what to write */
  readonly use: string;
  /** the words around it */
  readonly around: string;
}

/**
 * Words of a dialect on a page, each with the word to use.
 *
 * @param list  data/tables/dialect.csv
 */
export function dialectOn(notebook: Notebook, list: readonly Dialect[]): Found[] {
  return notebook.cells.filter((cell) => !isCode(cell)).flatMap(({ source }) =>
    list.flatMap(({ pattern, use }) =>
      [...source.matchAll(new RegExp(pattern, "gi"))].map((hit) => ({
        word: hit[0],
        use,
        around: source.slice(Math.max(0, hit.index - 40), hit.index + hit[0].length + 30)
          .replaceAll("\n", " "),
      }))
    )
  );
}

/**
 * Terms whose first place in the course does not explain them, with that place in words.
 *
 * @param pages  notebooks in the order of the course, by their stems
 * @param terms  data/tables/terms.csv: how a term is known, and the words that explain it
 */
export function unexplained(
  pages: readonly (readonly [stem: string, notebook: Notebook])[],
  terms: readonly KeyTerm[],
): string[] {
  return terms.flatMap(({ term, pattern, explained }) => {
    for (const [stem, notebook] of pages) {
      const first = proseCells(notebook).find((source) => new RegExp(pattern).test(source));
      if (first === undefined) continue;
      return new RegExp(explained).test(first)
        ? []
        : [`${term}: first on ${stem}, unexplained: ${first.slice(0, 90).replaceAll("\n", " ")}`];
    }
    return [`${term}: on no page`];
  });
}
