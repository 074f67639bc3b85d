import { type Measured, measured } from "../quantity/measured.ts";

/**
 * Depth of a spherical surface at its centre, below the chord of its edge.
 *
 * Rough grinding stops when the leaves under a straight-edge add up to this.
 *
 *     s = r^2 / (R + sqrt(R^2 - r^2))          near r^2 / 2R when r is small beside R
 *
 * This is R - sqrt(R^2 - r^2) with the two nearly equal numbers never subtracted, so no digits are lost.
 *
 * @param aperture  width 2r straight across, mm; 0 < aperture <= 2R
 * @param radius    radius of curvature R, mm; positive
 * @returns sagitta s, mm; positive
 * @throws {RangeError} outside those ranges or not finite
 * @see intersecting chords, r^2 = s (2R - s): Euclid, Elements III.35 (derived in its test)
 * @example a 200 mm disc whose radius is 2400 mm
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(sagitta(200, 2400).toFixed(4), "2.0842");
 * ```
 */
export function sagitta(aperture: number, radius: number): number {
  if (!(aperture > 0 && radius > 0 && aperture <= 2 * radius && Number.isFinite(radius))) {
    throw new RangeError(
      `sagitta requires 0 < aperture <= 2 x radius in mm, got aperture=${aperture}, radius=${radius}`,
    );
  }
  const half = aperture / 2;
  return (half * half) / (radius + Math.sqrt((radius - half) * (radius + half)));
}

/**
 * Radius of the sphere that is `depth` deep below a chord.
 *
 *     R = (r^2 + s^2) / 2s
 *
 * @param depth  sagitta s below that chord, mm; 0 < depth <= chord / 2
 * @param chord  width 2r straight across, mm; between the inner edges of the bevel when a straight-edge rests there
 * @returns radius of curvature R, mm
 * @throws {RangeError} outside those ranges or not finite
 * @see Euclid, Elements III.35 (derived in its test)
 * @example what 1.1334 mm under a 147 mm chord means
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(radiusFromSagitta(1.1334005, 147).toFixed(1), "2383.8");
 * ```
 */
export function radiusFromSagitta(depth: number, chord: number): number {
  checkDepth("radiusFromSagitta", depth, chord);
  const half = chord / 2;
  return (half * half + depth * depth) / (2 * depth);
}

/**
 * Depth of the paraboloid of the same vertex radius: s = r^2 / 2R, which is D^2 / 16f.
 *
 * @param aperture  width 2r straight across, mm; above 0
 * @param radius    vertex radius of curvature R, mm; above 0
 * @returns sagitta, mm; a little less than the sphere's, by about r^4 / 8R^3
 * @throws {RangeError} outside those ranges or not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(paraboloidSagitta(150, 2400), 1.171875);
 * ```
 */
export function paraboloidSagitta(aperture: number, radius: number): number {
  if (!(aperture > 0 && radius > 0 && Number.isFinite(aperture) && Number.isFinite(radius))) {
    throw new RangeError(
      `paraboloidSagitta requires aperture and radius above 0 mm, got aperture=${aperture}, radius=${radius}`,
    );
  }
  return (aperture * aperture) / (8 * radius);
}

/**
 * How deep the same sphere is under another chord: what is measured inside the bevel, carried to the full aperture.
 *
 * @param depth  sagitta below `chord`, mm; 0 < depth <= chord / 2
 * @param chord  where it was measured, mm
 * @param aperture  where it is wanted, mm; at most twice the radius
 * @returns sagitta below `aperture`, mm
 * @throws {RangeError} outside those ranges or not finite
 * @example 1.06/1.08 mm of leaves on a 148 mm chord, 12.7 mm wide, is 1.107 mm on the full 150
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(carrySagitta(1.07 + 0.008, 148, 150).toFixed(3), "1.107");
 * ```
 */
export function carrySagitta(depth: number, chord: number, aperture: number): number {
  return sagitta(aperture, radiusFromSagitta(depth, chord));
}

/**
 * Focal length of a mirror, f = R / 2: half as far as the centre of its curve.
 *
 * @param radius  radius of curvature, mm; above 0
 * @throws {RangeError} when not a finite number above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(focalLength(2400), 1200);
 * ```
 */
