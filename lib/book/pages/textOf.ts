/**
 * Markup's text alone: tags taken out, spaces joined; for labels and lists made from headings.
 *
 * @param markup  markup of the kit's own
 * @returns the text, still escaped as it was
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(textOf("From <em>depth</em>\n to radius"), "From depth to radius");
 * ```
 */
export function textOf(markup: string): string {
  return markup.replace(/<annotation[\s\S]*?<\/annotation>/g, "").replace(/<[^>]*>/g, "")
    .replace(/\s+/g, " ").trim();
}
