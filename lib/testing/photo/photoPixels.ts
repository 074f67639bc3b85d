/** The pixels of one photograph a fit looks at, and what is known of the photograph beforehand. */
import { bandsAcross } from "./photoCheck.ts";
import { type GreyImage, quantileOf, shrunk } from "./photoImage.ts";
import { type Bench, LIGHT_TERMS, OWN, OWN_COUNT, TONE_KNOTS } from "./photoModel.ts";
import type { Outline } from "./photoOutline.ts";

/** One photograph, ready to be fitted. */
export interface PhotoPixels {
  readonly bench: Bench;
  readonly outline: Outline;
  /** middle of each pixel */
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly value: Float64Array;
  /** 1 looked at, 0 set aside */
  readonly weight: Float64Array;
  /** place of each pixel in rows of `across`, for its neighbours */
  readonly place: Int32Array;
  readonly across: number;
  /** middle of the picture from the disc's, half widths of the disc, y upward: a lens bends about it */
  readonly middle: readonly [number, number];
  /** first guesses of the photograph's own unknowns, and how far they may be off */
  readonly start: Float64Array;
  readonly spread: Float64Array;
}

/** What the maker wrote about a photograph. */
export interface Stated {
  /** mm from the centre of curvature, + = farther */
  readonly offset: number;
  /** standard uncertainty of it, mm */
  readonly offsetU: number;
  /** exponent of the camera's curve, where it is known */
  readonly gamma?: number;
}

/** Pixels across the disc that are enough for a dozen bands. */
const USUAL_ACROSS = 56;

/** Share of the radius that is looked at. At the rim blur mixes in what is around: a pixel or two are left out there too. */
const LOOKED_AT = 0.985, RIM = 0.6;

/** Takes the pixels of the disc, averaged to what the bands need. */
export function pixelsOf(
  image: GreyImage,
  found: Outline,
  bench: Bench,
  stated: Stated,
): PhotoPixels {
  const bands = bandsAcross(bench, stated.offset);
  const wanted = Math.max(USUAL_ACROSS, 8 * bands);
  const factor = Math.max(1, (2 * found.radius) / wanted);
  const { image: small, left, top } = averaged(image, found, factor);
  const outline = {
    ...found,
    x: (found.x - left) / factor,
    y: (found.y - top) / factor,
    radius: found.radius / factor,
    u: Math.max(found.u / factor, 0.05),
  };
  const picked = pick(small, outline, RIM + 1.2 / factor);
  const middle = [
    (image.width / 2 - found.x) / found.radius,
    (found.y - image.height / 2) / found.radius,
  ] as const;
  const lens = (found.radius / Math.hypot(image.width / 2, image.height / 2)) ** 2;
  const own = firstGuesses({ outline, factor, lens, bench }, picked.value, stated);
  return { bench, outline, middle, ...picked, ...own };
}

/** The disc's surroundings, averaged as light: the camera's own values, nearly roots of light, do not add up. */
function averaged(
  { width, height, values }: GreyImage,
  { x, y, radius }: Outline,
  factor: number,
): { readonly image: GreyImage; readonly left: number; readonly top: number } {
  const reach = radius + 2 * factor, left = Math.max(0, Math.floor(x - reach));
  const top = Math.max(0, Math.floor(y - reach));
  const wide = Math.min(width, Math.ceil(x + reach)) - left;
  const high = Math.min(height, Math.ceil(y + reach)) - top;
  const light = new Float32Array(wide * high);
  for (let j = 0; j < high; j++) {
    const from = (top + j) * width + left;
    for (let i = 0; i < wide; i++) light[j * wide + i] = (values[from + i] as number) ** 2;
  }
  const small = shrunk({ width: wide, height: high, values: light }, factor);
  return { image: { ...small, values: small.values.map(Math.sqrt) }, left, top };
}

