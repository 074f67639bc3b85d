/** The search: one page with all places in it, so that it works from disk. */
import { jsonForScript, safe, trusted } from "../../figures/html.ts";
import type { Chapter } from "./chapters.ts";
import { findPlaces, type Place } from "./searchFind.ts";
import { bookBar, shell } from "./shell.ts";
import script from "./search.js" with { type: "text" };

/**
 * The search page with its index.
 *
 * @param chapters  of this book
 * @param places    everything that can be found
 */
export function searchPage(chapters: readonly Chapter[], places: readonly Place[]): string {
  const links = chapters.filter(({ file }) => file !== undefined).map(({ file, title }) =>
    safe`<li><a href="${file}">${title}</a></li>
`
  );
  return shell({
    title: "Search · First Mirror",
    description: "Find a word in this book, without a network.",
    header: safe`${bookBar(chapters, "search.html")}
<div class="title">
<h1>Search</h1>
</div>`,
    main: safe`<div class="find js-only" role="search">
<label for="typed">Words to find in this book</label>
<input id="typed" type="search" autocomplete="off" spellcheck="false" enterkeyhint="search">
</div>
<p class="kicker js-only" id="told" role="status">Headings, text and glossary. The down key leads into the list.</p>
<ol class="found" id="found"></ol>
<noscript><p>The search needs scripts, which are switched off. The <a href="glossary.html">glossary</a> names the pages of each word, and these are all pages:</p>
<ul>
${links}</ul></noscript>
<script type="application/json" id="places">${jsonForScript(places)}</script>
<script>
(function () {
${trusted(String(findPlaces))}
${trusted(script)}
})();
</script>`,
    footer: safe`<p>The search runs in this page; nothing is sent anywhere.</p>`,
  });
}
