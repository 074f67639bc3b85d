/** What is wrong with a photograph of bands, and what is right, in words for whoever took it. */
import { type GreyImage, quantileOf, quantilesOf } from "./photoImage.ts";
import type { Bench } from "./photoModel.ts";
import type { Outline } from "./photoOutline.ts";
import { travelFactor } from "../bands/ronchi.ts";

/** One thing looked at. */
export interface PhotoRemark {
  /** what was looked at */
  readonly about: "disc" | "light" | "focus" | "bands";
  /** good; will do, but could be better; no figure can come of it */
  readonly grade: "good" | "fair" | "bad";
  /** one sentence, and what to do where it is not good */
  readonly says: string;
}

/** Bands a sphere would show across the disc, a little more for a curve. */
export function bandsAcross({ half, radius, setUp, linesPerMm }: Bench, offset: number): number {
  const reach = (travelFactor(setUp) * Math.abs(offset) + (half * half) / radius) * half / radius;
  return 2 * reach * linesPerMm + 1;
}

/**
 * Looks a photograph over before it is fitted: the disc's size and place, the light, the focus, the number of bands.
 *
 * @param image    the photograph
 * @param outline  the mirror in it, pixels; `undefined` where none was found
 * @param bench    what is known of mirror and grating
 * @param offset   grating from the centre of curvature by the record, mm
 * @returns one remark for each thing; the disc's alone where there is none
 * @example a grey picture
 * ```ts
 * import assert from "node:assert/strict";
 * const image = { width: 64, height: 48, values: new Float32Array(64 * 48).fill(0.4) };
 * const bench = { radius: 2400, half: 74, setUp: "same grating", linesPerMm: 4, wavelength: 550 } as const;
 * assert.deepEqual(lookOver(image, undefined, bench, -5).map(({ grade }) => grade), ["bad"]);
 * ```
 */
export function lookOver(
  image: GreyImage,
  outline: Outline | undefined,
  bench: Bench,
  offset: number,
): readonly PhotoRemark[] {
  if (outline === undefined) {
    return [{
      about: "disc",
      grade: "bad",
      says:
        "no mirror is to be found in this photograph: the whole disc must be in the picture, brighter than what is around it",
    }];
  }
  const values = faceValues(image, outline);
  return [
    discRemark(image, outline),
    lightRemark(values),
    focusRemark(image, outline),
    bandsRemark(bandsAcross(bench, offset), 2 * outline.radius),
  ];
}

function discRemark(image: GreyImage, outline: Outline): PhotoRemark {
  const { width, height } = image, { x, y, radius } = outline;
  const sides = [["left", radius - x], ["right", x + radius - width], ["top", radius - y], [
    "bottom",
    y + radius - height,
  ]] as const;
  const [side, beyond] = sides.reduce((a, b) => b[1] > a[1] ? b : a),
    across = Math.round(2 * radius);
  if (beyond > 0.02 * radius) {
    return {
      about: "disc",
      grade: "bad",
      says:
        `the disc is cut off at the ${side} of this photograph: turn the camera toward it, or take it from a little farther away`,
    };
  }
  const covered = coveredSectors(image, outline);
  if (covered >= 2) {
    const part = Math.round((100 * covered) / SECTORS);
    return {
      about: "disc",
      grade: "bad",
      says:
        `about ${part} % of the mirror is in the dark in this photograph: take away what stands before it, and keep the lamp's whole cone on it`,
    };
  }
  if (across < 120) {
    return {
      about: "disc",
      grade: "fair",
      says:
        `the disc is only ${across} pixels across: zoom in, by the lens and not by the finger, until it fills half of the picture`,
    };
  }
  return {
    about: "disc",
    grade: "good",
    says: `the whole disc is in the picture, ${across} pixels across`,
  };
}

const SECTORS = 8;

/** How many of eight sectors have no bright band in them. */
function coveredSectors(image: GreyImage, { x, y, radius }: Outline): number {
  const sectors = Array.from({ length: SECTORS }, (): number[] => []), step = radius / 30;
  for (let v = -radius; v <= radius; v += step) {
    for (let u = -radius; u <= radius; u += step) {
      const r = Math.sqrt(u * u + v * v) / radius;
      if (r < 0.4 || r > 0.93) continue;
      const k = Math.floor(((Math.atan2(v, u) / (2 * Math.PI) + 1) % 1) * SECTORS);
      sectors[k]?.push(Math.max(0, valueAt(image, x + u, y + v)) ** 2.2);
    }
  }
  const bright = sectors.map((light) => quantileOf(light, 0.85)), most = Math.max(...bright);
  return bright.filter((light) => light < 0.1 * most).length;
}

/** Below this a camera of eight bits has some two dozen steps from black to bright, too few for its curve. */
const DARK = 0.1;

