/** What a cell left behind, as markup: figures of the kit as they are, anything else as text. */
import { escapeHtml } from "../figures/html.ts";
import { inlined } from "../figures/live/still.ts";
import type { Output } from "./output.ts";

// deno-lint-ignore no-control-regex
const colourCodes = /\u001b\[[0-9;]*m/g;

const textOf = (value: unknown): string => typeof value === "string" ? value : "";
const clean = (value: unknown): string => textOf(value).replace(colourCodes, "").trimEnd();

/** Short text is a sentence under its cell, longer text keeps its lines. */
function plain(text: string): string {
  if (text === "") return "";
  if (text.includes("\n") || text.length > 160) {
    return `<pre class="out" tabindex="0">${escapeHtml(text)}</pre>\n`;
  }
  return `<p class="out">${escapeHtml(text)}</p>\n`;
}

/**
 * A figure without what only a notebook's front end needs: the wrapper, and the style sheet and scripts that a page has
 * once for all; drawings that stand as images are themselves again.
 *
 * @param html  markup that a figure or block of the kit shows
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = '<div class="first-mirror"><style data-first-mirror>p{}</style><p>1</p><script data-first-mirror>2</script></div>';
 * assert.equal(unwrapped(shown), "<p>1</p>");
 * ```
 */
export function unwrapped(html: string): string {
  const inside = /^\s*<div class="first-mirror"[^>]*>([\s\S]*)<\/div>\s*$/.exec(html)?.[1] ?? html;
  return inlined(inside.replace(/<(style|script) data-first-mirror[\s\S]*?<\/\1>/g, "")).trim();
}

/** Markdown as markup. */
export type AsProse = (markdown: string) => string;

function shown(data: Readonly<Record<string, unknown>>, asProse: AsProse): string {
  const html = textOf(data["text/html"]);
  if (html.trim() !== "") {
    const left = unwrapped(html);
    return left === "" ? "" : `${left}\n`;
  }
  const svg = textOf(data["image/svg+xml"]);
  const text = clean(data["text/plain"]);
  if (svg !== "") return `<figure>${svg}</figure>\n`;
  for (const type of ["image/png", "image/jpeg"]) {
    const image = textOf(data[type]).replace(/\s/g, "");
    if (image === "") continue;
    return `<figure><img alt="${escapeHtml(text)}" src="data:${type};base64,${
      escapeHtml(image)
    }"></figure>\n`;
  }
  const markdown = textOf(data["text/markdown"]);
  return markdown === "" ? plain(text) : asProse(markdown);
}

/**
 * One output of a cell as markup; an empty result leaves nothing.
 *
 * Errors are told as a refusal is: the sentence, never a trace of the program.
 *
 * @param asProse  how Markdown is set; default as the text it is, for a page has no setter of it
 */
export function outputHtml(output: Output, asProse: AsProse = plain): string {
  switch (output.output_type) {
    case "stream":
      return plain(clean(output.text));
    case "error":
      return `<div class="refusal"><p>${escapeHtml(clean(output.evalue))}</p></div>\n`;
    default:
      return shown(output.data, asProse);
  }
}

/** All outputs of a cell; the lines of one stream belong together even where they came in parts. */
export function outputsHtml(outputs: readonly Output[], asProse: AsProse = plain): string {
  const merged: Output[] = [];
  for (const output of outputs) {
    const last = merged.at(-1);
    if (
      output.output_type === "stream" && last?.output_type === "stream" &&
      output.name === last.name
    ) {
      merged[merged.length - 1] = { ...last, text: last.text + output.text };
    } else merged.push(output);
  }
  return merged.map((output) => outputHtml(output, asProse)).join("");
}
