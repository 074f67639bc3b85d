/** What an eyepiece does with a mirror's image: size, exit pupil, field, focus for an eye without glasses. */

/** An eyepiece: focal length mm, apparent field rad. */
export interface Eyepiece {
  /** mm */
  readonly focalLength: number;
  /** width of the field as the eye sees it, rad */
  readonly apparentField: number;
}

/** What is seen; lengths mm, angles rad. */
export interface View {
  /** times as wide as without a telescope */
  readonly magnification: number;
  /** width of the light where the eye stands */
  readonly exitPupil: number;
  /** width of sky in view: apparent field over magnification, a few per cent rough */
  readonly trueField: number;
  /** how far the eyepiece moves for one dioptre of an eye without glasses */
  readonly perDioptre: number;
}

function require(name: string, values: Readonly<Record<string, number>>): void {
  if (Object.values(values).every((value) => value > 0 && Number.isFinite(value))) return;
  const told = Object.entries(values).map(([key, value]) => `${key}=${value}`).join(", ");
  throw new RangeError(`${name} requires ${Object.keys(values).join(", ")} above 0, got ${told}`);
}

/**
 * The view through an eyepiece.
 *
 * @param mirror    aperture and focal length, mm; above 0
 * @param eyepiece  focal length mm above 0, apparent field rad above 0
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const mirror = { aperture: 150, focalLength: 1200 };
 * const view = viewThrough(mirror, { focalLength: 25, apparentField: (50 * Math.PI) / 180 });
 * assert.equal(view.magnification, 48);
 * assert.equal(view.exitPupil, 3.125);
 * ```
 */
export function viewThrough(
  mirror: { readonly aperture: number; readonly focalLength: number },
  { focalLength, apparentField }: Eyepiece,
): View {
  require("viewThrough", {
    aperture: mirror.aperture,
    mirrorFocalLength: mirror.focalLength,
    eyepieceFocalLength: focalLength,
    apparentField,
  });
  const magnification = mirror.focalLength / focalLength;
  return {
    magnification,
    exitPupil: mirror.aperture / magnification,
    trueField: apparentField / magnification,
    perDioptre: focalLength ** 2 / 1000,
  };
}

/**
 * How far to move the eyepiece for an eye without its glasses.
 *
 * @param focalLength  of the eyepiece, mm; above 0
 * @param dioptres     of the eye's glasses: below 0 short-sighted, above 0 long-sighted
 * @returns mm; below 0 is inward, toward the mirror
 * @throws {RangeError} outside those ranges
 * @see Newton's x x' = -f^2, the eye at the eyepiece's rear focus
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(eyepieceShift(25, -4), -2.5);
 * ```
 */
export function eyepieceShift(focalLength: number, dioptres: number): number {
  require("eyepieceShift", { focalLength });
  if (!(Math.abs(dioptres) <= 40)) {
    throw new RangeError(`eyepieceShift requires -40 to 40 dioptres, got ${dioptres}`);
  }
  return (focalLength ** 2 * dioptres) / 1000;
}

/**
 * Size of an image at the mirror's focus.
 *
 * @param focalLength  mm; above 0
 * @param arcsec       angular size, arcseconds; above 0
 * @returns mm
 * @throws {RangeError} outside those ranges
 * @example Saturn's rings, 44.7 arcseconds
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(imageSize(1200, 44.7).toFixed(2), "0.26");
 * ```
 */
export function imageSize(focalLength: number, arcsec: number): number {
  require("imageSize", { focalLength, arcsec });
  return focalLength * (arcsec / ARCSEC);
}

/** Arcseconds in a radian. */
export const ARCSEC: number = (180 * 3600) / Math.PI;
