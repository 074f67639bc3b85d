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

/** How much longer the way is from a point of the axis to the glass than to the vertex. */
function leg(r2: number, z: number, distance: number): number {
  const longer = r2 + z * z - 2 * distance * z;
  return longer / (Math.sqrt(r2 + (distance - z) * (distance - z)) + distance);
}
