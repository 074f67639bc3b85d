/** How high or wide the windows of a zone mask are cut, so that card stays between them. */

/** An opening, mm from the middle. */
interface Opening {
  readonly inner: number;
  readonly outer: number;
}

/** Card between two neighbours, mm; in the smallest openings a share of their edge. */
const CARD = 4, CARD_SHARE = 0.6;
/** Half the angle of a sector, rad. */
export const SECTOR_HALF_ANGLE: number = Math.PI / 12;

/**
 * Half the height of a mask's bands: an eighth of the radius, less where a narrow opening in the middle would else run into
 * its neighbour, which lies at right angles to it.
 *
 *     at their common edge r:  sqrt(r^2 - h^2) - h = card
 *
 * @param openings  of the mask, mm
 * @param aperture  of the disc, mm
 * @returns mm
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(bandHalfHeight([{ inner: 0, outer: 30 }, { inner: 30, outer: 45 }], 150), 9.375);
 * assert.equal(bandHalfHeight([{ inner: 0, outer: 11 }, { inner: 11, outer: 22 }], 150).toFixed(2), "5.52");
 * ```
 */
export function bandHalfHeight(openings: readonly Opening[], aperture: number): number {
  const least = Math.min(...openings.map(({ inner }) => inner).filter((edge) => edge > 0));
  if (!Number.isFinite(least)) return aperture / 16;
  const card = Math.min(CARD, CARD_SHARE * least);
  const corner = Math.acos(card / Math.SQRT2 / least) - Math.PI / 4;
  return Math.min(aperture / 16, least * Math.sin(corner));
}
