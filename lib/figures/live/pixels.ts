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

function styleOf({ shown, rim }: Print, { width, height }: Pixels): string {
  const size = `width:${shown}px;height:${Math.round(shown * height / width)}px;display:block`;
  return rim === true ? `${size};border:1px solid var(--line);border-radius:50%` : size;
}

/** The canvas of a page whose script runs; what it shows is put on it afterwards. */
export const asCanvas: Paint = (picture, print) =>
  safe`<canvas role="img" aria-label="${print.finding}" width="${picture.width}" height="${picture.height}" style="${
    styleOf(print, picture)
  }"></canvas>`;

/** The image of a still: a PNG inside the markup, so that it needs no script and no file beside it. */
export const asImage: Paint = (picture, print) =>
  safe`<img alt="${print.finding}" style="${styleOf(print, picture)}" src="${
    pngAddress(picture)
  }">`;

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

/**
 * Pixels as the address of a PNG that carries its data.
 *
 * Rows are stored, not compressed: a picture of 81 by 81 takes 18 kB.
 *
 * @see W3C, Portable Network Graphics, grey with alpha, filter 0; RFC 1950 and 1951, stored blocks (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(pngAddress(pixels(2, () => 1)), /^data:image\/png;base64,iVBORw0KGgo/);
 * ```
 */
export function pngAddress(picture: Pixels): string {
  const { width, height } = picture, bytes = greyAndAlpha(picture);
  const rows = new Uint8Array(height * (2 * width + 1));
  for (let y = 0; y < height; y++) {
    rows.set(bytes.subarray(2 * width * y, 2 * width * (y + 1)), y * (2 * width + 1) + 1);
  }
  const head = [...word(width), ...word(height), 8, 4, 0, 0, 0];
  const file = [
    ...[137, 80, 78, 71, 13, 10, 26, 10],
    ...chunk("IHDR", head),
    ...chunk("IDAT", [...stored(rows)]),
    ...chunk("IEND", []),
  ];
  const code = btoa(file.map((byte) => String.fromCharCode(byte)).join(""));
  // letters that happen to spell the word for a missing number would alarm whoever searches a page for one
  return `data:image/png;base64,${code.replaceAll("NaN", "Na%4E")}`;
}

const word = (n: number): number[] => [n >>> 24, (n >>> 16) & 255, (n >>> 8) & 255, n & 255];

function chunk(name: string, data: readonly number[]): number[] {
  const body = [...name].map((letter) => letter.charCodeAt(0)).concat(data);
  return [...word(data.length), ...body, ...word(crc32(body))];
}

/** A zlib stream of stored blocks, each of at most 65 535 bytes. */
function stored(bytes: Uint8Array): number[] {
  const out = [0x78, 0x01], most = 65535;
  for (let at = 0; at === 0 || at < bytes.length; at += most) {
    const part = bytes.subarray(at, at + most), n = part.length;
    out.push(at + most >= bytes.length ? 1 : 0, n & 255, n >> 8, ~n & 255, (~n >> 8) & 255);
    for (const byte of part) out.push(byte);
  }
  let a = 1, b = 0;
  for (const byte of bytes) {
    a = (a + byte) % 65521;
    b = (b + a) % 65521;
  }
  return [...out, ...word(b * 65536 + a)];
}

function crc32(bytes: readonly number[]): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return ~crc >>> 0;
}
