/** How high or wide the windows of a zone mask are cut, so that card stays between them. */

/** An opening, mm from the middle. */
interface Opening {
  readonly inner: number;
  readonly outer: number;
}

/** Card between the corners of two neighbours, mm. */
const CARD = 4;
/** Half the angle of a sector, rad. */
export const SECTOR_HALF_ANGLE = Math.PI / 12;

/**
 * Half the height of a mask's bands: an eighth of the radius, less where a narrow opening in the middle would else run into
 * its neighbour, which lies at right angles to it.
 *
 *     at their common edge r:  h = r sin(45° - card / 2r)
 *
 * @param openings  of the mask, mm
 * @param aperture  of the disc, mm
 * @returns mm
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(bandHalfHeight([{ inner: 0, outer: 30 }, { inner: 30, outer: 45 }], 150), 9.375);
 * assert.equal(bandHalfHeight([{ inner: 0, outer: 11 }, { inner: 11, outer: 22 }], 150).toFixed(2), "6.23");
 * ```
 */
export function bandHalfHeight(openings: readonly Opening[], aperture: number): number {
  const least = Math.min(...openings.map(({ inner }) => inner).filter((edge) => edge > 0));
  if (!Number.isFinite(least)) return aperture / 16;
  const card = Math.asin(Math.min(CARD / 2 / least, Math.sin(Math.PI / 8)));
  return Math.min(aperture / 16, least * Math.sin(Math.PI / 4 - card));
}
