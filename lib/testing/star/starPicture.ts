/** The one star in a photograph out of focus: found, cut out, or refused. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import { type GreyImage, quantileOf, requireImage, shrunk } from "../photo/photoImage.ts";

/** A star's disc with what is around it, made smaller where it is large. */
export interface StarStamp {
  readonly image: GreyImage;
  /** the camera's pixels in one of these, along a line; below 1 never */
  readonly factor: number;
  /** middle and half width of the disc, these pixels, y downward from the top */
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  /** of the sky, and of the disc's brighter half */
  readonly dark: number;
  readonly bright: number;
}

/** Half the disc's width that is enough for the fit, pixels. */
const USUAL_RADIUS = 22;

/** Half width of what is cut out, in half widths of the disc. */
const CUT_OUT = 1.75;

/** Pixels across a picture in which the star is looked for first. */
const LOOKED_FOR = 360;

/** From here on a camera may have cut the light off, and this share of a disc may be so. */
const BURNT = 0.985, BURNT_SHARE = 0.02;

/** Half widths, pixels, under which a disc is too small to show anything. */
const LEAST_RADIUS = 7;

/** Light of a second spot over the star's that is no more let pass: beside it, within so many half widths, and anywhere. */
const BESIDE = 0.04, BESIDE_REACH = 3, ANYWHERE = 0.5;

/** Half width of what is kept of a picture, in half widths of the star's disc. */
const KEPT = 5;

/** Where a spot of light lies, in pixels of the picture it was looked for in. */
interface Spot {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly light: number;
  readonly pixels: number;
}

/**
 * Finds the star's disc in a photograph and cuts it out.
 *
 * @param image  the whole photograph, or what the maker cut of it
 * @throws {CannotTell} with the reason: no star, two, burnt out, cut by the picture's edge, too small
 */
export function starStamp(image: GreyImage): StarStamp {
  const { found, dark } = starIn(image);
  return cutOut(image, found, dark);
}

