/**
 * A drawing as an image, for a notebook that is not trusted: there the front end takes out svg, styles and scripts, and
 * leaves images that carry their own data. A page of the book gets the drawing itself back.
 */
import { type Html, safe, trusted } from "../html.ts";
import { colours, rules } from "../look.ts";
import { encode } from "fast-png";
import { greyAndAlpha, type Paint, type Pixels, styleOf } from "./pixels.ts";

/** The look's rules for strokes and words of a drawing, as they hold in an image of its own: always by daylight. */
const style: string = [
  `svg { ${colours.light} color: #1a2224; --sans: system-ui, "Noto Sans", sans-serif; }`,
  ...rules.split("\n").filter((rule) =>
    /^(figure svg (text|\.)|\.(t-|body|ground|polished|steel|lead|axis|zone|halo|ray))/.test(rule)
  ),
].join("\n").replaceAll("figure svg ", "svg ");

const begins = '<svg role="img" aria-label="';
const added = `<svg xmlns="http://www.w3.org/2000/svg"><style>${style}</style>`;
const address = "data:image/svg+xml;base64,";

/** Base64 of a text in UTF-8; what happens to spell the word for a missing number is written otherwise. */
function encoded(text: string): string {
  const bytes = [...new TextEncoder().encode(text)].map((byte) => String.fromCharCode(byte));
  return btoa(bytes.join("")).replaceAll("NaN", "Na%4E");
}

function decoded(code: string): string {
  const bytes = Uint8Array.from(atob(code.replaceAll("%4E", "N")), (c) => c.charCodeAt(0));
  return new TextDecoder().decode(bytes);
}

/** A drawing inside another svg that brings the name space and the rules, so that it is kept as it is. */
function imageOf(svg: string): string {
  const alt = /aria-label="([^"]*)"/.exec(svg)?.[1] ?? "";
  const [, width, height] = /width="([\d.]+)" height="([\d.]+)"/.exec(svg) ?? [];
  const size = `width="${width}" height="${height}"`;
  const outer = added.replace("<svg ", `<svg ${size} `);
  return `<img class="drawn" alt="${alt}" ${size} src="${address}${
    encoded(`${outer}${svg}</svg>`)
  }">`;
}

/**
 * Markup whose drawings are images that need nothing from the page around them.
 *
 * @param markup  drawings made by `drawing`, and whatever stands between them
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { dot, drawing } from "../pen.ts";
 * const mark = drawing({ width: 20, height: 10, finding: "A dot.", contents: dot("mine", [5, 5], 3) });
 * const image = asStill(mark);
 * assert.match(image.markup, /^<img class="drawn" alt="A dot\." width="20" height="10" src="data:image/);
 * assert.equal(inlined(image.markup), mark.markup);
 * ```
 */
export function asStill(markup: Html): Html {
  const drawings = /<svg role="img" aria-label="[\s\S]*?<\/svg>/g;
  return trusted(markup.markup.replace(drawings, imageOf));
}

/** The same markup with the drawings themselves, for a page that has the look's style sheet. */
export function inlined(markup: string): string {
  return markup.replace(
    /<img class="drawn"[^>]*? src="data:image\/svg\+xml;base64,([^"]*)">/g,
    (_, code: string) => {
      const file = decoded(code), from = file.indexOf(begins);
      return file.slice(from, file.length - "</svg>".length);
    },
  );
}

/** The image of a still: a PNG inside the markup, so that it needs no script and no file beside it. */
export const asImage: Paint = (picture, print) =>
  safe`<img alt="${print.finding}" style="${styleOf(print, picture)}" src="${
    pngAddress(picture)
  }">`;

/**
 * Pixels as the address of a PNG that carries its data.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { pixels } from "./pixels.ts";
 * assert.match(pngAddress(pixels(2, () => 1)), /^data:image\/png;base64,iVBORw0KGgo/);
 * ```
 */
export function pngAddress(picture: Pixels): string {
  const { width, height } = picture;
  const file = encode({ width, height, channels: 2, data: greyAndAlpha(picture) });
  // letters that happen to spell the word for a missing number would alarm whoever searches a page for one
  return `data:image/png;base64,${file.toBase64().replaceAll("NaN", "Na%4E")}`;
}
