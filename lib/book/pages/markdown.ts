/** Prose of the kit's own notebooks to markup in the look's classes. Never for a maker's text: that is escaped. */
import hljs from "highlight.js/lib/core";
import typescript from "highlight.js/lib/languages/typescript";
import MarkdownIt, { type MarkdownIt as Parser } from "markdown-it";
import { formula, standingFormula } from "../../figures/formula.ts";
import { remembered } from "../../numeric/remembered.ts";

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
  return remembered("prose", () => source, () => marks(letters(tables(markdown.render(source)))));
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

// Code on a page: three quiet classes (names of functions, literals, comments), and the names a cell calls.

hljs.registerLanguage("typescript", typescript);

/** The look's class for a class of the highlighter; what is not here stays plain. */
const quiet: readonly (readonly [RegExp, string])[] = [
  [/hljs-comment/, "c"],
  [/hljs-(string|number|literal|regexp)/, "l"],
  [/hljs-title function_/, "f"],
];

/**
 * TypeScript as markup in the look's three classes: weight before colour.
 *
 * @param source  a cell's code
 * @returns markup for inside `<code>`; every character of the code is escaped
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(quietCode("f(1) < 2"), '<span class="f">f</span>(<span class="l">1</span>) &lt; <span class="l">2</span>');
 * ```
 */
export function quietCode(source: string): string {
  return remembered("quietCode", () => source, () => coloured(source));
}

function coloured(source: string): string {
  const open: boolean[] = [];
  return hljs.highlight(source, { language: "typescript" }).value.replace(
    /<span class="([^"]*)">|<\/span>/g,
    (tag, name: string | undefined) => {
      if (name === undefined) return open.pop() === true ? tag : "";
      const letter = quiet.find(([pattern]) => pattern.test(name))?.[1];
      open.push(letter !== undefined);
      return letter === undefined ? "" : `<span class="${letter}">`;
    },
  );
}

const notNames = new Set(
  "if for while switch catch function return await typeof import super constructor show".split(" "),
);

/** Code with its comments and strings emptied, so that only names are left to look at. */
function bare(source: string): string {
  return source.replace(/\/\*[\s\S]*?\*\/|\/\/.*|"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*'/g, "");
}

/**
 * Names of the functions that a cell calls, each once, in their order; methods and `show` are not told.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(functionsCalled("show(sagitta(150, 2400), Math.round(2)); // area(3)"), ["sagitta"]);
 * ```
 */
export function functionsCalled(source: string): string[] {
  const names = [...bare(source).matchAll(/(?<![.\w$])([A-Za-z_$][\w$]*)\s*\(/g)]
    .map(([, name]) => name ?? "")
    .filter((name) => !notNames.has(name));
  return [...new Set(names)];
}

/** The line a folded cell shows: which it is, how long, and what it calls. */
export function cellSummary(source: string, n: number): string {
  const lines = source.trim().split("\n").length;
  const long = lines === 1 ? "1 line" : `${lines} lines`;
  const onlyImports = bare(source).replace(/import[^;]*?from\s*;?|import\s*;?/g, "").trim() === "";
  if (onlyImports) return `Cell ${n + 1}, the tools of this page, ${long}`;
  const names = functionsCalled(source);
  const told = names.slice(0, 4).map((name) => `<code>${name}</code>`).join(", ");
  return `Cell ${n + 1}, ${long}${told === "" ? "" : `: ${told}`}${names.length > 4 ? " …" : ""}`;
}

/** What can be done with a cell; alive as soon as the library is there. */
const acts =
  `<p class="acts js-only"><button type="button" class="push" data-act="run" disabled>Run</button>
<button type="button" class="act" data-act="stop" disabled>Stop</button>
<button type="button" class="act" data-act="back" disabled>As it was</button></p>`;

/** How a code cell stands on its page. */
export interface CellLook {
  /** not folded */
  readonly open?: boolean;
  /** the line under which it is folded, in place of its own */
  readonly under?: string;
}

/**
 * A code cell, folded under its line, with what can be done with it. The script puts a field in place of the `pre`.
 *
 * @param n  which of the notebook's code cells, from 0
 */
export function codeBlock(
  source: string,
  n: number,
  { open = false, under }: CellLook = {},
): string {
  return `<details class="cell" data-cell="${n}"${open ? " open" : ""}><summary>${
    under ?? cellSummary(source, n)
  }</summary>
<pre tabindex="0"><code>${quietCode(source.trim())}</code></pre>
${acts}</details>\n`;
}
