/** What a width of glass can show, at best: limits as ranges, since eyes and air differ. */

/** Limits of an aperture. */
export interface Limits {
  /** closest pair of equal stars ever seen as two, arcseconds: 116 / D */
  readonly dawesArcsec: number;
  /** one star's middle on the other's first dark ring, arcseconds: 138 / D at 550 nm */
  readonly rayleighArcsec: number;
  /** faintest star, from the cautious rule to the best sky and eye; scatters by half a magnitude more */
  readonly faintest: readonly [low: number, high: number];
  /** useful magnifications, from D/7 (all the light enters the eye) to 2D (nothing more is to be seen) */
  readonly magnification: readonly [low: number, high: number];
}

/**
 * Limits of an aperture, for a perfect mirror in still air.
 *
 * @param aperture  mm; above 0
 * @param eye       faintest star without a telescope, magnitudes; default 6
 * @throws {RangeError} outside those ranges
 * @see Dawes 1867; Rayleigh 1879; magnitudes 2 + 5 log D, eye + 5 log(D/7), 2.7 + 5 log D (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { dawesArcsec, faintest } = limitsOf(150);
 * assert.equal(dawesArcsec.toFixed(2), "0.77");
 * assert.deepEqual(faintest.map((m) => m.toFixed(1)), ["12.7", "13.6"]);
 * ```
 */
export function limitsOf(aperture: number, eye = 6): Limits {
  if (!(aperture > 0 && Number.isFinite(aperture) && Number.isFinite(eye))) {
    throw new RangeError(`limitsOf requires an aperture above 0 mm, got ${aperture}, eye=${eye}`);
  }
  const log = 5 * Math.log10(aperture), rules = [2 + log, eye + log - 5 * Math.log10(7), 2.7 + log];
  return {
    dawesArcsec: 116 / aperture,
    rayleighArcsec: 138 / aperture,
    faintest: [Math.min(...rules), Math.max(...rules)],
    magnification: [aperture / 7, 2 * aperture],
  };
}
