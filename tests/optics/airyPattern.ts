/** A perfect star's image in closed form: a reference implementation for the images that the library transforms. */
import { besselJ } from "../../lib/optics/airy.ts";

/**
 * Brightness of a perfect star image, 1 in its middle.
 *
 * @param distance     from the middle, in wavelength x focal ratio; 0 or more
 * @param obstruction  width of the obstruction over the aperture, 0 to below 1
 * @returns 0 to 1
 * @see Mahajan, Optical Imaging and Aberrations II, annular pupils (from memory)
 */
export function airyIntensity(distance: number, obstruction = 0): number {
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
 * @see Born and Wolf 8.5.2 (Rayleigh's formula, from memory)
 */
export function airyEncircled(distance: number, obstruction = 0): number {
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

/** 2 J1(x) / x, 1 at x = 0. */
function jinc(x: number): number {
  return Math.abs(x) < 1e-4 ? 1 - (x * x) / 8 : (2 * besselJ(1, x)) / x;
}
