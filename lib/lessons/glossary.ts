/** The words of the course, each with its meaning in one sentence: the one list that pages, search and tests read. */
import { words } from "./words.ts";

/** A word of the course. */
export interface Term {
  /** as it stands in the list */
  readonly term: string;
  /** one sentence that needs no other word of the list to be understood roughly */
  readonly says: string;
  /** the ways it is written in prose */
  readonly forms: readonly string[];
  /** names of the stages in which it means this; absent where it means it everywhere */
  readonly on?: readonly string[];
}

function read(line: string): Term {
  const found = /^(.+?) = (.+?[.])(?: \[(?:as ([^;\]]+))?(?:; )?(?:in ([a-z -]+))?\])?$/.exec(line);
  if (found === null) {
    throw new Error(`glossary requires word = meaning. [as ...; in ...], got ${line}`);
  }
  const [, term = "", says = "", as, on] = found;
  return {
    term,
    says,
    forms: (as ?? term).split("|"),
    ...(on === undefined ? {} : { on: on.split(" ") }),
  };
}

/** All words, by the alphabet. */
export const glossary: readonly Term[] = words.trim().split("\n")
  .filter((line) => !line.startsWith("#")).map(read)
  .sort((a, b) => a.term.localeCompare(b.term, "en", { sensitivity: "base" }));

/**
 * The word's place in a page: its letters and digits, joined.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(termId("sagitta s"), "word-sagitta-s");
 * ```
 */
export function termId(term: string): string {
  return `word-${term.toLowerCase().replace(/[^a-z0-9]+/g, "-")}`;
}

/**
 * The word that a piece of text is, if it is one of the course's.
 *
 * @param text  one form of a word, as it stands in prose
 * @param on    name of the stage, "measure-curve"; without it, any
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(termOf("Sagittas")?.term, "sagitta s");
 * assert.equal(termOf("pitch", "align-mirrors"), undefined);
 * ```
 */
export function termOf(text: string, on?: string): Term | undefined {
  return byForm.get(text.toLowerCase())?.find((term) =>
    on === undefined || term.on === undefined || term.on.includes(on)
  );
}

/** Words by each of their forms in small letters, in the glossary's order. */
const byForm = new Map<string, Term[]>();
for (const term of glossary) {
  for (const form of new Set(term.forms.map((one) => one.toLowerCase()))) {
    byForm.set(form, [...byForm.get(form) ?? [], term]);
  }
}

const patterns = new Map<string | undefined, RegExp>();

/**
 * A pattern that finds the words of one notebook in running text, the longest first.
 *
 * @param on  name of the stage, "measure-curve"; without it, all words
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal("A chord stroke.".match(termPattern("grind-hollow"))?.[0], "chord stroke");
 * ```
 */
export function termPattern(on?: string): RegExp {
  const known = patterns.get(on);
  if (known !== undefined) return known;
  const forms = glossary
    .filter((term) => on === undefined || term.on === undefined || term.on.includes(on))
    .flatMap((term) => term.forms)
    .sort((a, b) => b.length - a.length);
  const pattern = new RegExp(
    `(?<![\\p{L}\\p{N}_-])(?:${forms.join("|")})(?![\\p{L}\\p{N}_-])`,
    "giu",
  );
  patterns.set(on, pattern);
  return pattern;
}
