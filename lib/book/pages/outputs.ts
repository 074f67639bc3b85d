/** What a cell left behind, in its place on a page. */
import { escapeHtml } from "../../figures/html.ts";
import { outputsHtml } from "../../living/outputHtml.ts";
import type { Output } from "../notebook.ts";
import { prose } from "./markdown.ts";

/** All outputs of a cell as markup, Markdown among them. */
export function outputsOf(outputs: readonly Output[]): string {
  return outputsHtml(outputs, (markdown) => prose(escapeHtml(markdown)));
}

/** How the place of an output stands. */
export interface OutputLook {
  /** of what a run gives only this is put there: a selector; all of it where there is none */
  readonly only?: string;
  /** its reader guesses first: hidden until then */
  readonly isFolded?: boolean;
  /** the cell above whose result it tells, before which it is hidden too */
  readonly guess?: number;
}

/**
 * The place of what a code cell gave, where a run in the page puts its own.
 *
 * @param n     which of the notebook's code cells, from 0
 * @param html  what it gave when the book was built
 */
export function outputPlace(n: number, html: string, look: OutputLook = {}): string {
  const { only, isFolded = false, guess } = look;
  const part = only === undefined ? "" : ` data-only="${only}"`;
  const told = guess === undefined ? "" : ` data-after-guess="${guess}"`;
  const hidden = isFolded || guess !== undefined ? " hidden" : "";
  return `<div class="gave" data-output-of="${n}" data-state="as built" aria-live="polite"${part}${told}${hidden}>
${html}</div>\n`;
}
