/** What a straight-edge and a leaf do to the gap they measure: width, tilt, sag, offset, as named sizes. */
import { radiusFromSagitta } from "../optics/sphere.ts";

/**
 * Depth a flat leaf misses, because its two edges touch the curve before its middle does: w^2 / 8R.
 *
 * @param width   of the leaf along the straight-edge, mm; 0 or more
 * @param radius  of curvature, mm; above 0
 * @returns mm to add to the stack's thickness
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(leafWidthCorrection(12.7, 2400).toFixed(4), "0.0084");
 * ```
 */
export function leafWidthCorrection(width: number, radius: number): number {
  const usable = width >= 0 && width < Infinity && radius > 0 && radius < Infinity;
  if (!usable) requireSizes("leafWidthCorrection", { width }, { radius });
  return (width * width) / (8 * radius);
}

/**
 * Gap at which a leaf jams when it is held tilted: t cos(phi) + w sin(phi). The largest slip of a single reading.
 *
 * @param thickness  of the stack, mm; above 0
 * @param width      of the leaf, mm; 0 or more
 * @param angle      tilt, rad; 0 or more, below a right angle
 * @returns mm; the gap looks smaller than it is by this less `thickness`
 * @throws {RangeError} outside those ranges
 * @example half a degree makes a 1.15 mm leaf jam in a gap of 1.26 mm
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(jamOfTiltedLeaf(1.15, 12.7, Math.PI / 360).toFixed(2), "1.26");
 * ```
 */
export function jamOfTiltedLeaf(thickness: number, width: number, angle: number): number {
  requireSizes("jamOfTiltedLeaf", { width, angle }, { thickness });
  if (angle >= Math.PI / 2) {
    throw new RangeError(`jamOfTiltedLeaf requires angle < pi / 2 rad, got angle=${angle}`);
  }
  return thickness * Math.cos(angle) + width * Math.sin(angle);
}

/** A bar that bends under its own weight. */
export interface Bar {
  /** between its two supports, mm */
  readonly span: number;
  /** in the direction of gravity, mm: a straight-edge on edge is high, lying flat it is thin */
  readonly height: number;
  /** g per cubic mm; default steel, 0.00785 */
  readonly density?: number;
  /** Young's modulus, N per square mm; default steel, 200000 */
  readonly modulus?: number;
}

/**
 * How far a bar sags in its middle between two supports, 5 rho g L^4 12 / (384 E h^2).
 *
 * @returns mm, downwards: the gap looks smaller by it
 * @throws {RangeError} when a size is not above 0
 * @see simply supported beam under its own weight (textbook elasticity, from memory)
 * @example lying flat, 1 mm thin, it eats 0.03 mm of a 1.17 mm gap
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(straightEdgeSag({ span: 150, height: 1 }).toFixed(3), "0.030");
 * assert.ok(straightEdgeSag({ span: 150, height: 30 }) < 0.00004);
 * ```
 */
export function straightEdgeSag(bar: Bar): number {
  const { span, height, density = 0.00785, modulus = 200_000 } = bar;
  requireSizes("straightEdgeSag", {}, { span, height, density, modulus });
  const weight = density * 1e-3 * 9.80665; // N per cubic mm
  return (5 * weight * span ** 4 * 12) / (384 * modulus * height ** 2);
}

/**
 * Depth under a straight-edge that passes beside the centre: sqrt(R^2 - e^2) - sqrt(R^2 - r^2).
 *
 * @param aperture  width between the points where the rim carries it, mm, seen through the centre
 * @param radius    of curvature, mm; more than half the aperture
 * @param offset    e, how far from the centre it passes, mm; 0 to aperture / 2
 * @returns mm, less than the sagitta by about e^2 / 2R
 * @throws {RangeError} outside those ranges
 * @example 5 mm beside the centre makes the radius 0.45 % too long
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(radiusSeenOffCentre(150, 2400, 5).toFixed(1), "2410.7");
 * ```
 */
export function depthOffCentre(aperture: number, radius: number, offset: number): number {
  requireSizes("depthOffCentre", { offset }, { aperture, radius });
  const half = aperture / 2;
  if (!(offset <= half && half < radius)) {
    throw new RangeError(
      `depthOffCentre requires offset <= aperture / 2 < radius in mm, got offset=${offset}, ` +
        `aperture=${aperture}, radius=${radius}`,
    );
  }
  const difference = (half - offset) * (half + offset);
  return difference / (Math.sqrt(radius ** 2 - offset ** 2) + Math.sqrt(radius ** 2 - half ** 2));
}

/**
 * The radius one would report from `depthOffCentre`, taking it for the depth at the centre: always too long.
 *
 * @returns mm
 * @throws {RangeError} outside the ranges of `depthOffCentre`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(radiusSeenOffCentre(150, 2400, 2) > 2400);
 * ```
 */
export function radiusSeenOffCentre(aperture: number, radius: number, offset: number): number {
  return radiusFromSagitta(depthOffCentre(aperture, radius, offset), aperture);
}

function requireSizes(
  caller: string,
  zeroOrMore: Readonly<Record<string, number>>,
  aboveZero: Readonly<Record<string, number>>,
): void {
  for (const [name, size] of Object.entries(zeroOrMore)) {
    if (!(size >= 0 && Number.isFinite(size))) {
      throw new RangeError(`${caller} requires ${name} of 0 or more, got ${name}=${size}`);
    }
  }
  for (const [name, size] of Object.entries(aboveZero)) {
    if (!(size > 0 && Number.isFinite(size))) {
      throw new RangeError(`${caller} requires ${name} above 0, got ${name}=${size}`);
    }
  }
}
