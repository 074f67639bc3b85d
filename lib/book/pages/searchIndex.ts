/** What can be found in a book: each page's sections as plain text, and the glossary. */
import { glossary, termId } from "../../lessons/glossary.ts";
import type { Chapter } from "./chapters.ts";
import type { LessonBody } from "./lessonBody.ts";
import type { Place } from "./searchFind.ts";
import { textOf } from "./textOf.ts";

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
