/** A sphere's glass over the paraboloid it should be, for drawing it and for its peak to valley. */
import { paraboloidSagitta, sagitta } from "../../optics/sphere.ts";

/** The sphere at one distance from the centre; mm and nm of glass. */
export interface Departure {
  readonly radius: number;
  /** over the paraboloid of the same middle */
  readonly same: number;
  /** over the paraboloid of the same middle and the same rim: best focus by least peak to valley */
  readonly best: number;
}

function over(r: number, radius: number): number {
  return r === 0 ? 0 : (sagitta(2 * r, radius) - paraboloidSagitta(2 * r, radius)) * 1e6;
}

/**
 * Heights of the sphere from the middle to the rim.
 *
 * @param aperture  mm; 0 < aperture < 2 x radius
 * @param radius    radius of curvature, mm
 * @param steps     how many equal steps
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(sphereDepartures(150, 2400).at(-1)?.same.toFixed(0), "286");
 * ```
 */
export function sphereDepartures(aperture: number, radius: number, steps = 60): Departure[] {
  const atRim = over(aperture / 2, radius);
  return Array.from({ length: steps + 1 }, (_, i) => {
    const share = i / steps, r = aperture / 2 * share, same = over(r, radius);
    return { radius: r, same, best: same - atRim * share * share };
  });
}

/**
 * Peak to valley of a sphere's glass at best focus.
 *
 * The sphere hangs lowest under the paraboloid of the same middle and rim where the circle inside has half the area;
 * the next term of its series moves that place too little to count.
 *
 * @returns nm of glass, not negative
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal((2 * sphereGlassPv(150, 2400) / 550).toFixed(3), "0.260");
 * ```
 */
export function sphereGlassPv(aperture: number, radius: number): number {
  return over(aperture / 2, radius) / 2 - over(aperture / 2 * Math.SQRT1_2, radius);
}
