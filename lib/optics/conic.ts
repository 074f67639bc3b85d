/** Surfaces of revolution of the second degree: oblate, sphere, prolate, paraboloid, hyperboloid, by one number K. */
import type { RadialGrid } from "./quality.ts";

/** A conic surface; `conic` is K: 0 sphere, -1 paraboloid. */
export interface Conic {
  /** vertex radius of curvature R, mm; positive is concave */
  readonly radius: number;
  /** conic constant K: 0 sphere, -1 paraboloid */
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
 * @see Schroeder, Astronomical Optics, chapter 3 (reckoned anew in tests/optics/secondRoute.py)
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

// From the shape of the glass to the shape of the light of a star on the axis.

/** Glass height above the conic, nm, as a function of distance from the axis, mm. */
export type SurfaceError = (r: number) => number;

/**
 * Advance of the light of a star for a height of glass: 2 delta cos^2(theta), tan(theta) = r/R.
 *
 * The light meets the slanting glass a little before, and leaves toward the focus: delta + delta cos 2 theta.
 *
 * @param height  glass above the paraboloid, nm; + = high
 * @param r  distance from the axis, mm
 * @param radius  radius of curvature, mm; above 0
 * @returns wavefront advance, nm; nearly twice the height
 * @throws {RangeError} where not finite or radius is not above 0
 * @example 50 nm at the rim of an f/4 mirror
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(advanceFromHeight(50, 200, 3200).toFixed(3), "99.611");
 * ```
 */
export function advanceFromHeight(height: number, r: number, radius: number): number {
  if (!(Number.isFinite(height) && Number.isFinite(r) && radius > 0)) {
    throw new RangeError(
      `advanceFromHeight requires finite height and r, and radius above 0, got ${height}, ${r}, ${radius}`,
    );
  }
  return (2 * height * radius * radius) / (radius * radius + r * r);
}

/**
 * Wavefront of a star by the exact length of its path, plane wave to mirror to a point on the axis.
 *
 * @param grid     places, from `radialGrid`
 * @param surface  vertex radius, mm, and conic constant
 * @param half     half the aperture, mm
 * @param error    glass above the conic, nm; default none
 * @param focus    distance of that point from the vertex, mm; default R/2. A small change is a little focus, removed
 *                 with `atBestFocus`
 * @returns advance against the light that meets the vertex, at each place, nm
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { radialGrid } from "./quality.ts";
 * const perfect = exactWavefront(radialGrid(), { radius: 2400, conic: -1 }, 75);
 * assert.ok(perfect.every((w) => Math.abs(w) < 1e-6));
 * ```
 */
export function exactWavefront(
  grid: RadialGrid,
  surface: Conic,
  half: number,
  error: SurfaceError = () => 0,
  focus: number = surface.radius / 2,
): Float64Array {
  return grid.q.map((q) => {
    const r = half * Math.sqrt(q);
    const z = conicHeight(r, surface) + error(r) * 1e-6;
    // sqrt(r^2 + (F-z)^2) - z - F without taking large numbers from each other:
    // the square is (F+z)^2 + r^2 - 4Fz
    const longer = r * r - 4 * focus * z;
    const path = longer / (Math.sqrt(r * r + (focus - z) * (focus - z)) + focus + z);
    return -path * 1e6;
  });
}

// The lamp of a knife-edge or Ronchi tester: it travels with the knife, or stands still at the centre of curvature.

/** Whether the lamp travels along the axis with the knife, or stands at the centre of curvature. */
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