export function focalLength(radius: number): number {
  if (!(radius > 0 && Number.isFinite(radius))) {
    throw new RangeError(`focalLength requires a finite radius above 0 mm, got radius=${radius}`);
  }
  return radius / 2;
}

/**
 * Glass that fills a spherical hollow up to its chord, V = pi s (3 r^2 + s^2) / 6.
 *
 * @param aperture  width of the hollow 2r, mm; 0 < aperture <= 2R
 * @param radius    radius of curvature R, mm
 * @returns volume, cubic mm
 * @throws {RangeError} outside those ranges or not finite
 * @see spherical cap, Archimedes, On the Sphere and Cylinder II.2 (derived in its test)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(capVolume(150, 2400).toFixed(0), "10358");
 * ```
 */
export function capVolume(aperture: number, radius: number): number {
  const depth = sagitta(aperture, radius);
  const half = aperture / 2;
  return (Math.PI * depth * (3 * half * half + depth * depth)) / 6;
}

/**
 * How much the radius moves for a small change of what was measured.
 *
 *     dR/dr = r / s          dR/ds = -(r^2 - s^2) / 2 s^2
 *
 * @param depth  sagitta s, mm; 0 < depth <= chord / 2
 * @param chord  width 2r, mm
 * @returns `perHalfChord` dR/dr, positive; `perDepth` dR/ds, negative or 0: a deeper curve has a shorter radius
 * @throws {RangeError} outside those ranges or not finite
 * @example 0.001 mm of depth in a 150 mm f/8 is 2 mm of radius
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal((radiusSensitivity(1.17, 150).perDepth / 1000).toFixed(2), "-2.05");
 * ```
 */
export function radiusSensitivity(
  depth: number,
  chord: number,
): { readonly perHalfChord: number; readonly perDepth: number } {
  checkDepth("radiusSensitivity", depth, chord);
  const half = chord / 2;
  return {
    perHalfChord: half / depth,
    perDepth: -(half * half - depth * depth) / (2 * depth * depth),
  };
}

/**
 * How much the sagitta moves for a small change of the radius, ds/dR = -s / sqrt(R^2 - r^2).
 *
 * @param aperture  width 2r, mm; 0 < aperture < 2R
 * @param radius    radius of curvature R, mm
 * @returns ds/dR, negative: a longer radius is a shallower curve
 * @throws {RangeError} outside those ranges or not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal((sagittaSensitivity(150, 2400) * 20).toFixed(4), "-0.0098");
 * ```
 */
export function sagittaSensitivity(aperture: number, radius: number): number {
  const depth = sagitta(aperture, radius);
  if (aperture === 2 * radius) {
    throw new RangeError(
      `sagittaSensitivity requires aperture < 2 x radius in mm, got aperture=${aperture}, radius=${radius}`,
    );
  }
  return -depth / Math.sqrt(radius * radius - (aperture * aperture) / 4);
}

/**
 * Sagitta with its uncertainty, from a radius that was measured; the aperture is taken as exact.
 *
 * @param aperture  width 2r, mm; 0 < aperture < 2R
 * @param radius    radius of curvature, mm, with u
 * @returns sagitta, mm; degrees of freedom are the radius's
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const radius = { value: 2396.6, u: 2.4, dof: 8, unit: "mm" };
 * assert.equal(sagittaWithUncertainty(150, radius).u.toFixed(4), "0.0012");
 * ```
 */
export function sagittaWithUncertainty(aperture: number, radius: Measured): Measured {
  const u = Math.abs(sagittaSensitivity(aperture, radius.value)) * radius.u;
  return measured(sagitta(aperture, radius.value), u, "mm", radius.dof);
}

function checkDepth(caller: string, depth: number, chord: number): void {
  if (!(depth > 0 && Number.isFinite(chord) && depth <= chord / 2)) {
    throw new RangeError(
      `${caller} requires 0 < depth <= chord / 2 in mm, got depth=${depth}, chord=${chord}`,
    );
  }
}
