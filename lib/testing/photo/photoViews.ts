/** From where a mirror has been photographed, and from where not yet. */

/** One photograph's place: its grating from the centre of curvature, mm, + = farther, and the turn of its lines, rad. */
export interface PhotoView {
  readonly offset: number;
  readonly turn: number;
}

/** A view that the photographs lack, in words that may follow "still missing:". */
export type MissingView =
  | "a second photograph"
  | "a photograph from inside of focus"
  | "a photograph from outside of focus"
  | "photographs from both sides of focus with the grating turned by 45 degrees";

/** Lines this near each other are taken as not turned, rad; `photoSums` holds such turns together. */
export const TURN_ALIKE = 0.12;

/** Two turns must part by 45 degrees or near, so that the sine of twice their difference is at least this. */
const PART = 0.5;

/** Turns of the grating from which there is a photograph from each side of focus, of which neither was turned. */
function turnsOfPairs(photos: readonly PhotoView[]): readonly number[] {
  return photos.filter(({ offset, turn }) =>
    offset < 0 &&
    photos.some((other) => other.offset > 0 && Math.abs(other.turn - turn) < TURN_ALIKE)
  ).map(({ turn }) => turn);
}

/** Whether there is a photograph from each side of focus, the grating not turned between: that tells oblique astigmatism. */
export function bothSides(photos: readonly PhotoView[]): boolean {
  return turnsOfPairs(photos).length > 0;
}

/**
 * Whether there are such pairs at two turns some 45 degrees apart: what is upright to the one grating is oblique to the other. A
 * quarter of a turn does not do, for it tells astigmatism from focus only as well as both gratings' places are known.
 */
export function bothSidesTwice(photos: readonly PhotoView[]): boolean {
  const turns = turnsOfPairs(photos);
  return turns.some((a) => turns.some((b) => Math.abs(Math.sin(2 * (a - b))) > PART));
}

/**
 * Which views of a mirror are missing for the whole of its surface.
 *
 * Inside and outside of focus part the mirror from the camera and from a turned grating; the same again with the grating turned by 45
 * degrees, the mirror and the camera where they are, show astigmatism whichever way it lies. One photograph alone has none of it.
 *
 * @param photos  those of one glass, as written or as the bands say
 * @returns empty where nothing is missing
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const pair = [{ offset: -6, turn: 0 }, { offset: 7, turn: 0 }];
 * assert.equal(missingViews(pair.slice(0, 1))[0], "a second photograph");
 * assert.deepEqual(missingViews([...pair, ...pair.map((view) => ({ ...view, turn: 0.8 }))]), []);
 * ```
 */
export function missingViews(photos: readonly PhotoView[]): readonly MissingView[] {
  const missing: MissingView[] = [];
  if (photos.length < 2) missing.push("a second photograph");
  if (!photos.some(({ offset }) => offset < 0)) missing.push("a photograph from inside of focus");
  if (!photos.some(({ offset }) => offset > 0)) missing.push("a photograph from outside of focus");
  if (!bothSidesTwice(photos)) {
    missing.push("photographs from both sides of focus with the grating turned by 45 degrees");
  }
  return missing;
}
