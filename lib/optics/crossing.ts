import { type Conic, conicHeight } from "./conic.ts";

/** The lamp of a knife-edge or Ronchi tester: it travels with the knife, or stands still at the centre of curvature. */
export type Source = "moves" | "fixed";

/**
 * Where a zone's light crosses the axis, from the paraxial centre of curvature: the knife's ideal position for it.
 *
 *     moves   -K z                                                   fixed   -2Kz (1 - Kz/R) / (1 - K(1+K) z^2/R^2)
 *
 * Both are exact for every conic. For a paraboloid they are r^2/2R and r^2/R + r^4/2R^3, with no further term.
 *
 * @param r  radius of the zone, mm
 * @param surface  vertex radius, mm, and conic constant
 * @param source  the lamp travels with the knife, or stands fixed at the paraxial centre of curvature
 * @returns mm; larger = farther from the mirror
 * @throws {RangeError} outside the ranges of `conicHeight`
 * @see normal of a conic meets the axis at R - Kz; reflection of a fixed source by tan(2u_n - u_s), reduced by hand
 * @example the rim of a 150 mm f/8 paraboloid
 * ```ts
 * import assert from "node:assert/strict";
 * const mirror = { radius: 2400, conic: -1 };
 * assert.equal(knifePosition(75, mirror, "moves"), 1.171875);
 * assert.equal(knifePosition(75, mirror, "fixed").toFixed(6), "2.344894");
 * ```
 */
export function knifePosition(r: number, surface: Conic, source: Source): number {
  const { radius, conic } = surface;
  const z = conicHeight(r, surface);
  if (source === "moves") return -conic * z;
  const bend = 1 - (conic * (1 + conic) * z * z) / (radius * radius);
  return (-2 * conic * z * (1 - (conic * z) / radius)) / bend;
}

/**
 * Radius on the glass of an opening in a mask that stands in front of it: r R / (R - t).
 *
 * @param opening  radius of the opening in the mask, mm
 * @param radius   radius of curvature R, mm
 * @param standOff how far the mask stands before the rim, mm; 0 or more
 * @throws {RangeError} unless 0 <= standOff < radius
 * @example 10 mm in front of a 2400 mm mirror, 75 mm becomes 75.3
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(radiusBehindMask(75, 2400, 10).toFixed(2), "75.31");
 * ```
 */
export function radiusBehindMask(opening: number, radius: number, standOff: number): number {
  if (!(opening >= 0 && standOff >= 0 && standOff < radius && Number.isFinite(opening))) {
    throw new RangeError(
      `radiusBehindMask requires opening of 0 or more and 0 <= standOff < radius in mm, ` +
        `got opening=${opening}, standOff=${standOff}, radius=${radius}`,
    );
  }
  return (opening * radius) / (radius - standOff);
}

/**
 * Focus shift across the line between lamp and knife when they stand side by side: -b^2 / 2R.
 *
 * It is the same for every zone, so it looks like focus; but it is one-sided, so astigmatism below its size cannot be claimed.
 *
 * @param half    half the distance between lamp and knife, b, mm
 * @param radius  radius of curvature, mm; above 0
 * @returns mm; never positive (inside the centre of curvature)
 * @throws {RangeError} where not finite or radius is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(sideBySideShift(10, 2400).toFixed(4), "-0.0208");
 * ```
 */
export function sideBySideShift(half: number, radius: number): number {
  if (!(Number.isFinite(half) && radius > 0 && Number.isFinite(radius))) {
    throw new RangeError(
      `sideBySideShift requires finite half and radius above 0 in mm, got half=${half}, radius=${radius}`,
    );
  }
  return -(half * half) / (2 * radius);
}
