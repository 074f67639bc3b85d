/** Coma: what a paraboloid does to a star away from its axis, and how much misalignment that allows. */
import type { MainMirror } from "./flat.ts";
import { requireAbove0, requireNot0Less } from "./ranges.ts";

/** Coma of one star; lengths in the focal plane mm. */
export interface Coma {
  /** length of the flare, 3h / 16N^2 */
  readonly tangential: number;
  /** a third of it: the width of the flare's end */
  readonly sagittal: number;
  /** peak coefficient W131 of the wavefront, nm: h / 32N^3 */
  readonly wavefrontPeak: number;
  /** RMS of the wavefront about its best tilt, nm: W131 / root 72 */
  readonly wavefrontRms: number;
}

const ROOT_72 = Math.sqrt(72), NM = 1e6;

/**
 * Coma of a paraboloid for a star off its axis, third order.
 *
 * @param mirror  mm
 * @param height  of the star's image from the mirror's axis, mm; 0 or more
 * @throws {RangeError} outside those ranges
 * @see Schroeder, Astronomical Optics (from memory); traced ray by ray in the tests, within 0.6 %
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const coma = comaOf({ aperture: 200, focalLength: 1000 }, 1);
 * assert.equal((1000 * coma.tangential).toFixed(1), "7.5"); // um
 * assert.equal(coma.wavefrontPeak.toFixed(0), "250"); // nm
 * ```
 */
export function comaOf(mirror: MainMirror, height: number): Coma {
  requireAbove0("comaOf", { ...mirror });
  requireNot0Less("comaOf", { height });
  const ratio = mirror.focalLength / mirror.aperture;
  const wavefrontPeak = (NM * height) / (32 * ratio ** 3);
  const tangential = (3 * height) / (16 * ratio ** 2);
  return {
    tangential,
    sagittal: tangential / 3,
    wavefrontPeak,
    wavefrontRms: wavefrontPeak / ROOT_72,
  };
}

/**
 * How far from the axis coma stays within 1/14 wave RMS: the diffraction-limited radius of the field.
 *
 * It is also how far the axis may pass from the field's middle, so it is the tolerance of the alignment. It depends on
 * the focal ratio only.
 *
 * @param focalRatio  f / D; above 0
 * @param wavelength  nm; above 0, default 550
 * @returns mm: 32 root 72 N^3 wavelength / 14
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(comaFreeRadius(8).toFixed(2), "5.46");
 * ```
 */
export function comaFreeRadius(focalRatio: number, wavelength = 550): number {
  requireAbove0("comaFreeRadius", { focalRatio, wavelength });
  return (32 * ROOT_72 * focalRatio ** 3 * wavelength) / 14 / NM;
}
