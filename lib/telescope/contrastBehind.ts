/** What the flat's shadow does to fine detail: the contrast that is kept, in closed form. */
import { overlapOfCircles } from "./vignetting.ts";

/**
 * Contrast kept at a spatial frequency by a perfect round mirror with a round shadow in its middle.
 *
 * The open ring, shifted against itself: T = (I(1,1) - 2 I(1,e) + I(e,e)) / pi(1 - e^2), I the overlap of two circles
 * apart by twice the frequency.
 *
 * @param ofCutoff     frequency over the cut-off D / wavelength, 0 to 1
 * @param obstruction  width of the flat over the aperture, 0 to below 1
 * @returns 1 at frequency 0, 0 at the cut-off
 * @throws {RangeError} outside those ranges
 * @see O'Neill, J. Opt. Soc. Am. 46, 285 (1956) (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(contrastBehind(0.5, 0).toFixed(4), "0.3910");
 * assert.equal(contrastBehind(0.5, 0.25).toFixed(4), "0.3539");
 * ```
 */
export function contrastBehind(ofCutoff: number, obstruction: number): number {
  if (!(ofCutoff >= 0 && ofCutoff <= 1 && obstruction >= 0 && obstruction < 1)) {
    throw new RangeError(
      `contrastBehind requires 0 <= ofCutoff <= 1 and 0 <= obstruction < 1, got ofCutoff=${ofCutoff}, obstruction=${obstruction}`,
    );
  }
  const apart = 2 * ofCutoff, e = obstruction;
  const open = overlapOfCircles(1, 1, apart) - 2 * overlapOfCircles(1, e, apart) +
    overlapOfCircles(e, e, apart);
  return Math.max(0, open / (Math.PI * (1 - e * e)));
}
