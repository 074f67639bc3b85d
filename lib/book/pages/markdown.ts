/** Prose of the kit's own notebooks to markup in the look's classes. Never for a maker's text: that is escaped. */
import MarkdownIt, { type MarkdownIt as Parser } from "markdown-it";

import { formula, standingFormula } from "../../figures/formula.ts";
import { quietCode } from "./code.ts";

const markdown = new MarkdownIt({ html: true, typographer: true }).disable("replacements");
markdown.use(mathRules);
markdown.renderer.rules["fence"] = (tokens, index) =>
  `<pre tabindex="0"><code>${quietCode((tokens[index]?.content ?? "").trimEnd())}</code></pre>\n`;

/** An identifier for a heading: its words in lower case, joined. */
export function slug(text: string): string {
  const words = text.replace(/&[a-z#0-9]+;/g, "").normalize("NFKD").toLowerCase()
    .match(/[a-z0-9]+/g);
  return words?.join("-") ?? "section";
}

/** Columns aligned to the right hold numbers; a wide table scrolls by itself. */
function tables(html: string): string {
  return html
    .replace(/<(th|td) style="text-align:right">/g, '<$1 class="n">')
    .replace(/<th(?=[ >])(?![^>]*scope)/g, '<th scope="col"')
    .replace(
      /<table>[\s\S]*?<\/table>/g,
      (table) => `<div class="scroll" tabindex="0" role="region" aria-label="Table">${table}</div>`,
    );
}

/** The sentence under a formula that names its letters: `where r half the chord · s the depth`. */
function letters(html: string): string {
  return html.replace(
    /(<div class="formula"[\s\S]*?<\/div>\n)<p>where:?\s+([\s\S]*?)<\/p>/g,
    (_, before: string, names: string) =>
      `${before}<p class="where">${
        names.split(/\s*·\s*/).map((name) => `<span>${name.replace(/[.,;]$/, "")}</span>`)
          .join(" ")
      }</p>`,
  );
}

/** Three underscores or more are a blank to write in; a bare `details` folds quietly. */
function marks(html: string): string {
  return html.replace(/_{3,}/g, '<span class="blank"></span>')
    .replace(/<details>/g, '<details class="fold">');
}

/**
 * Prose as markup: tables with scopes, formulas with their letters, blanks, folds.
 *
 * @param source  Markdown of the kit's own, HTML allowed
 * @throws {Error} where a formula has a mistake
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(prose("The *sagitta* is small."), "<p>The <em>sagitta</em> is small.</p>\n");
 * ```
 */
export function prose(source: string): string {
  return marks(letters(tables(markdown.render(source))));
}

/** One line of prose, without a paragraph around it. */
export function line(source: string): string {
  return marks(markdown.renderInline(source));
}

// Formulas in prose: `$...$` in a line, `$$...$$` alone, set once when the page is made, as MathML.

/** Where a `$` begins a formula, the index of its closing `$`; undefined for a lone dollar sign and for prices. */
function closing(source: string, start: number): number | undefined {
  if (/\s/.test(source[start + 1] ?? " ")) return undefined;
  for (let at = start + 1; at < source.length; at++) {
    if (source[at] === "\\") at++;
    else if (source[at] === "$") {
      const isPrice = /\s/.test(source[at - 1] ?? " ") || /\d/.test(source[at + 1] ?? "");
      return isPrice ? undefined : at;
    }
  }
  return undefined;
}

/** Teaches markdown-it the two forms. */
export function mathRules(markdown: Parser): void {
  markdown.inline.ruler.before("escape", "formula", (state, silent) => {
    if (state.src[state.pos] !== "$" || state.src[state.pos + 1] === "$") return false;
    const end = closing(state.src, state.pos);
    if (end === undefined || end === state.pos + 1) return false;
    if (!silent) {
      state.push("html_inline", "", 0).content = formula(state.src.slice(state.pos + 1, end));
    }
    state.pos = end + 1;
    return true;
  });
  markdown.block.ruler.before("fence", "formula", (state, startLine, endLine, silent) => {
    const lineAt = (line: number): string =>
      state.src.slice((state.bMarks[line] ?? 0) + (state.tShift[line] ?? 0), state.eMarks[line]);
    if (!lineAt(startLine).startsWith("$$")) return false;
    let tex = lineAt(startLine).slice(2);
    let line = startLine;
    while (!tex.trimEnd().endsWith("$$")) {
      line++;
      if (line >= endLine) return false;
      tex += `\n${lineAt(line)}`;
    }
    if (silent) return true;
    state.line = line + 1;
    state.push("html_block", "", 0).content = standingFormula(tex.trimEnd().slice(0, -2).trim());
    return true;
  }, { alt: ["paragraph", "reference", "blockquote", "list"] });
}
