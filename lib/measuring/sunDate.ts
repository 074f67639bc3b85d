/** How large the Sun looks on a date, and what its image says. */

/** Nominal solar radius, km (IAU 2015 Resolution B3, from memory). */
const SOLAR_RADIUS_KM = 695_700;
/** Astronomical unit, km (IAU 2012 Resolution B2, from memory). */
const AU_KM = 149_597_870.7;
const DEGREE = Math.PI / 180;

/**
 * Distance of the Sun on a date.
 *
 *     r = 1.00014 - 0.01671 cos g - 0.00014 cos 2g,   g = 357.528 + 0.9856003 (JD - 2451545.0) degrees
 *
 * @param date  ISO date, "2026-04-18" (taken at 0 h universal time), or date and time, "2000-01-01T12:00Z"
 * @returns astronomical units, within about 0.0003
 * @throws {RangeError} when the date cannot be read
 * @see low-precision formulas for the Sun, Astronomical Almanac (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(sunDistanceAu("2026-07-06").toFixed(4), "1.0167");
 * ```
 */
export function sunDistanceAu(date: string): number {
  const milliseconds = Date.parse(date);
  if (Number.isNaN(milliseconds)) {
    throw new RangeError(`sunDistanceAu requires an ISO date such as 2026-04-18, got "${date}"`);
  }
  const days = milliseconds / 86_400_000 + 2_440_587.5 - 2_451_545;
  const anomaly = (357.528 + 0.9856003 * days) * DEGREE;
  return 1.00014 - 0.01671 * Math.cos(anomaly) - 0.00014 * Math.cos(2 * anomaly);
}

/**
 * Angle the Sun's disc fills in the sky, theta = 2 asin(radius / distance).
 *
 * @param distanceAu  astronomical units; default 1, the year's mean
 * @returns rad, about 0.0093
 * @throws {RangeError} when the distance is not above 0
 * @example 32 minutes of arc
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal((sunAngle() * 60 * 180 / Math.PI).toFixed(2), "31.97");
 * ```
 */
export function sunAngle(distanceAu = 1): number {
  if (!(distanceAu > 0 && Number.isFinite(distanceAu))) {
    throw new RangeError(`sunAngle requires a distance above 0 au, got ${distanceAu}`);
  }
  return 2 * Math.asin(SOLAR_RADIUS_KM / (distanceAu * AU_KM));
}

/**
 * Focal length for each mm of the Sun's image, 1 / (2 tan(theta / 2)): between 105.7 in January and 109.3 in July.
 *
 * @param date  ISO date; absent means the year's mean, 107.5
 * @returns f / d, a pure number
 * @throws {RangeError} when the date cannot be read
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(focalLengthPerImage("2026-04-18").toFixed(1), "107.9");
 * ```
 */
export function focalLengthPerImage(date?: string): number {
  return 1 / (2 * Math.tan(sunAngle(date === undefined ? 1 : sunDistanceAu(date)) / 2));
}
