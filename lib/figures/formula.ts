/** Formulas as MathML, set when the page is made. */
import katex from "katex";

/**
 * One formula as MathML, which browsers set and screen readers read without a script.
 *
 * @param tex    the formula
 * @param alone  true for one that stands on its own line
 * @throws {Error} where the formula has a mistake, with the formula and the place of the mistake
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(formula("R = 2f"), /<math.*<mi>R<\/mi>/);
 * assert.throws(() => formula("\\frac{1}"), /formula requires/);
 * ```
 */
export function formula(tex: string, alone = false): string {
  try {
    const set = katex.renderToString(tex, {
      output: "mathml",
      displayMode: alone,
      throwOnError: true,
      strict: "ignore",
    });
    return set.replace(/^<span class="katex">/, "").replace(/<\/span>$/, "");
  } catch (reason) {
    const why = reason instanceof Error ? reason.message : String(reason);
    throw new Error(`formula requires TeX that can be set, got ${tex}: ${why}`);
  }
}

/** A formula on its own line, in the look's frame: it scrolls by itself where the screen is narrow. */
export function standingFormula(tex: string): string {
  return `<div class="formula" tabindex="0" role="group" aria-label="Formula">${
    formula(tex, true)
  }</div>\n`;
}
