/** What one photograph turned out to be: offset, turn, camera, and its face beside the fit. */
import { type Measured, measured } from "../../quantity/measured.ts";
import type { PhotoRemark } from "./photoCheck.ts";
import type { PhotoFit } from "./photoFit.ts";
import { offsetOf } from "./photoStarts.ts";
import { OWN, OWN_COUNT } from "./photoModel.ts";
import type { Outline } from "./photoOutline.ts";
import type { PhotoPixels } from "./photoPixels.ts";

/** What one photograph turned out to be. */
export interface PhotoSeen {
  /** the mirror in the picture as given, pixels */
  readonly outline: Outline;
  /** what could be better about it */
  readonly remarks: readonly PhotoRemark[];
  /** mm from the centre of curvature of the conic that fits the whole figure best */
  readonly offset: Measured;
  /** rad, counter-clockwise */
  readonly turn: Measured;
  /** exponent of the camera's curve */
  readonly gamma: number;
  /** the mirror's face as it was looked at and as the fit has it, 0 to 1, `across` pixels in a row; NaN where not looked at */
  readonly face: {
    readonly across: number;
    readonly photo: Float64Array;
    readonly fit: Float64Array;
  };
  /** scatter of a pixel about the fit over the spread of the picture: 0 perfect, 1 nothing explained */
  readonly misfit: number;
}

/** Relative uncertainty of grating pitch and mirror width together (COMMON PRACTICE of good gratings and rulers). */
export const SCALE_U = 0.004;

export function seenIn(
  fit: PhotoFit,
  n: number,
  outline: Outline,
  pixels: PhotoPixels,
): Omit<PhotoSeen, "remarks"> {
  const own = fit.own[n] as Float64Array, from = fit.size - (fit.own.length - n) * OWN_COUNT;
  const u = (k: number): number =>
    Math.sqrt(Math.max(0, fit.covariance[(from + k) * (fit.size + 1)] ?? 0));
  const offset = offsetOf(fit, n, pixels.bench);
  let left = 0, spread = 0, count = 0, mean = 0;
  pixels.value.forEach((v, i) => {
    if (pixels.weight[i] === 0) return;
    count++;
    mean += v;
    left += (fit.residuals[n]?.[i] ?? 0) ** 2;
  });
  mean /= count;
  pixels.value.forEach((v, i) => spread += pixels.weight[i] === 0 ? 0 : (v - mean) ** 2);
  return {
    outline,
    offset: measured(offset.value, Math.hypot(offset.u, SCALE_U * offset.value), "mm"),
    turn: measured(own[OWN.turn] ?? 0, u(OWN.turn), "rad"),
    gamma: 1 / (own[OWN.power] ?? 1),
    face: faceOf(pixels, fit.residuals[n] ?? new Float64Array(0)),
    misfit: Math.sqrt(left / Math.max(spread, 1e-12)),
  };
}

/** The square around the disc, photograph and fit. */
function faceOf(pixels: PhotoPixels, residuals: Float64Array): PhotoSeen["face"] {
  const { x, y, value, outline } = pixels, across = Math.ceil(2 * outline.radius) + 2;
  const left = Math.floor(outline.x - across / 2), top = Math.floor(outline.y - across / 2);
  const photo = new Float64Array(across * across).fill(NaN), fit = photo.slice();
  value.forEach((v, i) => {
    const k = (Math.floor(y[i] ?? 0) - top) * across + Math.floor(x[i] ?? 0) - left;
    photo[k] = v;
    fit[k] = v - (residuals[i] ?? 0);
  });
  return { across, photo, fit };
}
