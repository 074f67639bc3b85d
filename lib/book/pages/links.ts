/** Links between notebooks become links between pages. */
import type { Chapter } from "./chapters.ts";

/**
 * Turns links to notebooks into links to their pages; where a page is not written, only the words stay.
 *
 * @param markup    body of a page
 * @param chapters  of this book
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { chaptersOf } from "./chapters.ts";
 * const links = '<a href="04-measure-curve.ipynb#idea">here</a>, <a href="08-pour-lap.ipynb">there</a>';
 * assert.equal(linkPages(links, chaptersOf(["04-measure-curve"])), '<a href="04-measure-curve.html#idea">here</a>, there');
 * ```
 */
export function linkPages(markup: string, chapters: readonly Chapter[]): string {
  const files = new Set(chapters.flatMap((chapter) => chapter.file ?? []));
  return markup.replace(
    /<a href="(?:\.\/)?(\d\d-[\w-]+)\.ipynb(#[^"]*)?">([\s\S]*?)<\/a>/g,
    (_, stem: string, place: string | undefined, words: string) =>
      files.has(`${stem}.html`) ? `<a href="${stem}.html${place ?? ""}">${words}</a>` : words,
  );
}
