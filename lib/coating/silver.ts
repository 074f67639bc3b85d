/** How little silver makes a mirror: its mass on the glass, as physics, and what must be said beside it. No way to lay it on. */

/** Density of silver, g/cm^3 (COMMON PRACTICE: 10.49 to 10.50, the latter READ in PyPI periodictable 2.1.0). */
const DENSITY = 10.49;

/** What must be said wherever the silver of a mirror is told. The first one is the usual way: send it out. */
export const CAUTIONS = [
  "Send the mirror out to be coated: that is the usual way, and the only one told here.",
  "No silver bath, no acid and no vacuum chamber in a workshop, a school or a home: silver in ammonia is never stored, for it turns into an explosive while it stands, and its waste is poisonous. Both belong to a licensed laboratory. Under-18s keep away from them.",
  "A coated mirror burns in sunlight: cover it, and keep it in its closed box.",
  "A metal film is no Sun filter, however dark it looks.",
  "The rules of the place and the data sheets come before anything written here.",
] as const;

/** A face with its film; lengths mm. */
export interface Filmed {
  /** of the coated face */
  readonly diameter: number;
  /** of the film, nm; default 100 */
  readonly thickness?: number;
}

/** The silver on a face. */
export interface SilverOnGlass {
  /** coated face, cm² */
  readonly areaCm2: number;
  /** g */
  readonly mass: number;
}

/**
 * Silver on the face of a mirror: its area times the film's thickness times the density of silver.
 *
 * @param filmed  diameter above 0 mm, thickness above 0 nm
 * @throws {RangeError} outside those ranges
 * @example less than a fiftieth of a gram
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal((1000 * silverOnGlass({ diameter: 150 }).mass).toFixed(1), "18.5"); // mg
 * ```
 */
export function silverOnGlass({ diameter, thickness = 100 }: Filmed): SilverOnGlass {
  if (![diameter, thickness].every((x) => x > 0 && Number.isFinite(x))) {
    throw new RangeError(
      `silverOnGlass requires diameter in mm and thickness in nm above 0, got ${diameter}, ${thickness}`,
    );
  }
  const areaCm2 = (Math.PI / 4) * (diameter / 10) ** 2;
  return { areaCm2, mass: DENSITY * areaCm2 * thickness * 1e-7 };
}
