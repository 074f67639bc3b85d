/** Why a mirror: glass bends blue more than red, so a single lens has a focus for every colour. */

/** Three-term dispersion, n^2 - 1 = sum B L^2 / (L^2 - C), L in um, C in um^2. */
interface Sellmeier {
  readonly b: readonly [number, number, number];
  readonly c: readonly [number, number, number];
}

/** Glasses whose dispersion is known here. */
export type OpticalGlass = "borosilicate crown" | "fused silica";

// READ the crown: the maker's catalogue of June 2018 (SCHOTT.xls in PyPI opticalglass 1.1.1); fused silica: Malitson 1965 (tests/references/published/glass-index.json)
const GLASSES: Readonly<Record<OpticalGlass, Sellmeier>> = {
  "borosilicate crown": {
    b: [1.03961212, 0.231792344, 1.01046945],
    c: [0.00600069867, 0.0200179144, 103.560653],
  },
  "fused silica": {
    b: [0.6961663, 0.4079426, 0.8974794],
    c: [0.0684043 ** 2, 0.1162414 ** 2, 9.896161 ** 2],
  },
};

/** Fraunhofer's lines, nm: red hydrogen, yellow helium, blue hydrogen. */
export const RED_C = 656.2725, YELLOW_D = 587.5618, BLUE_F = 486.1327;

/**
 * Refractive index of a glass.
 *
 * @param glass       which
 * @param wavelength  nm, 350 to 2300
 * @throws {RangeError} outside that range
 * @see Sellmeier's formula with three terms (Born and Wolf 2.3.4, reckoned anew in tests/optics/secondRoute.py)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(refractiveIndex("borosilicate crown", YELLOW_D).toFixed(5), "1.51680");
 * ```
 */
export function refractiveIndex(glass: OpticalGlass, wavelength: number): number {
  if (!(wavelength >= 350 && wavelength <= 2300)) {
    throw new RangeError(
      `refractiveIndex requires a wavelength from 350 to 2300 nm, got ${wavelength}`,
    );
  }
  const square = (wavelength / 1000) ** 2, { b, c } = GLASSES[glass];
  return Math.sqrt(b.reduce((sum, bi, i) => sum + (bi * square) / (square - (c[i] ?? 0)), 1));
}

/**
 * Abbe number, (n_d - 1) / (n_F - n_C): the larger, the less colour.
 *
 * @param glass  which
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(abbeNumber("borosilicate crown").toFixed(1), "64.2");
 * ```
 */
export function abbeNumber(glass: OpticalGlass): number {
  return (refractiveIndex(glass, YELLOW_D) - 1) /
    (refractiveIndex(glass, BLUE_F) - refractiveIndex(glass, RED_C));
}

/** Colours of one thin lens. */
export interface LensColours {
  /** red focus less blue focus, mm */
  readonly fociApart: number;
  /** width of the smallest patch that red and blue make together, mm: D / 2V whatever the focal length */
  readonly blur: number;
  /** focal length, mm, from which red and blue are each within a quarter wave: D^2 / (4 wavelength V) */
  readonly hiddenFrom: number;
}

/**
 * What a single lens does to colours.
 *
 * @param aperture     clear width D, mm; above 0
 * @param focalLength  for yellow light, mm; above 0
 * @param glass        default borosilicate crown
 * @throws {RangeError} where a length is not above 0
 * @example a lens in place of a 150 mm f/8 mirror
 * ```ts
 * import assert from "node:assert/strict";
 * const lens = singleLensColours(150, 1200);
 * assert.equal(lens.fociApart.toFixed(1), "18.6");
 * assert.equal(lens.blur.toFixed(2), "1.17");
 * assert.equal((lens.hiddenFrom / 1000).toFixed(0), "149"); // metres
 * ```
 */
export function singleLensColours(
  aperture: number,
  focalLength: number,
  glass: OpticalGlass = "borosilicate crown",
): LensColours {
  if (!(aperture > 0 && focalLength > 0 && Number.isFinite(aperture * focalLength))) {
    throw new RangeError(
      `singleLensColours requires aperture and focalLength above 0 mm, got ${aperture}, ${focalLength}`,
    );
  }
  const power = refractiveIndex(glass, YELLOW_D) - 1, v = abbeNumber(glass);
  const focus = (wavelength: number): number =>
    (focalLength * power) / (refractiveIndex(glass, wavelength) - 1);
  return {
    fociApart: focus(RED_C) - focus(BLUE_F),
    blur: aperture / (2 * v),
    hiddenFrom: aperture ** 2 / (4 * YELLOW_D * 1e-6 * v),
  };
}
