/** The pixels of one photograph a fit looks at, and what is known of the photograph beforehand. */
import { bandsAcross } from "./photoCheck.ts";
import { type GreyImage, quantileOf, shrunk } from "./photoImage.ts";
import { type Bench, LIGHT_TERMS, OWN, OWN_COUNT } from "./photoModel.ts";
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
  const small = shrunk(image, factor);
  const outline = {
    x: found.x / factor,
    y: found.y / factor,
    radius: found.radius / factor,
    u: Math.max(found.u / factor, 0.05),
  };
  const picked = pick(small, outline, RIM + 1.2 / factor);
  return { bench, outline, ...picked, ...firstGuesses(outline, picked.value, stated) };
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

function firstGuesses(
  outline: Outline,
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
  set(OWN.x, outline.x, outline.u);
  set(OWN.y, outline.y, outline.u);
  set(OWN.radius, outline.radius, outline.u);
  set(OWN.light, 2.2 * Math.log(quantileOf(value, 0.9)), 3);
  for (let k = 1; k < LIGHT_TERMS; k++) set(OWN.light + k, 0, 1);
  set(OWN.fog, 0.1, 0.3);
  if (gamma === undefined) set(OWN.power, 1 / 2.2, 0.25);
  else set(OWN.power, 1 / gamma, 0.02 / gamma);
  set(OWN.sharpness, 1, 0.5);
  set(OWN.veil, 0, 0.1);
  return { start, spread };
}
