/** The glossary: every word of the course with its meaning, and the pages that explain it. */
import { escapeHtml, type Html, safe, trusted } from "../../figures/html.ts";
import { glossary, type Term, termId, termOf, termPattern } from "../../lessons/glossary.ts";
import type { Chapter } from "./chapters.ts";
import { bookBar, shell } from "./shell.ts";

/**
 * The glossary as a page.
 *
 * @param chapters  of this book
 * @param used      the words each page explained, by the page's notebook
 */
export function glossaryPage(
  chapters: readonly Chapter[],
  used: ReadonlyMap<string, ReadonlySet<string>>,
): string {
  const items = glossary.map(({ term, says }) => {
    const pages = chapters.filter(({ stem, file }) =>
      file !== undefined && used.get(stem)?.has(term) === true
    );
    const links = pages.map(({ file, title }, at) =>
      safe`${at > 0 && ", "}<a href="${file}">${title}</a>`
    );
    return safe`<div id="${termId(term)}"><dt>${term}</dt><dd>${says}${
      pages.length > 0 && safe`<span class="kicker">In: ${links}</span>`
    }</dd></div>
`;
  });
  return shell({
    title: "Glossary · First Mirror",
    description: "The words of mirror making, each in one sentence.",
    header: safe`${bookBar(chapters, "glossary.html")}
<div class="title">
<h1>Glossary</h1>
<p class="standfirst">The words of this book, each in one sentence. On a page, a dotted word opens its meaning.</p>
</div>`,
    main: safe`<dl class="glossary">
${items}</dl>`,
    footer:
      safe`<p>${glossary.length} words. The letters R, f, s and K stand for the same things on every page.</p>`,
  });
}

// Words of the course explained in place: at their first use on a page a dotted word that opens its meaning.

/** Inside these no word is explained: headings and links have their own work, formulas and code their own letters. */
const closed = new Set(
  "a button code dt h1 h2 h3 h4 h5 h6 math pre script strong style summary svg".split(" "),
);

/** The word, and its meaning beside it: opened by click, touch or key, without a script. */
function dotted(word: string, { term, says }: Term): string {
  const id = termId(term);
  return `<button type="button" class="term" popovertarget="${id}">${word}</button>` +
    `<span class="meaning" id="${id}" popover><b>${escapeHtml(term)}</b> ${
      escapeHtml(says)
    }</span>`;
}

/**
 * Prose with the first use of each word of the course turned into a dotted one.
 *
 * @param html  markup of prose, of the kit's own making
 * @param seen  words that the page has explained already; those explained here are added
 * @param on    name of the stage, "measure-curve"
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const seen = new Set<string>();
 * const html = explained("<h2>Bevel</h2><p>The bevel. A bevel.</p>", seen, "prepare-discs");
 * assert.equal(html.match(/class="term"/g)?.length, 1);
 * assert.deepEqual([...seen], ["bevel"]);
 * ```
 */
export function explained(html: string, seen: Set<string>, on?: string): string {
  const pattern = termPattern(on);
  const inside: string[] = [];
  return html.split(/(<[^>]*>)/).map((part) => {
    const tag = /^<(\/?)([a-z][a-z0-9]*)/i.exec(part);
    if (tag !== null) {
      const [, slash, name = ""] = tag;
      if (closed.has(name) && slash === "" && !part.endsWith("/>")) inside.push(name);
      else if (slash === "/" && inside.at(-1) === name) inside.pop();
      return part;
    }
    if (inside.length > 0) return part;
    return part.replace(pattern, (word) => {
      const term = termOf(word, on);
      if (term === undefined || seen.has(term.term)) return word;
      seen.add(term.term);
      return dotted(word, term);
    });
  }).join("");
}

/** The words a page explained, as a list for paper and for browsers that cannot open a meaning. */
export function wordsOfPage(seen: ReadonlySet<string>): Html {
  const used = glossary.filter(({ term }) => seen.has(term));
  if (used.length === 0) return trusted("");
  return safe`<section class="words" aria-labelledby="words-here">
<h2 id="words-here">Words on this page</h2>
<dl>
${
    used.map(({ term, says }) =>
      safe`<div><dt>${term}</dt><dd>${says}</dd></div>
`
    )
  }</dl>
</section>`;
}
