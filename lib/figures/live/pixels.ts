/** Pictures made of pixels: a canvas where the page's script runs, the same pixels as an image in a still. */
import { type Html, safe } from "../html.ts";

/** Grey values row after row, 0 black to 1 white; where there is no light to show, NaN. */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly values: Float64Array;
}

/** How a picture of pixels stands in the page. */
export interface Print {
  /** width on the page, px */
  readonly shown: number;
  /** what a reader should see in it */
  readonly finding: string;
  /** a mirror's face: its rim is drawn, since bright glass would be lost on bright paper */
  readonly rim?: boolean;
}

/** Puts pixels into markup: the still and the page differ in nothing else. */
export type Paint = (pixels: Pixels, print: Print) => Html;

/**
 * Pixels from a function of the unit square, the middle of the picture at (0, 0), its edges at -1 and 1.
 *
 * @param size   pixels across, a whole number of 1 or more
 * @param grey   0 to 1 at (x to the right, y downward); NaN leaves the pixel empty
 * @throws {RangeError} for a size that is not such a number
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const disc = pixels(3, (x, y) => Math.hypot(x, y) < 0.9 ? 1 : NaN);
 * assert.deepEqual([...disc.values].map(Number.isNaN).indexOf(false), 1);
 * ```
 */
export function pixels(size: number, grey: (x: number, y: number) => number): Pixels {
  if (!(Number.isInteger(size) && size >= 1)) {
    throw new RangeError(`pixels requires a whole size of 1 or more, got ${size}`);
  }
  const values = new Float64Array(size * size);
  for (let k = 0; k < values.length; k++) {
    values[k] = grey((2 * (k % size) + 1) / size - 1, (2 * Math.floor(k / size) + 1) / size - 1);
  }
  return { width: size, height: size, values };
}

/** Grey and opacity, 0 to 255, of each pixel in turn. */
export function greyAndAlpha({ values }: Pixels): Uint8Array {
  const bytes = new Uint8Array(2 * values.length);
  for (let i = 0; i < values.length; i++) {
    const value = values[i] ?? NaN;
    if (Number.isNaN(value)) continue;
    bytes[2 * i] = Math.round(255 * Math.min(1, Math.max(0, value)));
    bytes[2 * i + 1] = 255;
  }
  return bytes;
}

/** Style of a picture of pixels on the page. */
export function styleOf({ shown, rim }: Print, { width, height }: Pixels): string {
  const size = `width:${shown}px;height:${Math.round(shown * height / width)}px;display:block`;
  return rim === true ? `${size};border:1px solid var(--line);border-radius:50%` : size;
}

/** The canvas of a page whose script runs; what it shows is put on it afterwards. */
export const asCanvas: Paint = (picture, print) =>
  safe`<canvas role="img" aria-label="${print.finding}" width="${picture.width}" height="${picture.height}" style="${
    styleOf(print, picture)
  }"></canvas>`;

/**
 * Pictures side by side, each with its name above it.
 *
 * @param named  name and picture, from left to right
 */
export function sideBySide(named: readonly (readonly [string, Html])[]): Html {
  return safe`<div style="display:flex;flex-wrap:wrap;gap:.4rem 1rem;margin:.6rem 0 0">${
    named.map(([name, picture]) =>
      safe`<div><span class="note" style="font:var(--small)/1.45 var(--sans)">${name}</span>${picture}</div>\n`
    )
  }</div>`;
}
