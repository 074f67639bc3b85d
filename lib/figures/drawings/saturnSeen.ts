/** Saturn as an eyepiece shows it through one mirror: larger with the magnification, never finer than mirror and air allow. */
import { extendedImage, type SeenThrough } from "../../optics/extendedImage.ts";
import type { Picture } from "../../optics/starImage.ts";
import { fixed } from "../scale.ts";
import { type Html, safe } from "../html.ts";
import { asImage } from "../live/still.ts";
import { type Pixels, sideBySide } from "../live/pixels.ts";
import { PX_PER_DEGREE, saturnLight, type SaturnShape } from "./saturn.ts";
import { type Shown, wordsOf } from "../show.ts";

/** What is looked at, and through what: aperture mm, flat, wavefront; the air's blur comes row by row. */
export interface SaturnView extends SaturnShape, Omit<SeenThrough, "seeingArcsec"> {
  /** one column each, times */
  readonly magnifications: readonly number[];
  /** width of a star's blur by the air, arcseconds: 0 still, 3 a bad night */
  readonly seeingArcsec: readonly number[];
  /** whose mirror, for the caption: "a perfect mirror", "this mirror as measured" */
  readonly mirror?: string;
}

const SIZE = 256, FINE = 3;
/** Picture over rings in width, and height over width of what is shown of it. */
const MARGIN = 1.25, TALL = 0.6;

/** The planet as no air and no mirror would show it. */
function scene(view: SaturnView, pixel: number): Picture {
  const values = new Float64Array(SIZE * SIZE);
  for (let i = 0; i < values.length; i++) {
    const x = (i % SIZE) - SIZE / 2, y = Math.floor(i / SIZE) - SIZE / 2;
    let sum = 0;
    for (let k = 0; k < FINE * FINE; k++) {
      const dx = (k % FINE + 0.5) / FINE - 0.5, dy = (Math.floor(k / FINE) + 0.5) / FINE - 0.5;
      sum += saturnLight(view, (x + dx) * pixel, (y + dy) * pixel);
    }
    values[i] = sum / FINE ** 2;
  }
  return { size: SIZE, values };
}

/** A part of a picture, as wide as the page wants it, as bright as a screen must be for the eye to see that light. */
function printed({ values }: Picture, width: number): Pixels {
  const height = Math.round(width * TALL), step = SIZE / width;
  const out = new Float64Array(width * height), top = (SIZE * (1 - TALL)) / 2;
  for (let i = 0; i < out.length; i++) {
    const x0 = (i % width) * step, y0 = top + Math.floor(i / width) * step;
    let sum = 0, count = 0;
    for (let y = Math.floor(y0); y < y0 + step - 1e-9; y++) {
      for (let x = Math.floor(x0); x < x0 + step - 1e-9; x++, count++) {
        sum += values[y * SIZE + x] ?? 0;
      }
    }
    out[i] = Math.min(1, Math.max(0, sum / Math.max(1, count))) ** (1 / 2.2);
  }
  return { width, height, values: out };
}

const nameOf = (seeing: number): string =>
  seeing === 0 ? "still air" : `air that blurs by ${fixed(seeing)}″`;

function rowOf(view: SaturnView, planet: Picture, pixel: number, seeingArcsec: number): Html {
  const image = extendedImage(planet, pixel, { ...view, seeingArcsec });
  const pictures = view.magnifications.map((m): [string, Html] => {
    const shown = Math.round((SIZE * pixel * m * PX_PER_DEGREE) / 3600);
    const finding = `Saturn at ${fixed(m)} times, ${nameOf(seeingArcsec)}, simulated.`;
    const wide = Math.min(SIZE, Math.max(8, Math.round(1.5 * shown)));
    return [`${fixed(m)}×`, asImage(printed(image, wide), { shown, finding })];
  });
  return safe`<div><b class="note">${nameOf(seeingArcsec)}</b>${sideBySide(pictures)}</div>\n`;
}

/**
 * Saturn at several magnifications, in still air and in bad, through a mirror with its wavefront and its flat: its shapes,
 * weakened at every fineness as mirror and air weaken it.
 *
 * @param view  aperture above 0 mm, sizes above 0 arcseconds, magnifications above 0, blur 0 or more
 * @throws {RangeError} outside those ranges, or those of `extendedImage`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const saturn = { ringsArcsec: 44.7, globeArcsec: 19.7, ringTilt: 0.13 };
 * const shown = saturnSeen({ aperture: 150, ...saturn, magnifications: [48, 120], seeingArcsec: [0] });
 * assert.match(shown.text, /48 and 120 times/);
 * ```
 */
export function saturnSeen(view: SaturnView): Shown {
  const { aperture, ringsArcsec, globeArcsec, ringTilt, magnifications, seeingArcsec } = view;
  const sizes = [aperture, ringsArcsec, globeArcsec, ...magnifications];
  const ok = sizes.every((size) => size > 0 && Number.isFinite(size)) &&
    magnifications.length > 0 && globeArcsec < ringsArcsec &&
    seeingArcsec.length > 0 && seeingArcsec.every((seeing) => seeing >= 0) &&
    Number.isFinite(ringTilt);
  if (!ok) {
    throw new RangeError(
      `saturnSeen requires sizes and magnifications above 0, a globe within its rings and blur of 0 or more, got ${
        JSON.stringify(view)
      }`,
    );
  }
  const pixel = (MARGIN * ringsArcsec) / SIZE, planet = scene(view, pixel);
  const rows = seeingArcsec.map((seeing) => rowOf(view, planet, pixel, seeing));
  const times = magnifications.map((m) => fixed(m)).join(" and ");
  const finest = fixed(138 / aperture, 2), mirror = view.mirror ?? "a perfect mirror";
  const flat = (view.obstruction ?? 0) > 0
    ? `, behind a flat of ${fixed(view.obstruction ?? 0, 2)} of its width`
    : "";
  const through = `${fixed(aperture)} mm, ${mirror}${flat}`;
  const finding =
    `Saturn, its rings ${
      fixed(ringsArcsec, 1)
    }″ long, at ${times} times through ${through}, simulated: ` +
    `the picture grows, its finest detail of about ${finest}″ stays.`;
  const caption =
    safe`<b>It grows, and grows no finer.</b> Simulated, through ${through}: detail below about ${finest}″ is lost whatever the eyepiece. Hold the page 60 cm away to see the sizes as in the eyepiece.`;
  const markup = safe`<figure>${rows}<figcaption>${caption}</figcaption></figure>`;
  return { html: markup.markup, text: `${finding}\n${wordsOf(caption.markup)}` };
}
