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
  | "a photograph with the mirror or the grating turned by a quarter";

/** Lines turned by this much or more against each other are two turns, rad. */
const TURNED = 0.35;

/**
 * Which views of a mirror are missing.
 *
 * Inside and outside of focus part the mirror from the camera and from a turned grating; two turns part upright astigmatism
 * from focus. One photograph alone has neither.
 *
 * @param photos  those of one glass, as written or as the bands say
 * @returns empty where both sides and two turns are there
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const inside = { offset: -6, turn: 0 };
 * assert.equal(missingViews([inside])[0], "a second photograph");
 * assert.deepEqual(missingViews([inside, { offset: 7, turn: 1.57 }]), []);
 * ```
 */
export function missingViews(photos: readonly PhotoView[]): readonly MissingView[] {
  const turned = photos.some((a) =>
    photos.some((b) => Math.abs(Math.sin(a.turn - b.turn)) > TURNED)
  );
  return [
    ...(photos.length < 2 ? ["a second photograph" as const] : []),
    ...(photos.some(({ offset }) => offset < 0)
      ? []
      : ["a photograph from inside of focus" as const]),
    ...(photos.some(({ offset }) => offset > 0)
      ? []
      : ["a photograph from outside of focus" as const]),
    ...(turned ? [] : ["a photograph with the mirror or the grating turned by a quarter" as const]),
  ];
}
