/** Too deep, and how to come back. */
import { type Measured, measured } from "../../quantity/measured.ts";
import type { Position } from "./grindingLog.ts";

export interface OvershootPlan {
  /** the position that takes depth away again */
  readonly position: Position;
  /** until the target, min */
  readonly minutes: Measured;
  /** what to grind before the next reading, min */
  readonly workMinutes: number;
}

/** Of the minutes planned after a swap, then one measures: the rate back is not yet one's own. */
const swapShare = 0.6;

/**
 * Plans the way back from an overshoot: discs swapped, 60 % of the minutes, then a reading.
 *
 *     t = o / r        u(t)^2 = (u_o / r)^2 + (o u_r / r^2)^2
 *
 * @param overshootUm  sagitta less target, um, above 0
 * @param rateUm       rate of the other position, um/min, above 0
 * @throws {RangeError} where one of them is not above 0
 * @see JCGM 100:2008, 5.1.2 (from memory)
 * @example 60 um too deep
 * ```ts
 * import assert from "node:assert/strict";
 * const plan = overshootPlan(
 *   { value: 60, u: 4, dof: 6, unit: "um" },
 *   { value: 8.7, u: 0.3, dof: 6, unit: "um/min" },
 * );
 * assert.equal(plan.minutes.value.toFixed(1), "6.9");
 * assert.equal(plan.position, "tool on top");
 * ```
 */
export function overshootPlan(overshootUm: Measured, rateUm: Measured): OvershootPlan {
  const o = overshootUm.value, r = rateUm.value;
  if (!(o > 0 && r > 0)) {
    throw new RangeError(
      `overshootPlan requires an overshoot and a rate above 0, got ${o} um and ${r} um/min`,
    );
  }
  const fromDepth = overshootUm.u / r, fromRate = o * rateUm.u / (r * r);
  const u = Math.hypot(fromDepth, fromRate);
  const spread = fromDepth ** 4 / overshootUm.dof + fromRate ** 4 / rateUm.dof;
  const minutes = measured(o / r, u, "min", spread > 0 ? u ** 4 / spread : Infinity);
  return { position: "tool on top", minutes, workMinutes: swapShare * minutes.value };
}
