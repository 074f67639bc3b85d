/** Glass above a conic as a function of the place on the face, from Zernike's terms. */
import { zernike } from "../optics/zernike.ts";
import type { FaceError } from "./bands/ronchi.ts";

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
