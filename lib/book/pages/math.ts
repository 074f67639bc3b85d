/** Formulas in prose: `$...$` in a line, `$$...$$` alone, set once when the page is made, as MathML. */
import type { MarkdownIt } from "markdown-it";
import { formula, standingFormula } from "../../figures/formula.ts";

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
export function mathRules(markdown: MarkdownIt): void {
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
