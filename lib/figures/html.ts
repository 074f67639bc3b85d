/** Markup that is safe by construction: whatever is put into a template is escaped, unless it is markup itself. */

/** A piece of markup made by `safe` or vouched for by `trusted`. */
export class Html {
  /** Takes the markup as it is: `safe` and `trusted` vouch for it. */
  constructor(readonly markup: string) {}
  /** The markup, for joining with other markup. */
  toString(): string {
    return this.markup;
  }
}

/** What may stand in a `safe` template; `undefined` and `false` leave nothing. */
export type HtmlValue =
  | Html
  | string
  | number
  | undefined
  | false
  | readonly HtmlValue[];

const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/**
 * Text made harmless in markup, in an element as well as in a quoted attribute.
 *
 * Control characters that HTML forbids are dropped; everything else stays readable.
 *
 * @param text  any text, above all what a maker typed
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(escapeHtml(`<img src=x onerror='1'>`), "&lt;img src=x onerror=&#39;1&#39;&gt;");
 * ```
 */
export function escapeHtml(text: string): string {
  return text.replaceAll(forbidden, "").replace(/[&<>"']/g, (mark) => entities[mark] ?? mark);
}
// deno-lint-ignore no-control-regex -- these are the characters to drop
const forbidden = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/g;

function markupOf(value: HtmlValue): string {
  if (value === undefined || value === false) return "";
  if (value instanceof Html) return value.markup;
  if (typeof value === "string") return escapeHtml(value);
  if (typeof value === "number") {
    if (Number.isFinite(value)) return String(value);
    throw new RangeError(`safe requires finite numbers, got ${value}`);
  }
  return value.map(markupOf).join("");
}

/**
 * Template for markup: the literal parts are markup, the values are text and get escaped.
 *
 * @throws {RangeError} where a value is NaN or infinite: no picture may contain one
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(safe`<p>${"a < b"} ${safe`<b>${2}</b>`}</p>`.markup, "<p>a &lt; b <b>2</b></p>");
 * ```
 */
export function safe(literals: TemplateStringsArray, ...values: HtmlValue[]): Html {
  const parts = literals.map((literal, i) => literal + markupOf(values[i]));
  return new Html(parts.join(""));
}

/**
 * Markup from a source that cannot hold a reader's text, taken as it is: our own svg, our own style sheet.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(safe`${trusted("<br>")}`.markup, "<br>");
 * ```
 */
export function trusted(markup: string): Html {
  return new Html(markup);
}

/**
 * Data for a page's script, as JSON that can stand inside a `script` element without ending it.
 *
 * @param data  anything JSON can hold
 * @throws {TypeError} where the data has no JSON
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(jsonForScript("</script>").markup, '"\\u003c/script>"');
 * ```
 */
export function jsonForScript(data: unknown): Html {
  const text: string | undefined = JSON.stringify(data);
  if (text === undefined) throw new TypeError("jsonForScript requires data that JSON can hold");
  const safe = text.replaceAll("<", "\\u003c").replaceAll("\u2028", "\\u2028");
  return new Html(safe.replaceAll("\u2029", "\\u2029"));
}
