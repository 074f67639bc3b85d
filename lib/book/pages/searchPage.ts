/** The search: one page with all places in it, so that it works from disk. */
import { jsonForScript, safe, trusted } from "../../figures/html.ts";
import { glossary, termId } from "../../lessons/glossary.ts";
import type { Chapter } from "./chapters.ts";
import type { LessonBody } from "./lessonBody.ts";
import { bookBar, shell } from "./shell.ts";
import { textOf } from "./textOf.ts";

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

// What can be found in a book: each page's sections as plain text, and the glossary.

const entities: Readonly<Record<string, string>> = {
  amp: "&",
  lt: "<",
  gt: ">",
  quot: '"',
  "#39": "'",
};

/** Markup as words: drawings, scripts, code, meanings and folded answers left out. */
function wordsOf(html: string): string {
  const kept = html
    .replace(/<(svg|script|style|template|canvas|noscript)\b[\s\S]*?<\/\1>/g, " ")
    .replace(/<details class="(?:cell|fold)"[\s\S]*?<\/details>/g, " ")
    .replace(/<form\b[\s\S]*?<\/form>|<p class="paper-only">[\s\S]*?<\/p>/g, " ")
    .replace(/<span class="meaning"[\s\S]*?<\/span>/g, "")
    .replace(/<\/(p|li|dt|dd|td|th|h[1-6]|figcaption|label|summary|caption)>/g, " ");
  return textOf(kept).replace(/&(amp|lt|gt|quot|#39);/g, (_, name) => entities[name] ?? "");
}

/**
 * A page's places: what stands before the first section, then section by section.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const body = {
 *   html: '<p>First.</p><h2 id="idea">Idea</h2><p>Second.</p>',
 *   anchors: [],
 *   words: new Set<string>(),
 * };
 * const places = placesOf(body, { file: "a.html", title: "A" });
 * assert.deepEqual(places.map(({ to, head, text }) => [to, head, text]), [
 *   ["a.html", "A", "First."],
 *   ["a.html#idea", "Idea", "Second."],
 * ]);
 * ```
 */
export function placesOf(
  body: LessonBody,
  { file, title }: Pick<Chapter, "file" | "title">,
): Place[] {
  if (file === undefined) return [];
  const parts = body.html.split(/(?=<h2[^>]*? id=")/);
  return parts.flatMap((part): Place[] => {
    const head = /^<h2[^>]*? id="([^"]+)"[^>]*>([\s\S]*?)<\/h2>/.exec(part);
    if (head === null) {
      const text = wordsOf(`${body.standfirst ?? ""} ${part}`);
      return text === "" ? [] : [{ to: file, page: title, head: title, text }];
    }
    const text = wordsOf(part.slice(head[0].length));
    return [{ to: `${file}#${head[1]}`, page: title, head: wordsOf(head[2] ?? ""), text }];
  });
}

/** The places of a page that is no lesson, from its whole text; none where there is no such page. */
export function placesOfPage(page: string | undefined, file: string, title: string): Place[] {
  const html = /<main[^>]*>([\s\S]*)<\/main>/.exec(page ?? "")?.[1];
  return html === undefined
    ? []
    : placesOf({ html, anchors: [], words: new Set() }, { file, title });
}

/** Every word of the glossary as a place. */
export function glossaryPlaces(): Place[] {
  return glossary.map(({ term, says }) => ({
    to: `glossary.html#${termId(term)}`,
    page: "Glossary",
    head: term,
    text: says,
  }));
}

// * The search itself: which places hold all the words that were typed, the best first.
// * The same function runs in the page, which writes out its source; so it uses nothing but the language itself.

/** One place that can be found: a section of a page, or a word of the glossary. */
export interface Place {
  /** file and place in it: "04-measure-curve.html#three-feet-and-a-dial" */
  readonly to: string;
  /** the page's title, or "Glossary" */
  readonly page: string;
  /** the section's heading, or the word */
  readonly head: string;
  /** everything said there, without markup */
  readonly text: string;
}

/** A place that was found, with the words around the first hit. */
export interface Found {
  readonly place: Place;
  readonly before: string;
  readonly hit: string;
  readonly after: string;
}

/**
 * Finds the places that hold every word typed, each as the beginning of a word, without regard to capitals or accents.
 *
 * A word in a heading counts most, then one in a title, then how often the words stand in the text.
 *
 * @param places  all places
 * @param typed   what was typed
 * @param most    how many are told at most
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const places = [{ to: "a.html", page: "Grinding", head: "The bevel", text: "Stone it wet." }];
 * assert.equal(findPlaces(places, "BEV wet", 10)[0]?.place.to, "a.html");
 * assert.deepEqual(findPlaces(places, "pitch", 10), []);
 * ```
 */
export function findPlaces(places: readonly Place[], typed: string, most: number): Found[] {
  const plain = (text: string): string =>
    text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase().replace(/\u2019/g, "'");
  const words = plain(typed).split(/[^a-z0-9'.+/-]+/).filter((word) => word !== "").slice(0, 8);
  if (words.length === 0) return [];
  const patterns = words.map((word) =>
    new RegExp("(?<![a-z0-9])" + word.replace(/[.+*?^${}()|[\]\\]/g, "\\$&"), "g")
  );
  const count = (text: string, pattern: RegExp): number => (text.match(pattern) || []).length;
  const scored = places.map((place) => {
    const head = plain(place.head), page = plain(place.page), text = plain(place.text);
    let score = 0;
    for (const pattern of patterns) {
      const inHead = count(head, pattern), inPage = count(page, pattern);
      const inText = count(text, pattern);
      if (inHead + inPage + inText === 0) return { place, score: 0 };
      score += (inHead > 0 ? 20 : 0) + (inPage > 0 ? 6 : 0) + Math.min(inText, 5);
      if (head === words.join(" ")) score += 30;
    }
    return { place, score };
  }).filter(({ score }) => score > 0).sort((a, b) => b.score - a.score).slice(0, most);
  return scored.map(({ place }) => {
    const composed = place.text.normalize("NFC");
    const text = plain(composed).length === composed.length ? composed : plain(composed);
    const first = patterns.map((pattern) => plain(text).search(new RegExp(pattern.source)));
    const at = Math.min(...first.filter((index) => index >= 0));
    if (!Number.isFinite(at)) return { place, before: "", hit: "", after: text.slice(0, 160) };
    const long = words[first.indexOf(at)] || "";
    const start = Math.max(0, text.lastIndexOf(" ", Math.max(0, at - 60)) + 1);
    return {
      place,
      before: (start > 0 ? "… " : "") + text.slice(start, at),
      hit: text.slice(at, at + long.length),
      after: text.slice(at + long.length, at + 120) + (text.length > at + 120 ? " …" : ""),
    };
  });
}