function pick(
  { width, height, values }: GreyImage,
  { x, y, radius }: Outline,
  rim: number,
): Pick<PhotoPixels, "x" | "y" | "value" | "weight" | "place" | "across"> {
  const reach = Math.min(LOOKED_AT * radius, radius - rim);
  const xs: number[] = [], ys: number[] = [], vs: number[] = [], places: number[] = [];
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      const dx = i + 0.5 - x, dy = j + 0.5 - y;
      if (dx * dx + dy * dy > reach * reach) continue;
      xs.push(i + 0.5);
      ys.push(j + 0.5);
      vs.push(values[j * width + i] ?? 0);
      places.push(j * width + i);
    }
  }
  return {
    x: Float64Array.from(xs),
    y: Float64Array.from(ys),
    value: Float64Array.from(vs),
    weight: new Float64Array(vs.length).fill(1),
    place: Int32Array.from(places),
    across: width,
  };
}

/** What a photograph is taken with, as far as it tells beforehand. */
interface Taken {
  readonly outline: Outline;
  /** the camera's pixels averaged into one */
  readonly factor: number;
  /** square of the disc's half width over half the picture's diagonal */
  readonly lens: number;
  readonly bench: Bench;
}

/**
 * What hand-held phones and gratings do (COMMON PRACTICE): held up to ten degrees aslant, lenses that bend by two in a hundred at the picture's corner,
 * a softness of most of a pixel, a hand that moves by a hundredth or two of the disc, a curve bent by a tenth of white; lines as wide
 * as their gaps to some hundredths of a pitch, light of one colour or white, as grey sees it.
 */
const ASLANT = 0.1,
  BENT = 0.02,
  SOFT = 0.7,
  MOVED = 2e-4,
  TONE = 0.08,
  TONE_STATED = 0.015,
  UNEVEN_LINES = 0.025,
  COLOURS = 0.006;

/** A turned edge throws its light elsewhere, so that the disc seems smaller by up to some thousandths of it, and not evenly so. */
const SMALLER = 0.006, BESIDE = 0.0015;

function firstGuesses(
  { outline, factor, lens, bench }: Taken,
  value: Float64Array,
  { offset, offsetU, gamma }: Stated,
): Pick<PhotoPixels, "start" | "spread"> {
  const start = new Float64Array(OWN_COUNT), spread = new Float64Array(OWN_COUNT).fill(Infinity);
  const set = (at: number, guess: number, u: number): void => {
    start[at] = guess;
    spread[at] = u;
  };
  set(OWN.offset, offset, Math.max(20 * offsetU, 5)); // the picture tells it better than a ruler
  set(OWN.turn, 0, 0.2);
  set(OWN.x, outline.x, Math.hypot(outline.u, BESIDE * outline.radius));
  set(OWN.y, outline.y, Math.hypot(outline.u, BESIDE * outline.radius));
  set(OWN.radius, outline.radius, Math.hypot(outline.u, SMALLER * outline.radius));
  set(OWN.light, 2.2 * Math.log(quantileOf(value, 0.9)), 3);
  for (let k = 1; k < LIGHT_TERMS; k++) set(OWN.light + k, 0, 1);
  set(OWN.fog, 0.1, 0.3);
  if (gamma === undefined) set(OWN.power, 1 / 2.2, 0.25);
  else set(OWN.power, 1 / gamma, 0.02 / gamma);
  set(OWN.sharpness, 1, 0.5);
  set(OWN.veil, 0, 0.02);
  const { u, radius, stretch } = outline, oval = stretch === undefined ? 0.01 : u / radius + 1e-3;
  for (let k = 0; k < 2; k++) {
    set(OWN.stretch + k, stretch?.[k] ?? 0, oval);
    set(OWN.slant + k, 0, (ASLANT * bench.half) / bench.radius);
  }
  set(OWN.bow, 0, BENT * lens);
  const soft = (1 / 12 + (SOFT / factor) ** 2) / (radius * radius);
  for (let k = 0; k < 3; k++) set(OWN.blur + k, k === 1 ? 0 : soft, MOVED + soft);
  set(OWN.duty, 1e-9, UNEVEN_LINES); // what is exactly nothing is not reckoned
  set(OWN.colours, COLOURS, COLOURS);
  for (let k = 0; k < TONE_KNOTS; k++) {
    set(OWN.tone + k, 0, gamma === undefined ? TONE : TONE_STATED);
  }
  return { start, spread };
}