function lightRemark(values: Float64Array): PhotoRemark {
  const about = "light", [dark = NaN, bright = NaN] = quantilesOf(values, [0.03, 0.97]);
  const burnt = values.reduce((sum, v) => sum + (v > 0.995 ? 1 : 0), 0) / values.length;
  const percent = Math.round(100 * burnt);
  if (burnt > 0.08) {
    return {
      about,
      grade: "bad",
      says:
        `this photograph is burnt out: ${percent} % of the mirror is plain white; take it with less light or a shorter exposure`,
    };
  }
  if (bright < DARK) {
    return {
      about,
      grade: "bad",
      says:
        "this photograph is too dark: give it more light or a longer exposure, the camera on a stand",
    };
  }
  if (!(bright - dark > 0.12 * bright)) {
    return {
      about,
      grade: "bad",
      says:
        "this photograph shows no stripes on the mirror: bring the grating into the returning light, and focus on the mirror",
    };
  }
  if (burnt > 0.01) {
    return {
      about,
      grade: "fair",
      says:
        `${percent} % of the mirror is plain white: a shorter exposure keeps what is lost there`,
    };
  }
  if (bright < 0.3) {
    return {
      about,
      grade: "fair",
      says: "the bands are rather dark: a longer exposure would bring out more",
    };
  }
  return {
    about,
    grade: "good",
    says: "bright and dark bands are within what the camera can tell",
  };
}

/** The rim falls off within this share of the radius in a sharp picture; beyond it bands are washed out. */
const SHARP = 0.08, WASHED = 0.16;

function focusRemark(image: GreyImage, outline: Outline): PhotoRemark {
  const about = "focus", soft = rimSoftness(image, outline), percent = (100 * soft).toFixed(0);
  if (soft > WASHED) {
    return {
      about,
      grade: "bad",
      says:
        `this photograph is out of focus: the rim of the mirror is smeared over ${percent} % of its radius; focus on the mirror, not on the grating`,
    };
  }
  if (soft > SHARP) {
    return {
      about,
      grade: "fair",
      says:
        `the rim is a little soft, ${percent} % of the radius: focus on the mirror, the camera on a stand`,
    };
  }
  return { about, grade: "good", says: "the rim of the mirror is sharp" };
}

/** Spokes averaged into one, so that noise does not look like an edge, and how many of such. */
const TOGETHER = 6, SPOKES = 30;

/** Width of the rim's fall over the radius, where it is sharpest: grating images smear it to the left and right. */
function rimSoftness(image: GreyImage, { x, y, radius }: Outline): number {
  const step = Math.max(0.5, radius / 80), count = 2 * Math.ceil(0.3 * radius / step);
  const widths: number[] = [], falls: number[] = [];
  for (let k = 0; k < SPOKES; k++) {
    const light = new Float64Array(count + 1);
    for (let n = 0; n < TOGETHER; n++) {
      const t = (2 * Math.PI * (k * TOGETHER + n)) / (SPOKES * TOGETHER);
      for (let i = 0; i <= count; i++) {
        const r = radius + (i - count / 2) * step;
        light[i] = (light[i] as number) +
          valueAt(image, x + r * Math.cos(t), y + r * Math.sin(t)) ** 2.2;
      }
    }
    const fall = Math.max(...light.subarray(0, count / 2)) - Math.min(...light.subarray(count / 2));
    let steepest = 0;
    for (let i = Math.floor(0.3 * count); i + 2 <= 0.75 * count; i++) {
      steepest = Math.max(steepest, ((light[i] ?? 0) - (light[i + 2] ?? 0)) / (2 * step));
    }
    if (steepest > 0) {
      widths.push(fall / steepest);
      falls.push(fall);
    }
  }
  const clear = 0.4 * quantileOf(falls, 0.9);
  return quantileOf(widths.filter((_, i) => (falls[i] ?? 0) > clear), 0.25) / radius;
}

function bandsRemark(bands: number, across: number): PhotoRemark {
  const about = "bands", count = bands.toFixed(0);
  if (across / bands < 5) {
    return {
      about,
      grade: "bad",
      says:
        `this photograph shows bands finer than its pixels can tell: about ${count} across a disc of ${
          across.toFixed(0)
        } pixels; go nearer the centre of curvature, or bring the camera nearer`,
    };
  }
  if (bands < 2.5) {
    return {
      about,
      grade: "fair",
      says:
        `about ${count} bands by the record: few; farther from the centre of curvature there are more, three to nine are best`,
    };
  }
  if (bands > 14) {
    return {
      about,
      grade: "fair",
      says:
        `about ${count} bands by the record: many; nearer the centre of curvature there are fewer, three to nine are best`,
    };
  }
  return { about, grade: "good", says: `about ${count} bands by the record` };
}

function valueAt({ width, height, values }: GreyImage, x: number, y: number): number {
  const i = Math.min(width - 1, Math.max(0, Math.floor(x))),
    j = Math.min(height - 1, Math.max(0, Math.floor(y)));
  return values[j * width + i] ?? 0;
}

/** Values of the face, a few thousand of them. */
function faceValues(image: GreyImage, { x, y, radius }: Outline): Float64Array {
  const values: number[] = [], step = Math.max(1, radius / 40);
  for (let v = -radius; v <= radius; v += step) {
    for (let u = -radius; u <= radius; u += step) {
      if (u * u + v * v < 0.95 * radius * radius) values.push(valueAt(image, x + u, y + v));
    }
  }
  return Float64Array.from(values);
}
