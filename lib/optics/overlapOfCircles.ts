/** The lens that two circles have in common. */

/**
 * Area common to two circles.
 *
 * @param a         radius, 0 or more
 * @param b         radius, 0 or more
 * @param distance  between their centres, 0 or more
 * @throws {RangeError} below 0
 * @see two circular segments: plane geometry
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(overlapOfCircles(1, 1, 0), Math.PI);
 * assert.equal(overlapOfCircles(1, 1, 2), 0);
 * ```
 */
export function overlapOfCircles(a: number, b: number, distance: number): number {
  if (!(a >= 0 && b >= 0 && distance >= 0)) {
    throw new RangeError(
      `overlapOfCircles requires lengths of 0 or more, got a=${a}, b=${b}, distance=${distance}`,
    );
  }
  if (distance >= a + b) return 0;
  if (distance <= Math.abs(a - b)) return Math.PI * Math.min(a, b) ** 2;
  const toChord = (distance ** 2 + a ** 2 - b ** 2) / (2 * distance);
  const half = Math.sqrt(Math.max(0, a ** 2 - toChord ** 2));
  const sector = (radius: number, x: number): number =>
    radius ** 2 * Math.atan2(half, x) - x * half;
  return sector(a, toChord) + sector(b, distance - toChord);
}
