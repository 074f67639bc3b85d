/** Glass above a conic as a function of the place on the face, from a measured profile or from Zernike's terms. */
import { naturalSpline } from "../numeric/spline.ts";
import { zernike } from "../optics/zernike.ts";
import type { FaceError } from "./ronchi.ts";

/**
 * A figure of revolution from its profile: a spline through the heights; level within the first and beyond the last.
 *
 * @param profile  radius, mm, rising, two places or more; surfaceError, nm, + = high glass
 * @throws {RangeError} where radii do not rise or something is not finite
 * @example a rim that lies 40 nm low
 * ```ts
 * import assert from "node:assert/strict";
 * const error = errorFromProfile([
 *   { radius: 0, surfaceError: 0 }, { radius: 60, surfaceError: 0 }, { radius: 75, surfaceError: -40 },
 * ]);
 * assert.equal(error(0, 75), -40);
 * assert.equal(error(45, 60), error(0, 75));
 * ```
 */
export function errorFromProfile(
  profile: readonly { readonly radius: number; readonly surfaceError: number }[],
): FaceError {
  const radii = profile.map(({ radius }) => radius);
  const spline = naturalSpline(radii, profile.map(({ surfaceError }) => surfaceError));
  const first = radii[0] ?? 0, last = radii.at(-1) ?? 0;
  return (x, y) => spline.value(Math.min(last, Math.max(first, Math.sqrt(x * x + y * y))));
}

/**
 * Glass from Zernike's terms in Noll's order.
 *
 * @param amounts  nm of glass for each term, piston first; RMS over the face each
 * @param half     half the aperture the terms are given over, mm; above 0
 * @throws {RangeError} where `half` is not above 0 or an amount is not finite
 * @example 10 nm RMS of focus
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(errorFromZernike([0, 0, 0, 10], 75)(75, 0).toFixed(3), "17.321");
 * ```
 */
export function errorFromZernike(amounts: readonly number[], half: number): FaceError {
  if (!(half > 0 && Number.isFinite(half) && amounts.every(Number.isFinite))) {
    throw new RangeError(
      `errorFromZernike requires finite amounts in nm and half above 0 mm, got half=${half}, amounts=${amounts}`,
    );
  }
  const terms = amounts.map((amount, i) => ({ amount, j: i + 1 })).filter(({ amount }) =>
    amount !== 0
  );
  return (x, y) => {
    const rho = Math.sqrt(x * x + y * y) / half, theta = Math.atan2(y, x);
    return terms.reduce((sum, { amount, j }) => sum + amount * zernike(j, rho, theta), 0);
  };
}