/** Where a star's disc lies, pixels. */
interface Disc {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/**
 * What lies around the star, in the picture's own pixels; the whole picture where no star is found in it, or two.
 *
 * @param image  a whole photograph
 */
export function aroundStar(image: GreyImage): GreyImage {
  try {
    const { x, y, radius } = starIn(image).found, half = Math.ceil(KEPT * Math.max(12, radius));
    return part(image, Math.round(x) - half, Math.round(y) - half, 2 * half);
  } catch (error) {
    if (error instanceof CannotTell) return image;
    throw error;
  }
}

/** A square of a picture, as far as the picture goes. */
function part(image: GreyImage, fromX: number, fromY: number, size: number): GreyImage {
  const left = Math.max(0, fromX), top = Math.max(0, fromY);
  const width = Math.min(image.width, fromX + size) - left;
  const height = Math.min(image.height, fromY + size) - top;
  const values = new Float32Array(width * height);
  for (let j = 0; j < height; j++) {
    const from = (top + j) * image.width + left;
    values.set(image.values.subarray(from, from + width), j * width);
  }
  return { width, height, values };
}

function starIn(image: GreyImage): { readonly found: Disc; readonly dark: number } {
  requireImage("starStamp", image);
  const rough = Math.max(1, Math.max(image.width, image.height) / LOOKED_FOR);
  const coarse = shrunk(image, rough), dark = quantileOf(coarse.values, 0.5);
  const top = quantileOf(coarse.values, 1), noise = spread(coarse.values, dark);
  if (!(top - dark > Math.max(0.05, 6 * noise))) {
    throw new CannotTell(
      "no star stands out from the sky in it: expose longer, and look whether the star is in the picture",
    );
  }
  const spots = spotsOf(coarse, dark + 0.35 * (top - dark));
  const [star, ...others] = spots;
  if (star === undefined) throw new CannotTell("no star stands out from the sky in it");
  const reach = Math.max(star.right - star.left, star.bottom - star.top) / 2;
  const second = others.filter((spot) => !inside(spot, star)).find((spot) =>
    spot.light > (apart(spot, star) < BESIDE_REACH * reach ? BESIDE : ANYWHERE) * star.light
  );
  if (second !== undefined) {
    throw new CannotTell(
      `a second star of ${
        Math.round(100 * second.light / star.light)
      } % of its light stands beside it: take a star that is alone, or cut the other one off the picture`,
    );
  }
  const found = {
    x: rough * (star.left + star.right) / 2,
    y: rough * (star.top + star.bottom) / 2,
    radius: rough * reach,
  };
  return { found, dark };
}

function cutOut(image: GreyImage, { x, y, radius }: Disc, dark: number): StarStamp {
  if (radius < LEAST_RADIUS) {
    throw new CannotTell(
      `the star's disc is only ${(2 * radius).toFixed(0)} pixels wide, where ${
        2 * LEAST_RADIUS
      } are the least: zoom in, or go farther out of focus`,
    );
  }
  const edges = [x - radius, y - radius, image.width - x - radius, image.height - y - radius];
  if (Math.min(...edges) < 0.15 * radius) {
    throw new CannotTell(
      "the star's disc is cut by the picture's edge, or touches it: bring the star to the middle",
    );
  }
  const half = Math.ceil(CUT_OUT * radius);
  const left = Math.max(0, Math.round(x) - half), top = Math.max(0, Math.round(y) - half);
  const { width, height, values } = part(
    image,
    Math.round(x) - half,
    Math.round(y) - half,
    2 * half,
  );
  const peak = quantileOf(values, 0.995);
  const lit = values.filter((v) => v > dark + 0.35 * (peak - dark));
  const burnt = lit.reduce((sum, v) => sum + (v > BURNT ? 1 : 0), 0);
  if (burnt > BURNT_SHARE * lit.length) {
    throw new CannotTell(
      `${
        Math.round(100 * burnt / lit.length)
      } % of the star's disc is burnt out white, so its brightness is lost: expose for a shorter time`,
    );
  }
  const factor = Math.max(1, radius / USUAL_RADIUS);
  // as light, nearly: the camera's own values, nearly roots of it, do not add up
  const small = shrunk({ width, height, values: values.map((v) => v * v) }, factor);
  return {
    image: { ...small, values: small.values.map(Math.sqrt) },
    factor,
    x: (x - left) / factor,
    y: (y - top) / factor,
    radius: radius / factor,
    dark,
    bright: quantileOf(lit, 0.6),
  };
}

/** Scatter of what is dark, by the median of its departures. */
function spread(values: Float32Array, middle: number): number {
  return 1.4826 * quantileOf(values.map((v) => Math.abs(v - middle)), 0.5);
}

/** From middle to middle. */
function apart(a: Spot, b: Spot): number {
  const across = a.left + a.right - b.left - b.right, down = a.top + a.bottom - b.top - b.bottom;
  return Math.hypot(across, down) / 2;
}

function inside(small: Spot, large: Spot): boolean {
  return small.left >= large.left && small.right <= large.right && small.top >= large.top &&
    small.bottom <= large.bottom;
}

/** Connected spots above a level, the one with most light first. */
function spotsOf({ width, height, values }: GreyImage, level: number): readonly Spot[] {
  const seen = new Uint8Array(values.length), stack: number[] = [], spots: Spot[] = [];
  for (let start = 0; start < values.length; start++) {
    if (seen[start] === 1 || (values[start] as number) < level) continue;
    let left = width, right = 0, top = height, bottom = 0, light = 0, pixels = 0;
    stack.push(start);
    seen[start] = 1;
    for (let at = stack.pop(); at !== undefined; at = stack.pop()) {
      const x = at % width, y = (at - x) / width;
      left = Math.min(left, x);
      right = Math.max(right, x + 1);
      top = Math.min(top, y);
      bottom = Math.max(bottom, y + 1);
      light += (values[at] as number) ** 2;
      pixels++;
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          const a = x + dx, b = y + dy, k = b * width + a;
          if (a < 0 || b < 0 || a >= width || b >= height) continue;
          if (seen[k] === 1 || (values[k] as number) < level) continue;
          seen[k] = 1;
          stack.push(k);
        }
      }
    }
    if (pixels > 1) spots.push({ left, right, top, bottom, light, pixels });
  }
  return spots.sort((a, b) => b.light - a.light);
}
