/** The image of a star in a perfect round opening, with or without a round obstruction in its middle. */

/** First three dark rings of the Airy pattern, in units of wavelength x focal ratio: zeros of J1 divided by pi. */
export const AIRY_DARK_RINGS = [
  1.2196698912665045,
  2.2331305943815286,
  3.2383154841662362,
] as const;

/**
 * Radius of the first dark ring of a perfect star image, 1.22 x wavelength x focal ratio.
 *
 * @param focalRatio  f / D, above 0
 * @param wavelength  nm, above 0; default 550
 * @returns mm in the focal plane
 * @throws {RangeError} where one is not a finite number above 0
 * @see Born and Wolf, Principles of Optics, 8.5.2 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal((1000 * airyRadius(8)).toFixed(3), "5.367"); // um
 * ```
 */
export function airyRadius(focalRatio: number, wavelength = 550): number {
  if (!(focalRatio > 0 && wavelength > 0 && Number.isFinite(focalRatio * wavelength))) {
    throw new RangeError(
      `airyRadius requires focalRatio and wavelength (nm) above 0, got ${focalRatio}, ${wavelength}`,
    );
  }
  return AIRY_DARK_RINGS[0] * wavelength * 1e-6 * focalRatio;
}

/**
 * Bessel functions J0 and J1 by their integral over a half turn, trapezoid rule, exact to rounding.
 *
 *     Jn(x) = (1/pi) Int_0^pi cos(n t - x sin t) dt
 *
 * @param order  0 or 1
 * @param x  any finite number
 * @see Abramowitz and Stegun 9.1.21 (from memory); the rule converges faster than any power
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(Math.abs(besselJ(0, 2.404825557695773)) < 1e-14);
 * ```
 */
export function besselJ(order: 0 | 1, x: number): number {
  if (!Number.isFinite(x)) throw new RangeError(`besselJ requires a finite x, got ${x}`);
  const steps = 24 + Math.ceil(Math.abs(x));
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const t = (Math.PI * (i + 0.5)) / steps;
    sum += Math.cos(order * t - x * Math.sin(t));
  }
  return sum / steps;
}

/**
 * Brightness of a perfect star image, 1 in its middle.
 *
 * @param distance     from the middle, in wavelength x focal ratio; 0 or more
 * @param obstruction  width of the obstruction over the aperture, 0 to below 1
 * @returns 0 to 1
 * @throws {RangeError} outside those ranges
 * @see Mahajan, Optical Imaging and Aberrations II, annular pupils (from memory)
 * @example the first bright ring has 1.75 % of the middle's brightness
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(airyIntensity(1.63471935).toFixed(5), "0.01750");
 * ```
 */
export function airyIntensity(distance: number, obstruction = 0): number {
  requireAnnulus("airyIntensity", distance, obstruction);
  const e2 = obstruction * obstruction;
  const x = Math.PI * distance;
  const amplitude = (jinc(x) - e2 * jinc(obstruction * x)) / (1 - e2);
  return amplitude * amplitude;
}

/**
 * Share of a perfect star's light inside a circle.
 *
 * Without an obstruction this is 1 - J0^2 - J1^2; with one, the brightness is summed outward.
 *
 * @param distance     radius of the circle, in wavelength x focal ratio; 0 or more
 * @param obstruction  width of the obstruction over the aperture, 0 to below 1
 * @returns 0 to 1, of the light that passes
 * @throws {RangeError} outside those ranges
 * @see Born and Wolf 8.5.2 (Rayleigh's formula, from memory)
 * @example 84 % inside the first dark ring
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(airyEncircled(AIRY_DARK_RINGS[0]).toFixed(4), "0.8378");
 * ```
 */
export function airyEncircled(distance: number, obstruction = 0): number {
  requireAnnulus("airyEncircled", distance, obstruction);
  const x = Math.PI * distance;
  if (obstruction === 0) return 1 - besselJ(0, x) ** 2 - besselJ(1, x) ** 2;
  const steps = 2 * Math.ceil(20 + 10 * x);
  let sum = 0;
  for (let i = 1; i <= steps; i++) {
    const t = (x * i) / steps;
    const simpson = i === steps ? 1 : i % 2 === 1 ? 4 : 2;
    sum += simpson * airyIntensity(t / Math.PI, obstruction) * t;
  }
  return ((1 - obstruction * obstruction) / 2) * (sum * x) / (3 * steps);
}

/**
 * First dark ring with an obstruction: it shrinks while the outer rings brighten.
 *
 * @param obstruction  width of the obstruction over the aperture, 0 to 0.9
 * @returns radius in wavelength x focal ratio
 * @throws {RangeError} outside that range
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(firstDarkRing(0.2).toFixed(4), "1.1665");
 * ```
 */
export function firstDarkRing(obstruction = 0): number {
  if (!(obstruction >= 0 && obstruction <= 0.9)) {
    throw new RangeError(`firstDarkRing requires an obstruction from 0 to 0.9, got ${obstruction}`);
  }
  const amplitude = (d: number): number =>
    jinc(Math.PI * d) - obstruction ** 2 * jinc(obstruction * Math.PI * d);
  let low = 0.5, high = AIRY_DARK_RINGS[0] + 1e-9;
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (amplitude(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** 2 J1(x) / x, 1 at x = 0. */
function jinc(x: number): number {
  return Math.abs(x) < 1e-4 ? 1 - (x * x) / 8 : (2 * besselJ(1, x)) / x;
}

function requireAnnulus(name: string, distance: number, obstruction: number): void {
  if (!(distance >= 0 && Number.isFinite(distance) && obstruction >= 0 && obstruction < 1)) {
    throw new RangeError(
      `${name} requires distance of 0 or more and 0 <= obstruction < 1, got distance=${distance}, obstruction=${obstruction}`,
    );
  }
}
