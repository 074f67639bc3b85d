/** What warmth does to a curve and to the gauge that reads it. */

/**
 * Radius of a disc warmed evenly: it grows like everything else, R (1 + alpha dT). Too little to matter.
 *
 * @param radius     of curvature, mm; above 0
 * @param expansion  alpha, per degree C (soda-lime about 9e-6)
 * @param warmer     dT, degrees C
 * @returns mm
 * @throws {RangeError} when something is not finite or the radius not above 0
 * @example ten degrees are 0.2 mm in 2400
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal((radiusWhenWarm(2400, 9e-6, 10) - 2400).toFixed(3), "0.216");
 * ```
 */
export function radiusWhenWarm(radius: number, expansion: number, warmer: number): number {
  requireNumbers("radiusWhenWarm", { radius }, { expansion, warmer });
  return radius * (1 + expansion * warmer);
}

/**
 * Radius of a disc whose face is warmer than its back: the face bulges, and the radius grows.
 *
 *     d(1/R) = -alpha dT / t
 *
 * Below what leaves can feel, but several fringes in an optical test: wait after warm water and after handling.
 *
 * @param radius     of curvature, mm; above 0
 * @param expansion  alpha, per degree C
 * @param warmer     face less back, degrees C
 * @param thickness  t, mm; above 0
 * @returns mm
 * @throws {RangeError} outside those ranges, or when the disc would be bent flat
 * @see thin plate bent by a temperature gradient (textbook elasticity, from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal((radiusWithWarmFace(2400, 9e-6, 1, 25) - 2400).toFixed(2), "2.08");
 * ```
 */
export function radiusWithWarmFace(
  radius: number,
  expansion: number,
  warmer: number,
  thickness: number,
): number {
  requireNumbers("radiusWithWarmFace", { radius, thickness }, { expansion, warmer });
  const curvature = 1 / radius - (expansion * warmer) / thickness;
  if (!(curvature > 0)) {
    throw new RangeError(
      `radiusWithWarmFace requires a disc that stays hollow, got warmer=${warmer}, thickness=${thickness}`,
    );
  }
  return 1 / curvature;
}

/**
 * Depth a warm face loses, -r^2 alpha dT / 2t.
 *
 * @param aperture   2r, mm; above 0
 * @param expansion  alpha, per degree C
 * @param warmer     face less back, degrees C
 * @param thickness  t, mm; above 0
 * @returns mm; negative when the face is warmer
 * @throws {RangeError} outside those ranges
 * @example one thousandth of a mm for one degree
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal((depthWithWarmFace(150, 9e-6, 1, 25) * 1000).toFixed(4), "-1.0125");
 * ```
 */
export function depthWithWarmFace(
  aperture: number,
  expansion: number,
  warmer: number,
  thickness: number,
): number {
  requireNumbers("depthWithWarmFace", { aperture, thickness }, { expansion, warmer });
  return -(aperture * aperture * expansion * warmer) / (8 * thickness);
}

/**
 * How much farther apart a gauge's feet are than the glass below them, both warmed alike.
 *
 * @param length  of the gauge from its middle, mm; above 0
 * @param gaugeExpansion  alpha of the gauge (steel about 1.15e-5), per degree C
 * @param glassExpansion  alpha of the glass, per degree C
 * @param warmer  than when the gauge was measured, degrees C
 * @returns mm
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(gaugeAgainstGlass(75, 1.15e-5, 9e-6, 1).toFixed(6), "0.000187");
 * ```
 */
export function gaugeAgainstGlass(
  length: number,
  gaugeExpansion: number,
  glassExpansion: number,
  warmer: number,
): number {
  requireNumbers("gaugeAgainstGlass", { length }, { gaugeExpansion, glassExpansion, warmer });
  return length * (gaugeExpansion - glassExpansion) * warmer;
}

function requireNumbers(
  caller: string,
  aboveZero: Readonly<Record<string, number>>,
  finite: Readonly<Record<string, number>>,
): void {
  for (const [name, size] of Object.entries(aboveZero)) {
    if (!(size > 0 && Number.isFinite(size))) {
      throw new RangeError(`${caller} requires ${name} above 0, got ${name}=${size}`);
    }
  }
  for (const [name, size] of Object.entries(finite)) {
    if (!Number.isFinite(size)) {
      throw new RangeError(`${caller} requires a finite ${name}, got ${name}=${size}`);
    }
  }
}
