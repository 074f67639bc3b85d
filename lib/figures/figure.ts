/** A figure: one drawing for each width of the page, a caption, and the finding in words. */
import { Html, safe, trusted } from "./html.ts";
import { type Shown, wordsOf } from "./show.ts";

/** Widths in px that drawings are made for, and the class that lets the style sheet choose. */
const sheets = {
  column: [[608, "big-only"], [340, "small-only"]],
  wide: [[880, "wide-only"], [608, "mid-only"], [340, "small-only"]],
} as const;

/**
 * Whether a drawing is for a phone's column: larger words for its size, less beside one another.
 *
 * @param width  px
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([340, 499, 500, 608].map(isNarrow), [true, true, false, false]);
 * ```
 */
export function isNarrow(width: number): boolean {
  return width < 500;
}

/** How a figure is told. */
export interface FigureParts {
  /** what it shows and what was found, for those who cannot see it */
  readonly finding: string;
  /** what stands below it: the finding in bold first, then what bar and band are */
  readonly caption: Html;
  /** draws the svg for one width, px */
  readonly draw: (width: number) => Html;
  /** "column" (default) or "wide", which also has a drawing at 880 px */
  readonly span?: keyof typeof sheets;
}

/** Puts a class on the svg of a drawing, beside "plot". */
function onlyAt(markup: string, only: string): Html {
  const marked = markup.replace(/class="plot"/, `class="plot ${only}"`);
  if (marked === markup) throw new TypeError('figure requires a drawing of class "plot"');
  return trusted(marked);
}

/**
 * Draws one figure at every width of the page, so that its words are never scaled down.
 *
 * @throws {TypeError} where the drawing is not of class "plot"
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { safe } from "./html.ts";
 * import { drawing } from "./pen.ts";
 * const shown = figure({
 *   finding: "Nothing yet.",
 *   caption: safe`<b>Empty.</b>`,
 *   draw: (width) => drawing({ width, height: 20, finding: "Nothing yet.", contents: [] }),
 * });
 * assert.equal(shown.html.match(/<svg/g)?.length, 2);
 * ```
 */
export function figure(parts: FigureParts): Shown {
  const { span = "column", finding, caption, draw } = parts;
  const drawings = sheets[span].map(([width, only]) => onlyAt(draw(width).markup, only));
  const wide = span === "wide" && trusted(' class="wide"');
  const markup = safe`<figure${wide}>
${drawings}
<figcaption>${caption}</figcaption>
</figure>`;
  return { html: markup.markup, text: `${finding}\n${wordsOf(caption.markup)}` };
}
