/** Spherical aberration of a conic mirror, and when the sphere that grinding gives by itself is good enough. */

/** A round mirror: clear width and focal length, mm. */
export interface MirrorSize {
  /** clear width, mm */
  readonly aperture: number;
  /** mm */
  readonly focalLength: number;
}

/**
 * Third-order spherical aberration at the paraxial focus: W040 = (1+K) D^4 / (512 f^3 wavelength).
 *
 * At its best focus the P-V is a quarter of it and the RMS a 1/(6 sqrt 5).
 *
 * @param size  clear aperture and focal length, mm; above 0
 * @param conic  conic constant; default 0, a sphere
 * @param wavelength  nm; default 550
 * @returns waves of wavefront; positive for K above -1
 * @throws {RangeError} where sizes or wavelength are not above 0
 * @see Schroeder, Astronomical Optics, chapter 4 (reckoned anew in tests/optics/secondRoute.py)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(sphericalAberrationWaves({ aperture: 150, focalLength: 1200 }).toFixed(2), "1.04");
 * ```
 */
export function sphericalAberrationWaves(size: MirrorSize, conic = 0, wavelength = 550): number {
  const { aperture, focalLength } = size;
  requireSize("sphericalAberrationWaves", aperture, focalLength, wavelength);
  return ((1 + conic) * aperture ** 4) / (512 * focalLength ** 3 * wavelength * 1e-6);
}

/**
 * P-V of a perfect sphere's (or conic's) wavefront at its best focus: a quarter of the aberration.
 *
 * @param size  clear aperture and focal length, mm
 * @param conic  conic constant; default 0, a sphere
 * @param wavelength  nm; default 550
 * @returns waves of wavefront, 0 or more
 * @throws {RangeError} where sizes or wavelength are not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(conicPvWaves({ aperture: 150, focalLength: 1200 }).toFixed(3), "0.260");
 * ```
 */
export function conicPvWaves(size: MirrorSize, conic = 0, wavelength = 550): number {
  return Math.abs(sphericalAberrationWaves(size, conic, wavelength)) / 4;
}

/**
 * Shortest focal length at which a sphere's wavefront stays within a P-V at best focus: f^3 = D^4 / (2048 P wavelength).
 *
 * @param aperture  clear width, mm; above 0
 * @param pvWaves   P-V allowed on the wavefront, waves; default a quarter
 * @param wavelength  nm; default 550
 * @returns focal length, mm; third order, 0.015 % short of the exact path's answer
 * @throws {RangeError} where one is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(leastFocalLengthForSphere(150).toFixed(1), "1215.9");
 * ```
 */
export function leastFocalLengthForSphere(
  aperture: number,
  pvWaves = 0.25,
  wavelength = 550,
): number {
  requireSize("leastFocalLengthForSphere", aperture, pvWaves, wavelength);
  return Math.cbrt(aperture ** 4 / (2048 * pvWaves * wavelength * 1e-6));
}

/**
 * Whether a sphere serves as well as the paraboloid would.
 *
 * @param size  clear aperture and focal length, mm
 * @param surfaceWaves  goal, P-V on the glass, waves; default 1/8, which is 1/4 on the wavefront
 * @param wavelength  nm; default 550
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(sphereIsEnough({ aperture: 114, focalLength: 900 }), true);
 * assert.equal(sphereIsEnough({ aperture: 150, focalLength: 1200 }), false);
 * ```
 */
export function sphereIsEnough(
  size: MirrorSize,
  surfaceWaves: number = 1 / 8,
  wavelength = 550,
): boolean {
  return conicPvWaves(size, 0, wavelength) <= 2 * surfaceWaves;
}

function requireSize(name: string, a: number, b: number, wavelength: number): void {
  if (!(a > 0 && b > 0 && wavelength > 0 && Number.isFinite(a * b * wavelength))) {
    throw new RangeError(
      `${name} requires sizes and wavelength (nm) above 0, got ${a}, ${b}, ${wavelength}`,
    );
  }
}
