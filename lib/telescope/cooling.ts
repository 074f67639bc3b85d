/** Glass takes its time: how long it cools, and what warm glass does to the focus. */
import { findRoot } from "../numeric/rootFinding.ts";
import { given, requireAbove0 } from "./ranges.ts";

/** A disc and how its glass holds and passes heat; lengths mm. */
export interface WarmDisc {
  /** mm */
  readonly thickness: number;
  /** kg/m³ */
  readonly densityKgPerM3: number;
  /** specific heat, J/(kg K) */
  readonly heatJPerKgK: number;
  /** heat conductivity, W/(m K) */
  readonly conductivityWPerMK: number;
}

/** Heat passed by each face, W/m^2K: still air, and a fan (common practice, air and radiation together). */
export const STILL_AIR = 5, FAN = 10;

/** How a disc follows the air. */
export interface Cooling {
  /** time to a fraction 1/e of the difference, min, for a plate that is one temperature throughout */
  readonly lumped: number;
  /** the same with the glass's own slowness, min: this is the one to use */
  readonly timeConstant: number;
  /** h t / 2k; below 0.1 the two agree */
  readonly biot: number;
}

/**
 * Time constant of a cooling disc.
 *
 *     lumped density x heat x t / 2h;  slab (t/2)^2 density x heat / (k x^2) with x tan x = h t / 2k
 *
 * @param disc        mm and SI
 * @param wPerM2K     heat each face passes, W/m^2K; above 0
 * @param faces       2 when air reaches the back too, else 1
 * @returns min
 * @throws {RangeError} outside those ranges
 * @see Carslaw and Jaeger, Conduction of Heat in Solids, the slab (reckoned anew in tests/telescope/secondRoute.py)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const glass = { densityKgPerM3: 2500, heatJPerKgK: 840, conductivityWPerMK: 1 };
 * assert.equal(cooling({ thickness: 25, ...glass }, FAN).timeConstant.toFixed(1), "45.6");
 * ```
 */
export function cooling(disc: WarmDisc, wPerM2K: number, faces: 1 | 2 = 2): Cooling {
  requireAbove0("cooling", { ...disc, wPerM2K });
  const { thickness, densityKgPerM3, heatJPerKgK, conductivityWPerMK } = disc;
  const depth = thickness / 1000 / faces, stored = densityKgPerM3 * heatJPerKgK;
  const biot = (wPerM2K * depth) / conductivityWPerMK;
  const x = findRoot((angle) => angle * Math.tan(angle) - biot, 0, Math.PI / 2 - 1e-12);
  return {
    lumped: (stored * depth) / wPerM2K / 60,
    timeConstant: (depth ** 2 * stored) / (conductivityWPerMK * x ** 2) / 60,
    biot,
  };
}

/**
 * Minutes until a difference to the air has fallen to another.
 *
 * @param timeConstant  min; above 0
 * @param from          K, above 0
 * @param to            K, above 0, at most `from`
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(minutesToCool(45.588, 10, 0.5).toFixed(1), "136.6");
 * ```
 */
export function minutesToCool(timeConstant: number, from: number, to: number): number {
  requireAbove0("minutesToCool", { timeConstant, from, to });
  if (to > from) {
    throw new RangeError(`minutesToCool requires to <= from in K, got ${given({ from, to })}`);
  }
  return timeConstant * Math.log(from / to);
}
