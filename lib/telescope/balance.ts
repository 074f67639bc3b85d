/** Where the tube balances, and when it lets go: moments about the pivot. */
import { GRAVITY } from "./cell.ts";
import { given, requireAbove0, requireNot0Less } from "./ranges.ts";

/** A part of the tube: mass g, place mm from the tube's rear end. */
export interface TubePart {
  /** g */
  readonly mass: number;
  /** of its centre of mass, mm from the tube's rear end */
  readonly at: number;
}

/**
 * Total mass and the place it balances on.
 *
 * @param parts  one at least; masses 0 or more, not all 0
 * @returns mass g, place mm from the tube's rear end
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(balance([{ mass: 1, at: 0 }, { mass: 3, at: 400 }]), { mass: 4, at: 300 });
 * ```
 */
export function balance(parts: readonly TubePart[]): TubePart {
  const mass = parts.reduce((sum, part) => sum + part.mass, 0);
  const moment = parts.reduce((sum, part) => sum + part.mass * part.at, 0);
  if (!(mass > 0 && Number.isFinite(moment) && parts.every((part) => part.mass >= 0))) {
    throw new RangeError(
      `balance requires parts of 0 g or more, not all 0, at finite places, got ${
        JSON.stringify(parts)
      }`,
    );
  }
  return { mass, at: moment / mass };
}

/**
 * Moment of something added away from the pivot.
 *
 * @param mass      g; 0 or more
 * @param arm       from the pivot along the tube, mm; 0 or more
 * @param altitude  of the tube above level, rad, 0 to pi/2: the lower, the worse
 * @returns N m
 * @throws {RangeError} outside those ranges
 * @example a heavy eyepiece
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(addedMoment(300, 570.752, Math.PI / 9).toFixed(3), "1.578");
 * ```
 */
export function addedMoment(mass: number, arm: number, altitude: number): number {
  requireNot0Less("addedMoment", { mass, arm, altitude });
  if (altitude > Math.PI / 2) {
    throw new RangeError(`addedMoment requires an altitude up to pi/2 rad, got ${altitude}`);
  }
  return (mass / 1000) * GRAVITY * (arm / 1000) * Math.cos(altitude);
}

/** Altitude bearings: two round sides on pads; lengths mm, angles rad. */
export interface Bearing {
  /** of the round side, mm */
  readonly radius: number;
  /** of the pads on the bearing, at rest: 0.1 to 0.2 for slippery plastic on laminate (COMMON PRACTICE: that range) */
  readonly friction: number;
  /** how far each pad sits from straight below */
  readonly padHalfAngle: number;
}

/**
 * Moment with which the bearings hold the tube: friction x weight x radius / cos(pad angle).
 *
 * @param mass     of the tube with everything on it, g; above 0
 * @param bearing  radius above 0, friction 0 or more, pad angle 0 to below pi/2
 * @returns N m
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const bearing = { radius: 90, friction: 0.15, padHalfAngle: (35 * Math.PI) / 180 };
 * assert.equal(frictionMoment(6650, bearing).toFixed(3), "1.075");
 * ```
 */
export function frictionMoment(mass: number, bearing: Bearing): number {
  requireAbove0("frictionMoment", { mass, radius: bearing.radius });
  requireNot0Less("frictionMoment", {
    friction: bearing.friction,
    padHalfAngle: bearing.padHalfAngle,
  });
  if (bearing.padHalfAngle >= Math.PI / 2) {
    throw new RangeError(
      `frictionMoment requires a pad angle below pi/2 rad, got ${bearing.padHalfAngle}`,
    );
  }
  const pressed = (mass / 1000) * GRAVITY / Math.cos(bearing.padHalfAngle);
  return (bearing.friction * pressed * bearing.radius) / 1000;
}

/**
 * Least radius of bearings that hold a moment, with a margin.
 *
 * @param moment  to be held, N m; 0 or more
 * @param margin  friction over moment, e.g. 1.1; above 0
 * @returns mm
 * @throws {RangeError} outside the ranges of `frictionMoment`, or where friction is 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const pads = { friction: 0.15, padHalfAngle: (35 * Math.PI) / 180 };
 * assert.equal(bearingRadiusFor(1.578, 6650, pads, 1.1).toFixed(0), "145");
 * ```
 */
export function bearingRadiusFor(
  moment: number,
  mass: number,
  pads: Omit<Bearing, "radius">,
  margin: number,
): number {
  requireNot0Less("bearingRadiusFor", { moment });
  requireAbove0("bearingRadiusFor", { mass, margin, friction: pads.friction });
  return (margin * moment) / frictionMoment(mass, { ...pads, radius: 1 });
}

/**
 * Counterweight that brings the balance back to the pivot.
 *
 * @param parts  of the tube, with what was added
 * @param pivot  mm from the tube's rear end
 * @param at     where the weight can be fixed, mm from the rear end
 * @returns g; `undefined` where a weight there would make it worse
 * @throws {RangeError} where the parts cannot be balanced or `at` is the pivot
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const parts = [{ mass: 1000, at: 500 }, { mass: 100, at: 1000 }];
 * assert.equal(counterweight(parts, 500, 0)?.toFixed(6), "100.000000");
 * assert.equal(counterweight([{ mass: 1000, at: 600 }], 500, 900), undefined);
 * ```
 */
export function counterweight(
  parts: readonly TubePart[],
  pivot: number,
  at: number,
): number | undefined {
  const { mass, at: centre } = balance(parts);
  if (!(Number.isFinite(pivot) && Number.isFinite(at) && at !== pivot)) {
    throw new RangeError(
      `counterweight requires a place away from the pivot in mm, got ${given({ pivot, at })}`,
    );
  }
  const wanted = (mass * (centre - pivot)) / (pivot - at);
  return wanted < 0 ? undefined : wanted + 0;
}

/**
 * How high the eyepiece stands.
 *
 * @param pivotHeight  of the altitude axis above the ground, mm; 0 or more
 * @param arm          pivot to focuser along the tube, mm; 0 or more
 * @param altitude     rad
 * @returns mm above the ground, with the focuser level with the tube's axis
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(eyeHeight(700, 571, Math.PI / 2), 1271);
 * ```
 */
export function eyeHeight(pivotHeight: number, arm: number, altitude: number): number {
  requireNot0Less("eyeHeight", { pivotHeight, arm });
  return pivotHeight + arm * Math.sin(altitude);
}

/**
 * Least height of the pivot, so that the tube's rear corner clears the base at every altitude.
 *
 * @param behind  pivot to the tube's rear end, mm; 0 or more
 * @param half    half the tube's outer diameter, mm; 0 or more
 * @returns mm above whatever lies below
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(pivotClearance(400, 300), 500);
 * ```
 */
export function pivotClearance(behind: number, half: number): number {
  requireNot0Less("pivotClearance", { behind, half });
  return Math.hypot(behind, half);
}
