/** The pen of the scale drawings: few strokes, places rounded to a tenth of a px, a number that is not finite refused. */
import { escapeHtml, type Html, type HtmlValue, safe, trusted } from "./html.ts";

/** A point on the sheet, px from its upper left corner. */
export type Point = readonly [x: number, y: number];

/**
 * A coordinate as svg wants it.
 *
 * @throws {RangeError} where it is NaN or infinite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(place(10.26), "10.3");
 * ```
 */
export function place(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`place requires a finite number, got ${value}`);
  return String(Math.round(value * 10) / 10 + 0);
}

/**
 * The data of a path through points, closed if asked.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(through([[0, 0], [10, 5.25]]), "M0,0L10,5.3");
 * ```
 */
export function through(points: readonly Point[], closed = false): string {
  const data = points.map(([x, y]) => `${place(x)},${place(y)}`).join("L");
  return data === "" ? "" : `M${data}${closed ? "Z" : ""}`;
}

/** One element of a drawing; attributes that are `undefined` are left out, numbers rounded. */
export function element(
  name: string,
  attributes: Readonly<Record<string, string | number | undefined>>,
  text?: string,
): Html {
  const list = Object.entries(attributes).map(([key, value]) =>
    value === undefined
      ? ""
      : ` ${key}="${typeof value === "number" ? place(value) : escapeHtml(value)}"`
  ).join("");
  return trusted(`<${name}${list}>${text === undefined ? "" : escapeHtml(text)}</${name}>`);
}

/** Parts of a drawing as one, those left out as `false` or `undefined` skipped. */
export function group(...parts: HtmlValue[]): Html {
  return safe`${parts}`;
}

/** A path; `kind` is the look's class: body, rim, ground, dim, lead, limit, axis, mine ... */
export function path(kind: string, data: string, style?: string): Html {
  return element("path", { class: kind, style, d: data });
}

/** A straight stroke. */
export function stroke(kind: string, from: Point, to: Point, style?: string): Html {
  return path(kind, through([from, to]), style);
}

/** A rectangle by its upper left corner; a width or height below zero becomes 0. */
export function rect(
  kind: string,
  [x, y]: Point,
  width: number,
  height: number,
  style?: string,
): Html {
  const size = { width: Math.max(0, width), height: Math.max(0, height) };
  return element("rect", { class: kind, style, x, y, ...size });
}

/** A round mark. */
export function dot(kind: string, [cx, cy]: Point, r: number, style?: string): Html {
  return element("circle", { class: kind, style, cx, cy, r });
}

/**
 * Many round marks of one width and colour, as one path of round ends: far fewer bytes than as many circles.
 *
 * @param wide    px
 * @param colour  of the marks
 */
export function dots(points: readonly Point[], wide: number, colour: string): Html {
  const data = points.map(([x, y]) => `M${place(x)},${place(y)}h0`).join("");
  return path("", data, `fill:none;stroke:${colour};stroke-width:${wide};stroke-linecap:round`);
}

/** Words on the sheet; the anchor is always set, since the sheet around may have another. */
export function words(
  [x, y]: Point,
  text: string,
  { kind, anchor = "start" }: { kind?: string; anchor?: "start" | "middle" | "end" } = {},
): Html {
  return element("text", { x, y, "text-anchor": anchor, class: kind }, text);
}

/** A dimension line along the sheet, ending in bars. */
export function across(from: number, to: number, y: number, kind = "dim"): Html {
  const [a, b, t, u, m] = [from, to, y - 5, y + 5, y].map(place);
  return path(kind, `M${a},${t}V${u}M${b},${t}V${u}M${a},${m}H${b}`, "fill:none");
}

/** A dimension line down the sheet, ending in bars. */
export function down(x: number, from: number, to: number, kind = "dim"): Html {
  const [l, r, c, a, b] = [x - 5, x + 5, x, from, to].map(place);
  return path(kind, `M${l},${a}H${r}M${c},${a}V${b}M${l},${b}H${r}`, "fill:none");
}

/** About how wide a text stands at 13 px in the device's sans: enough to keep labels apart. */
export function widthOf(text: string): number {
  return text.length * 6.9;
}

/** A text broken at its spaces so that each line fits; a single word may still be wider. */
export function linesOf(text: string, width: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const longer = `${lines.at(-1) ?? ""} ${word}`.trim();
    if (lines.length > 0 && widthOf(longer) <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

/**
 * A drawing as one svg that tells its finding.
 *
 * @param finding  one or two sentences: what a reader should see in it
 * @throws {RangeError} where the finding is empty
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const contents = dot("mine", [5, 5], 3);
 * const mark = drawing({ width: 20, height: 10, finding: "A dot.", contents });
 * assert.match(mark.markup, /^<svg role="img" aria-label="A dot\."/);
 * ```
 */
export function drawing(sheet: {
  readonly width: number;
  readonly height: number;
  readonly finding: string;
  readonly contents: Html | readonly Html[];
}): Html {
  const { width, height, finding } = sheet;
  if (finding.trim() === "") throw new RangeError("drawing requires a finding, got an empty one");
  const box = trusted(`viewBox="0 0 ${place(width)} ${place(height)}"`);
  const size = trusted(`width="${place(width)}" height="${place(height)}"`);
  return safe`<svg role="img" aria-label="${finding}" class="plot" ${size} ${box} fill="currentColor">${sheet.contents}</svg>`;
}
