/** The 150 mm f/8 mirror of the bench figures, and the faults that their sliders give it. */
import type { SurfaceError } from "../../optics/conic.ts";
import { valueOf, type Values } from "./figure.ts";

/** Half the aperture and the radius of curvature, mm. */
export const half = 75, radius = 2400;

/**
 * A ring of glass too high or low 51 mm from the middle, and a rim that falls away over its last 10 mm.
 *
 * @param values  ring, + = high, and edge, + = turned down, in nm
 * @returns nm of glass at a distance from the middle
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const error = errorOf({ ring: 20, edge: 80 });
 * assert.deepEqual([error(51), error(75).toFixed(1)], [20, "-80.0"]);
 * ```
 */
export function errorOf(values: Values): SurfaceError {
  const ring = valueOf(values, "ring"), edge = valueOf(values, "edge");
  return (r) => {
    const along = (r - 51) / 9, out = Math.max(0, r - 65) / 10;
    return ring * Math.exp(-along * along) - edge * out * out;
  };
}
