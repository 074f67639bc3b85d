/** The mirror in knife-edge photographs: found, cut out, made small, or refused. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import { median } from "../../numeric/quantiles.ts";
import { type GreyImage, shrunk } from "../photo/photoImage.ts";
import { findOutline, type Outline } from "../photo/photoOutline.ts";

/** Half the disc's width that is enough for the fit, pixels. */
const USUAL_RADIUS = 150;

/** Half width of what is cut out, in radii of the disc. */
const CUT_OUT = 1.2;

/** From here on a camera may have cut the light off, and this share of a disc may be so. */
const BURNT = 0.985, BURNT_SHARE = 0.02;

/** Half widths, pixels, under which a disc is too small. */
const LEAST_RADIUS = 40;

/** How far a disc may reach beyond the picture's edge, radii: as its outline is known. */
const BEYOND = 0.01;

/** Outlines of one phone on its stand are the same within so much of the radius, and so many of them agree. */
const SAME = 0.03, AGREE = 0.6;

/** A mirror cut out of its photograph: middle and radius in pixels of what is left. */
export interface MirrorCut extends Outline {
  readonly image: GreyImage;
}

/**
 * The mirror cut out of each photograph of a series, about 300 pixels wide. Where most outlines agree, the phone stood still, and one
 * that shadow or light drew astray is put right.
 *
 * @param images  of one sitting
 * @param names   of the photographs, for messages
 * @throws {CannotTell} with the photograph and the reason: no mirror, cut by the picture's edge, too small, burnt out
 */
export function mirrorCuts(
  images: readonly GreyImage[],
  names: readonly string[],
): readonly MirrorCut[] {
  const seen = images.map(findOutline);
  const outlines = seen.filter((one) => one !== undefined);
  const middle = (of: (one: Outline) => number): number => median(outlines.map(of));
  const usual = {
    x: middle(({ x }) => x),
    y: middle(({ y }) => y),
    radius: middle(({ radius }) => radius),
    u: 1,
  };
  const isUsual = ({ x, y, radius }: Outline): boolean =>
    Math.hypot(x - usual.x, y - usual.y, radius - usual.radius) < SAME * usual.radius;
  const stoodStill = outlines.filter(isUsual).length >= AGREE * images.length;
  return seen.map((own, n) => {
    if (own === undefined && !stoodStill) {
      throw new CannotTell(
        `in ${
          names[n]
        } no mirror is found: the whole disc, as large as it goes, before a dark room`,
      );
    }
    const one = own ?? usual, { x, y } = !stoodStill || isUsual(one) ? one : usual;
    const image = images[n] as GreyImage, radius = stoodStill ? usual.radius : one.radius;
    const outline = { ...one, x, y, radius }, why = whyNot(image, outline);
    if (why !== undefined) throw new CannotTell(`in ${names[n]} ${why}`);
    return cutOut(image, outline);
  });
}

function cutOut(image: GreyImage, { x, y, radius, u }: Outline): MirrorCut {
  const half = Math.ceil(CUT_OUT * radius);
  const left = Math.max(0, Math.round(x) - half), top = Math.max(0, Math.round(y) - half);
  const width = Math.min(image.width, Math.round(x) + half) - left;
  const height = Math.min(image.height, Math.round(y) + half) - top;
  const values = new Float32Array(width * height);
  for (let j = 0; j < height; j++) {
    const from = (top + j) * image.width + left;
    values.set(image.values.subarray(from, from + width), j * width);
  }
  const factor = Math.max(1, radius / USUAL_RADIUS);
  return {
    image: shrunk({ width, height, values }, factor),
    x: (x - left) / factor,
    y: (y - top) / factor,
    radius: radius / factor,
    u: u / factor,
  };
}

/** Why a mirror in its photograph cannot be used; nothing where it can. */
function whyNot(image: GreyImage, { x, y, radius }: Outline): string | undefined {
  const { width, height, values } = image;
  if (radius < LEAST_RADIUS) {
    return `the mirror is only ${(2 * radius).toFixed(0)} pixels wide, where ${
      2 * LEAST_RADIUS
    } are the least: go nearer or zoom in`;
  }
  if (
    Math.min(x - radius, y - radius, width - x - radius, height - y - radius) < -BEYOND * radius
  ) {
    return "the mirror is cut by the picture's edge: bring the whole disc into it";
  }
  let all = 0, burnt = 0;
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      if (Math.hypot(i + 0.5 - x, j + 0.5 - y) > 0.93 * radius) continue;
      all++;
      if ((values[j * width + i] as number) > BURNT) burnt++;
    }
  }
  return burnt > BURNT_SHARE * all
    ? `${
      Math.round(100 * burnt / all)
    } % of the mirror is burnt out white, so its brightness is lost: expose for a shorter time`
    : undefined;
}
