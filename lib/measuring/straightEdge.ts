/** What a straight-edge and a leaf do to the gap they measure: width, tilt, sag, offset, as named sizes. */

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
