/** The pen of the printables: everything in millimetres on paper, black on white, places kept to a micrometre. */
import { escapeHtml, type Html, safe, trusted } from "../html.ts";

/** A point, mm from the upper left corner. */
export type At = readonly [x: number, y: number];

/** How a stroke is drawn; widths mm. */
export interface Ink {
  readonly width?: number;
  readonly dash?: string;
  readonly colour?: string;
  readonly fill?: string;
}

/**
 * A length as svg wants it, to a thousandth of a millimetre.
 *
 * @throws {RangeError} where it is NaN or infinite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(mm(74.00049), "74");
 * ```
 */
export function mm(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`mm requires a finite length, got ${value}`);
  return String(Number(value.toFixed(3)) + 0);
}

function inkOf({ width = 0.2, dash, colour = "#000", fill = "none" }: Ink): string {
  const dashes = dash === undefined ? "" : ` stroke-dasharray="${dash}"`;
  return `fill="${fill}" stroke="${colour}" stroke-width="${mm(width)}"${dashes}`;
}

/** A straight stroke. */
export function line([x1, y1]: At, [x2, y2]: At, ink: Ink = {}): Html {
  return trusted(`<path d="M${mm(x1)},${mm(y1)}L${mm(x2)},${mm(y2)}" ${inkOf(ink)}/>`);
}

/** A line through points, closed if asked. */
export function through(points: readonly At[], closed: boolean, ink: Ink = {}): Html {
  const data = points.map(([x, y]) => `${mm(x)},${mm(y)}`).join("L");
  return trusted(`<path d="M${data}${closed ? "Z" : ""}" ${inkOf(ink)}/>`);
}

/** A circle. */
export function circle([x, y]: At, radius: number, ink: Ink = {}): Html {
  return trusted(`<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" ${inkOf(ink)}/>`);
}

/** A cross, each arm so long. */
export function cross([x, y]: At, arm: number, ink: Ink = {}): Html {
  return safe`${line([x - arm, y], [x + arm, y], ink)}${line([x, y - arm], [x, y + arm], ink)}`;
}

/** A rectangle by its upper left corner. */
export function box([x, y]: At, width: number, height: number, ink: Ink = {}): Html {
  return trusted(
    `<rect x="${mm(x)}" y="${mm(y)}" width="${mm(width)}" height="${mm(height)}" ${inkOf(ink)}/>`,
  );
}

/** How words are set; the size is the type's, mm. */
export interface Type {
  readonly size?: number;
  readonly anchor?: "start" | "middle" | "end";
  readonly bold?: boolean;
  readonly colour?: string;
  /** turned about its place, degrees clockwise */
  readonly turn?: number;
}

/** Words; escaped, whatever they hold. */
export function words([x, y]: At, text: string, type: Type = {}): Html {
  const { size = 3.2, anchor = "start", bold = false, colour = "#000", turn } = type;
  const turned = turn === undefined ? "" : ` transform="rotate(${turn} ${mm(x)} ${mm(y)})"`;
  return trusted(
    `<text x="${mm(x)}" y="${mm(y)}" font-size="${mm(size)}" text-anchor="${anchor}"${
      bold ? ' font-weight="700"' : ""
    } fill="${colour}"${turned}>${escapeHtml(text)}</text>`,
  );
}

/** About how wide words stand, mm: the cautious side of the common sans faces. */
export function widthOf(text: string, size = 3.2): number {
  return text.length * size * 0.58;
}

/** A text broken at its spaces so that each line fits; a word that is wider stands alone. */
export function linesOf(text: string, width: number, size = 3.2): string[] {
  const lines: string[] = [];
  for (const word of text.split(/\s+/)) {
    const longer = `${lines.at(-1) ?? ""} ${word}`.trim();
    if (lines.length > 0 && widthOf(longer, size) <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

/**
 * A drawing as an svg of its own, in true millimetres.
 *
 * @param finding  what it is, for those who cannot see it
 */
export function svg(width: number, height: number, finding: string, contents: Html): Html {
  const size = `width="${mm(width)}mm" height="${mm(height)}mm" viewBox="0 0 ${mm(width)} ${
    mm(height)
  }"`;
  return safe`<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="${finding}" ${
    trusted(size)
  } font-family="'DejaVu Sans', Verdana, sans-serif">${contents}</svg>`;
}
