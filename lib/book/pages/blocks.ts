/** Cells with a tag become the look's blocks: lesson card, caution, exercise, decision. */
import { line, prose } from "./markdown.ts";

const sign =
  `<svg viewBox="0 0 48 43" role="img" aria-label="Warning"><path d="M24 3.5 45 40H3Z" fill="none" stroke="var(--rouge)" stroke-width="4" stroke-linejoin="round"></path><path d="M24 15.5V27.5" stroke="var(--rouge)" stroke-width="4.4" stroke-linecap="round"></path><circle cx="24" cy="33.6" r="2.5" fill="var(--rouge)"></circle></svg>`;

/**
 * The lesson card from a list whose items begin with a bold word: what you will do, bring, need before.
 *
 * @param source  `- **You will** read the depth` and so on; anything before or after the list stays prose
 * @returns a `dl` in the look's two columns
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(card("- **Bring** a lamp"), /<dt>Bring<\/dt><dd>a lamp<\/dd>/);
 * ```
 */
export function card(source: string): string {
  const items: [string, string][] = [];
  const rest: string[] = [];
  for (const text of source.split("\n")) {
    const begins = /^\s*[-*]\s+\*\*(.+?)\*\*\s*[:.·]?\s*(.*)$/.exec(text);
    const last = items.at(-1);
    if (begins !== null) items.push([begins[1] ?? "", begins[2] ?? ""]);
    else if (last !== undefined && /^\s+\S/.test(text)) last[1] += ` ${text.trim()}`;
    else rest.push(text);
  }
  const rows = items.map(([name, told]) =>
    `<dt>${line(name.replace(/[:.]$/, ""))}</dt><dd>${line(told)}</dd>`
  );
  const list = `<dl class="card" aria-label="Lesson card">\n${rows.join("\n")}\n</dl>\n`;
  const around = rest.join("\n").trim();
  return (around === "" ? "" : prose(around)) + (rows.length === 0 ? "" : list);
}

/** A section named by its own first heading. */
function named(kind: string, html: string, id: string, before = ""): string {
  const heading = /<h([1-6])>/;
  const has = heading.test(html);
  const body = html.replace(heading, `<h$1 id="${id}">`);
  const label = has ? ` aria-labelledby="${id}"` : ` aria-label="${kind}"`;
  return `<section class="${kind}"${label}>\n${before}${body}</section>\n`;
}

/** A caution: sign, what it is about, what not to do, who must be there. */
export function caution(source: string, id: string): string {
  const html = prose(source).replace(/<h[1-6]>([\s\S]*?)<\/h[1-6]>/, "<h3>$1</h3>");
  return named("caution", html, id, `${sign}\n`);
}

/** An exercise: the question, the form a cell may show, hints and answer folded. */
export function exercise(html: string, id: string): string {
  return /<section class="exercise/.test(html) ? html : named("exercise", html, id);
}

/** The decision the page was for; a cell that shows the whole block is left as it is. */
export function decision(html: string, id: string): string {
  return /<section class="decide/.test(html) ? html : named("decide", html, id);
}
