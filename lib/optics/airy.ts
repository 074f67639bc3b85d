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
 * @see Born and Wolf, Principles of Optics, 8.5.2 (reckoned anew in tests/optics/secondRoute.py)
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
 * @see Abramowitz and Stegun 9.1.21 (reckoned anew in tests/optics/secondRoute.py); the rule converges faster than any power
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

// What a small mirror in front of the large one takes: light and contrast, but no shape.

/** Brightness of a star's middle with an obstruction. */
export interface ObstructedPeak {
  /** for the same star and aperture, over the unobstructed one: (1 - e^2)^2 */
  readonly sameStar: number;
  /** for the same light let through: 1 - e^2 */
  readonly sameLight: number;
  /** share of the light blocked, e^2 */
  readonly blocked: number;
}

/**
 * How an obstruction dims the middle of a star's image. It is no error of the mirror: keep the two apart.
 *
 * @param obstruction  its width over the aperture, 0 to below 1
 * @throws {RangeError} outside that range
 * @see Born and Wolf 8.6.2 (reckoned anew in tests/optics/secondRoute.py)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(obstructedPeak(0.2).sameStar.toFixed(4), "0.9216");
 * ```
 */
export function obstructedPeak(obstruction: number): ObstructedPeak {
  if (!(obstruction >= 0 && obstruction < 1)) {
    throw new RangeError(`obstructedPeak requires 0 <= obstruction < 1, got ${obstruction}`);
  }
  const blocked = obstruction * obstruction;
  return { sameStar: (1 - blocked) ** 2, sameLight: 1 - blocked, blocked };
}
