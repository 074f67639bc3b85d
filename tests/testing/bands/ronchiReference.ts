/** The striped face by rays, and at single points by diffraction: reference implementations for whole pictures and fits. */
import { rayAtGrating, type RonchiSetting } from "../../../lib/testing/bands/ronchi.ts";
import type { RonchiPicture } from "../../../lib/testing/bands/ronchiPicture.ts";
import { clearShare, ronchiPlan } from "../../../lib/testing/bands/ronchiPlan.ts";
import { between, rowAt } from "../../../lib/testing/bands/ronchiScreen.ts";

/**
 * The striped face by rays: each point as bright as the share of its light that meets clear lines.
 *
 * @param setting  mirror and grating
 * @param size     pixels across
 */
export function ronchiByRays(setting: RonchiSetting, size: number): RonchiPicture {
  const { linesPerMm, shift = 0, clear = 0.5, setUp, slit = 0 } = setting;
  const same = setUp === "same grating", middle = same ? 2 * shift : shift;
  const source = same ? clear : slit * linesPerMm;
  const values = new Float64Array(size * size).fill(NaN),
    place = (k: number): number => setting.half * ((2 * k + 1) / size - 1);
  for (let k = 0; k < size * size; k++) {
    const x = place(k % size), y = -place(Math.floor(k / size));
    if (x * x + y * y >= setting.half ** 2) continue;
    const order = (rayAtGrating(x, y, setting).across - middle) * linesPerMm;
    values[k] = clearShare(order - Math.round(order), clear, source);
  }
  return { size, values };
}

/**
 * Brightness at single points of the face by diffraction: as `ronchiByDiffraction`, for the rows through them only.
 *
 * @param points  [x, y] on the face, mm
 * @param setting  mirror and grating
 */
export function ronchiAt(
  points: readonly (readonly [x: number, y: number])[],
  setting: RonchiSetting,
): number[] {
  const plan = ronchiPlan(setting, setting.half / 100);
  const c = Math.cos(setting.turn ?? 0), s = Math.sin(setting.turn ?? 0);
  return points.map(([x, y]) => between(plan, rowAt(plan, c * y - s * x), c * x + s * y));
}
