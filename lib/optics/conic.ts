/** Surfaces of revolution of the second degree: oblate, sphere, prolate, paraboloid, hyperboloid, by one number K. */

/** A conic surface; `conic` is K: 0 sphere, -1 paraboloid. */
export interface Conic {
  /** vertex radius of curvature R, mm; positive is concave */
  readonly radius: number;
  readonly conic: number;
}

/**
 * Height of a conic surface above its vertex.
 *
 *     z = r^2 / (R (1 + sqrt(1 - (1+K) r^2/R^2)))
 *
 * @param r  distance from the axis, mm; 0 or more, and (1+K) r^2 < R^2
 * @param surface  vertex radius, mm, and conic constant
 * @returns z, mm; 0 at the vertex, positive toward the observer
 * @throws {RangeError} outside those ranges or not finite
 * @see Schroeder, Astronomical Optics, chapter 3 (from memory)
 * @example the rim of a 150 mm f/8 paraboloid
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(conicHeight(75, { radius: 2400, conic: -1 }), 1.171875);
 * ```
 */
export function conicHeight(r: number, surface: Conic): number {
  const root = rootTerm("conicHeight", r, surface);
  return (r * r) / (surface.radius * (1 + root));
}

/**
 * Slope of a conic surface, dz/dr = r / (R - (1+K) z). For a paraboloid it is r/R, exactly.
 *
 * @param r  distance from the axis, mm
 * @param surface  vertex radius, mm, and conic constant
 * @throws {RangeError} outside the ranges of `conicHeight`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(conicSlope(75, { radius: 2400, conic: -1 }), 75 / 2400);
 * ```
 */
export function conicSlope(r: number, surface: Conic): number {
  return r / (surface.radius * rootTerm("conicSlope", r, surface));
}

/**
 * How high a conic stands above the paraboloid of the same vertex radius.
 *
 *     u = (1+K) r^2/R^2,  w = sqrt(1-u):   r^2 u / (2 R (1+w)^2)      near (1+K) r^4 / 8R^3
 *
 * Written so that two nearly equal heights are never subtracted.
 *
 * @param r  distance from the axis, mm
 * @param surface  vertex radius, mm, and conic constant
 * @returns nm of glass; 0 for K = -1, positive for a sphere
 * @throws {RangeError} outside the ranges of `conicHeight`
 * @example a 150 mm f/8 sphere
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(departureFromParaboloid(75, { radius: 2400, conic: 0 }).toFixed(2), "286.24");
 * ```
 */
export function departureFromParaboloid(r: number, surface: Conic): number {
  const root = rootTerm("departureFromParaboloid", r, surface);
  const { radius, conic } = surface;
  const u = (1 + conic) * (r / radius) * (r / radius);
  return (1e6 * r * r * u) / (2 * radius * (1 + root) * (1 + root));
}

/** sqrt(1 - (1+K) r^2/R^2), after checking that the surface reaches as far as r. */
function rootTerm(name: string, r: number, { radius, conic }: Conic): number {
  const inside = 1 - (1 + conic) * (r / radius) * (r / radius);
  if (!(r >= 0 && radius > 0 && Number.isFinite(r) && Number.isFinite(radius) && inside > 0)) {
    throw new RangeError(
      `${name} requires r of 0 or more, radius above 0 and (1+conic) r^2 < radius^2 in mm, ` +
        `got r=${r}, radius=${radius}, conic=${conic}`,
    );
  }
  return Math.sqrt(inside);
}
