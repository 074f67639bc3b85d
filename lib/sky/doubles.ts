/** Double stars: can this mirror show the two apart? */
import { limitsOf } from "./limits.ts";

/** A pair of stars. */
export interface Pair {
  readonly separationArcsec: number;
  readonly brighterMagnitude: number;
  readonly fainterMagnitude: number;
}

/** What a mirror makes of a pair. */
export interface Split {
  /** separation over the Dawes limit: 1 is the least that was ever seen as two */
  readonly overDawes: number;
  /** magnification that puts the two 4 arcminutes apart, comfortable for most eyes (common practice) */
  readonly magnification: number;
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
