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
 * @see Dawes 1867; Rayleigh 1879; magnitudes 2 + 5 log D, eye + 5 log(D/7), 2.7 + 5 log D (READ as in tests/references/published/limits-of-an-aperture.json)
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

// Double stars: can this mirror show the two apart?

/** A pair of stars. */
export interface Pair {
  /** between the two, arcseconds */
  readonly separationArcsec: number;
  /** visual magnitude of the brighter star */
  readonly brighterMagnitude: number;
  /** visual magnitude of the fainter star */
  readonly fainterMagnitude: number;
}

/** What a mirror makes of a pair. */
export interface Split {
  /** separation over the Dawes limit: 1 is the least that was ever seen as two */
  readonly overDawes: number;
  /** magnification that puts the two 4 arcminutes apart, comfortable for most eyes (common practice) */
  readonly magnification: number;
  /** how the pair will look, by its separation, the difference of the two and the air */
  readonly says: "apart" | "on a still night" | "hard" | "not with this mirror";
}

const COMFORTABLE_ARCSEC = 240;

/**
 * Whether a pair is seen as two: the limit holds for two stars alike; a faint one beside a bright one needs more room,
 * here a fifth of the limit more for each magnitude between them (common practice).
 *
 * @param aperture  mm; above 0
 * @param pair      separation above 0 arcseconds, magnitudes
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const algieba = { separationArcsec: 4.7, brighterMagnitude: 2.4, fainterMagnitude: 3.6 };
 * assert.equal(splitOf(150, algieba).says, "apart");
 * assert.equal(splitOf(150, { ...algieba, separationArcsec: 0.6 }).says, "not with this mirror");
 * ```
 */
export function splitOf(aperture: number, pair: Pair): Split {
  const { separationArcsec, brighterMagnitude, fainterMagnitude } = pair;
  if (!(separationArcsec > 0 && Number.isFinite(brighterMagnitude + fainterMagnitude))) {
    throw new RangeError(
      `splitOf requires a separation above 0 arcseconds and two magnitudes, got ${separationArcsec}, ${brighterMagnitude}, ${fainterMagnitude}`,
    );
  }
  const { dawesArcsec, faintest } = limitsOf(aperture);
  const overDawes = separationArcsec / dawesArcsec;
  const needed = 1 + Math.abs(fainterMagnitude - brighterMagnitude) / 5;
  return {
    overDawes,
    magnification: COMFORTABLE_ARCSEC / separationArcsec,
    says: overDawes < 1 || Math.max(brighterMagnitude, fainterMagnitude) > faintest[1]
      ? "not with this mirror"
      : overDawes < needed
      ? "hard"
      : overDawes < 2 * needed
      ? "on a still night"
      : "apart",
  };
}
