/** The glossary: every word of the course with its meaning, and the pages that explain it. */
import { safe } from "../../figures/html.ts";
import { glossary, termId } from "../../lessons/glossary.ts";
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
