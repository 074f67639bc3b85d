/** Clear widths the light asks of drawtube, tube and baffle. */
import type { MainMirror } from "./flat.ts";
import { given, requireAbove0, requireNot0Less } from "./ranges.ts";

/**
 * Least clear bore of the drawtube at a distance from the focus.
 *
 * @param mirror     mm
 * @param fromFocus  of the drawtube's inner end, mm; 0 or more
 * @param fullyLit   width of the field that is to lose nothing, mm; 0 or more
 * @returns mm: i + s (D - i) / f
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(drawtubeBore({ aperture: 250, focalLength: 1250 }, 75, 20).toFixed(1), "33.8");
 * ```
 */
export function drawtubeBore(mirror: MainMirror, fromFocus: number, fullyLit: number): number {
  requireAbove0("drawtubeBore", { ...mirror });
  requireNot0Less("drawtubeBore", { fromFocus, fullyLit });
  return fullyLit + (fromFocus * (mirror.aperture - fullyLit)) / mirror.focalLength;
}

/**
 * Least bore of the tube at its front end, so that light for the edge of the field still gets in.
 *
 * A warm tube wants 10 to 25 mm more, for the air that rises along its wall (common practice).
 *
 * @param mirror      mm
 * @param front       of the tube's front end from the mirror's vertex, mm; 0 or more
 * @param fieldRadius half the field stop, mm; 0 or more
 * @returns mm: D + 2 x h / f
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const mirror = { aperture: 150, focalLength: 1198.3 };
 * assert.equal(tubeBore(mirror, 1170.3, 10.5).toFixed(1), "170.5");
 * ```
 */
export function tubeBore(mirror: MainMirror, front: number, fieldRadius: number): number {
  requireAbove0("tubeBore", { ...mirror });
  requireNot0Less("tubeBore", { front, fieldRadius });
  return mirror.aperture + (2 * front * fieldRadius) / mirror.focalLength;
}

/**
 * Half-width of what a point of the field sees through the drawtube: a baffle opposite must cover it, or the tube must
 * reach about one diameter beyond the flat.
 *
 * @param drawtubeDiameter  clear bore, mm; above 0
 * @param fromFocus         of the drawtube's inner end, mm; above 0
 * @param fieldRadius       of the point, mm; 0 or more
 * @returns rad, atan((d/2 + h) / s)
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(baffleHalfAngle(40, 30, 10), Math.PI / 4);
 * ```
 */
export function baffleHalfAngle(
  drawtubeDiameter: number,
  fromFocus: number,
  fieldRadius: number,
): number {
  requireAbove0("baffleHalfAngle", { drawtubeDiameter, fromFocus });
  requireNot0Less("baffleHalfAngle", { fieldRadius });
  return Math.atan((drawtubeDiameter / 2 + fieldRadius) / fromFocus);
}

/**
 * Focus travel a row of eyes and eyepieces asks for.
 *
 * Without glasses the short-sighted push the eyepiece in, the long-sighted pull it out, by fe^2/1000 for each dioptre.
 *
 * @param eyepieces  focal lengths, mm; above 0
 * @param dioptres   from the most short-sighted (below 0) to the most long-sighted; default -6 to +4
 * @returns mm inward and outward, both 0 or more
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(focusTravel([25, 10]), { inward: 3.75, outward: 2.5 });
 * ```
 */
export function focusTravel(
  eyepieces: readonly number[],
  dioptres: readonly [number, number] = [-6, 4],
): { readonly inward: number; readonly outward: number } {
  const longest = Math.max(0, ...eyepieces), [low, high] = dioptres;
  requireAbove0("focusTravel", { longest });
  if (!(low <= high && Number.isFinite(low) && Number.isFinite(high))) {
    throw new RangeError(
      `focusTravel requires dioptres from low to high, got ${given({ low, high })}`,
    );
  }
  const perDioptre = longest ** 2 / 1000;
  return {
    inward: Math.max(0, -low * perDioptre),
    outward: Math.max(0, high * perDioptre),
  };
}
