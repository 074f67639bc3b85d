/** What the mirror is meant to become, from its plan alone. */
import { airyRadius } from "../optics/airy.ts";
import { departureFromParaboloid } from "../optics/conic.ts";
import { sagitta } from "../optics/sphere.ts";
import { sphereIsEnough } from "../optics/sphereEnough.ts";
import { exactQ } from "./q.ts";
import type { DesignSummary } from "./summaryTypes.ts";
import type { Settings } from "../record/types.ts";

/**
 * The design: radius, sagitta, shape, and how far a sphere is from a paraboloid at the edge.
 *
 * A sphere is enough when its wavefront, at the best focus, stays within the goal over the full aperture; `goal.shape`
 * may say otherwise, and then does.
 */
export function designSummary({ aperture, focalLength, goal }: Settings): DesignSummary {
  const radius = 2 * focalLength;
  const focalRatio = focalLength / aperture;
  const enough = sphereIsEnough({ aperture, focalLength }, goal.surfaceWaves, goal.wavelength);
  const departure = departureFromParaboloid(aperture / 2, { radius, conic: 0 });
  return {
    aperture: exactQ(aperture, "mm", ["mirror.yaml"]),
    focal_length: exactQ(focalLength, "mm", ["mirror.yaml"]),
    focal_ratio: focalRatio,
    radius: exactQ(radius, "mm"),
    sagitta: exactQ(sagitta(aperture, radius), "mm"),
    shape: goal.shape !== "auto" ? goal.shape : enough ? "sphere" : "paraboloid",
    sphere_is_enough: enough,
    sphere_departure: exactQ(departure, "nm"),
    airy_radius: exactQ(1000 * airyRadius(focalRatio, goal.wavelength), "um"),
  };
}
