/** The light's path from the lamp to the glass and on to the grating. */
import { conicHeight } from "../../optics/conic.ts";
import type { RonchiSetting } from "./ronchi.ts";

/**
 * Optical path from the lamp to the glass and on to the middle of the grating, less that by way of the vertex, mm.
 *
 * @param x  point of the face, mm
 * @param y  mm
 * @param setting  mirror and grating
 * @example nearly all of it is focus, d r^2/R^2 taken off
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = {
 *   surface: { radius: 2400, conic: 0 }, half: 75, setUp: "same grating", linesPerMm: 4, offset: -5,
 * } as const;
 * assert.equal((pathLength(75, 0, setting) * 1e6).toFixed(0), "4894"); // nm
 * ```
 */
export function pathLength(x: number, y: number, setting: RonchiSetting): number {
  const { surface, offset, error, setUp } = setting;
  const r2 = x * x + y * y;
  const z = conicHeight(Math.sqrt(Math.min(r2, setting.half * setting.half * 1.1)), surface) +
    (error?.(x, y) ?? 0) * 1e-6;
  const back = leg(r2, z, surface.radius + offset);
  return setUp === "fixed" ? back + leg(r2, z, surface.radius) : 2 * back;
}

/**
 * `pathLength` of a whole row at once, mm: what all its points share is worked out once.
 *
 * @param paths    filled: for x, x + step, x + 2 step, ...
 * @param x        of the first point, mm
 * @param step     mm
 * @param y        of the row, mm
 * @param setting  mirror and grating
 * @throws {RangeError} as `conicHeight` does
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = {
 *   surface: { radius: 2400, conic: 0 }, half: 75, setUp: "same grating", linesPerMm: 4, offset: -5,
 * } as const;
 * const paths = new Float64Array(3);
 * pathsAlong(paths, -10, 10, 40, setting);
 * assert.equal(paths[1], pathLength(0, 40, setting));
 * ```
 */
export function pathsAlong(
  paths: Float64Array,
  x: number,
  step: number,
  y: number,
  { surface, offset, error, setUp, half }: RonchiSetting,
): void {
  const { radius, conic } = surface, most = half * half * 1.1, grating = radius + offset;
  const bend = (1 + conic) / (radius * radius), isFixed = setUp === "fixed";
  const farthest = Math.max(Math.abs(x), Math.abs(x + (paths.length - 1) * step));
  conicHeight(Math.sqrt(Math.min(most, farthest * farthest + y * y)), surface); // or the surface does not reach so far
  for (let k = 0; k < paths.length; k++) {
    const at = x + k * step, r2 = at * at + y * y, reached = r2 < most ? r2 : most;
    let z = reached / (radius * (1 + Math.sqrt(1 - bend * reached)));
    if (error !== undefined) z += error(at, y) * 1e-6;
    const back = leg(r2, z, grating);
    paths[k] = isFixed ? back + leg(r2, z, radius) : 2 * back;
  }
}

/** How much longer the way is from a point of the axis to the glass than to the vertex. */
function leg(r2: number, z: number, distance: number): number {
  const longer = r2 + z * z - 2 * distance * z;
  return longer / (Math.sqrt(r2 + (distance - z) * (distance - z)) + distance);
}
