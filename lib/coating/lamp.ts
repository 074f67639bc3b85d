/** How thick is the film? A lamp behind the mirror tells; and what two mirrors pass on. */
import { findRoot } from "../numeric/rootFinding.ts";
import { type Metal, mirrorFilm, thickReflectance } from "../optics/film.ts";

/**
 * Thickness of a film from the share of a lamp's light that it lets into the glass.
 *
 * A lamp, never the Sun: 100 nm of silver dims by 2500 times only, and has pinholes.
 *
 * @param metal        silver or aluminium
 * @param transmitted  share let through, above 0, below what bare glass passes
 * @param wavelength   nm; default 550
 * @returns nm
 * @throws {RangeError} outside that range
 * @example one part in a thousand
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(thicknessFromLamp("silver", 1e-3).toFixed(1), "88.6");
 * ```
 */
export function thicknessFromLamp(metal: Metal, transmitted: number, wavelength = 550): number {
  const bare = mirrorFilm(metal, 0, wavelength).transmitted;
  if (!(transmitted > 0 && transmitted < bare)) {
    throw new RangeError(
      `thicknessFromLamp requires 0 < transmitted < ${bare.toFixed(3)}, got ${transmitted}`,
    );
  }
  const depth = (thickness: number): number =>
    Math.log(mirrorFilm(metal, thickness, wavelength).transmitted / transmitted);
  return findRoot(depth, 0, 2000, 1e-9);
}

/**
 * Light that two mirrors of a metal pass on, with the shadow of the second.
 *
 * @param metal        silver or aluminium, fresh
 * @param obstruction  width of the second mirror over the aperture, 0 to below 1; default 0
 * @param wavelength   nm; default 550
 * @returns share of the light that falls on the aperture
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(twoMirrors("silver").toFixed(3), "0.966");
 * assert.equal(twoMirrors("aluminium").toFixed(3), "0.838");
 * ```
 */
export function twoMirrors(metal: Metal, obstruction = 0, wavelength = 550): number {
  if (!(obstruction >= 0 && obstruction < 1)) {
    throw new RangeError(`twoMirrors requires 0 <= obstruction < 1, got ${obstruction}`);
  }
  return thickReflectance(metal, wavelength) ** 2 * (1 - obstruction ** 2);
}
