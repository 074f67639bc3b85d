/** From the shape of the glass to the shape of the light of a star on the axis. */
import { type Conic, conicHeight } from "./conic.ts";
import type { RadialGrid } from "./quality.ts";

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
