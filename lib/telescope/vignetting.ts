/** Dimming towards the edge of the field, where the flat is too small for the slanted cone. */
import { overlapOfCircles } from "../optics/contrast.ts";
import { lightOnAxis, type PlacedFlat } from "./flat.ts";
import { given, requireAbove0 } from "./ranges.ts";

export { overlapOfCircles };

/**
 * Share of the mirror's light that reaches a point of the field: two circles at the flat.
 *
 * The exact cut by the tilted flat is lopsided along the tube: lower on one side, higher on the other, by about 0.03 near
 * 0.7; across the tube it agrees within 0.007, down to f/5. No point gets more than the middle, whose light is by exact rays:
 * where the flat is smaller than the cone on the axis, the circles are up to 0.011 too bright beside the middle.
 *
 * @param flat    mm; 0 < flatToFocus < focalLength
 * @param height  of the point from the field's middle, mm; 0 or more
 * @returns 0 to 1; the flat's own shadow is not taken off
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const flat = { aperture: 150, focalLength: 1200, flatToFocus: 200, minorAxis: 35 };
 * assert.equal(illumination(flat, 10).toFixed(3), "0.879");
 * ```
 */
export function illumination(flat: PlacedFlat, height: number): number {
  const { aperture, focalLength, flatToFocus, minorAxis } = flat;
  requireAbove0("illumination", { aperture, focalLength, flatToFocus, minorAxis });
  if (!(height >= 0 && flatToFocus < focalLength)) {
    throw new RangeError(
      `illumination requires height of 0 or more and flatToFocus < focalLength in mm, got ${
        given({ height, flatToFocus, focalLength })
      }`,
    );
  }
  const beam = (aperture * flatToFocus) / (2 * focalLength);
  const apart = height * (1 - flatToFocus / focalLength);
  const circles = overlapOfCircles(beam, minorAxis / 2, apart) / (Math.PI * beam ** 2);
  return Math.min(circles, lightOnAxis({ aperture, focalLength, flatToFocus, minorAxis }));
}

/**
 * Loss of light in magnitudes.
 *
 * @param share  of the light that is left, above 0, at most 1
 * @throws {RangeError} outside that range
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(magnitudeLoss(0.96).toFixed(3), "0.044");
 * ```
 */
export function magnitudeLoss(share: number): number {
  if (!(share > 0 && share <= 1)) {
    throw new RangeError(`magnitudeLoss requires 0 < share <= 1, got ${share}`);
  }
  return -2.5 * Math.log10(share) + 0;
}
