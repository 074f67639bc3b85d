/** Glass that must go to make the hollow. */
import { capVolume, sagitta } from "../../optics/sphere.ts";
import { type Overhang, removalFor } from "./wearLaws.ts";

export interface GlassToRemove {
  /** depth at the centre, mm */
  readonly sagitta: number;
  /** of the hollow alone, mm3 */
  readonly volume: number;
  /** of the hollow alone, g */
  readonly grams: number;
  /** taken off each disc on average by the given strokes, mm; the hollow's own mean depth is about half the sagitta */
  readonly meanRemoval: number;
  /** of all the glass taken off one disc, mm3 */
  readonly wornVolume: number;
}

/**
 * Glass to remove for a curve, the hollow alone and what the strokes really take.
 *
 * @param aperture            mm, above 0
 * @param radius              of curvature, mm
 * @param overhang            of the rough strokes, see `chordRoutine`
 * @param densityKgPerM3      of the glass, above 0; soda-lime 2500
 * @throws {RangeError} outside the ranges of `sagitta` and `removalFor`
 * @example 150 mm f/8: 26 g of hollow
 * ```ts
 * import assert from "node:assert/strict";
 * const glass = glassToRemove(150, 2400, { offset: 37.5, travel: 50 }, 2510);
 * assert.equal(glass.grams.toFixed(1), "26.0");
 * assert.equal((glass.wornVolume / 1000).toFixed(2), "12.03");
 * ```
 */
export function glassToRemove(
  aperture: number,
  radius: number,
  overhang: Overhang,
  densityKgPerM3 = 2500,
): GlassToRemove {
  if (!(densityKgPerM3 > 0 && densityKgPerM3 < 20000)) {
    throw new RangeError(
      `glassToRemove requires a density above 0 kg/m3, got densityKgPerM3=${densityKgPerM3}`,
    );
  }
  const depth = sagitta(aperture, radius), volume = capVolume(aperture, radius);
  const meanRemoval = removalFor(depth, aperture, overhang);
  return {
    sagitta: depth,
    volume,
    grams: volume * densityKgPerM3 / 1e6,
    meanRemoval,
    wornVolume: meanRemoval * Math.PI * aperture * aperture / 4,
  };
}
