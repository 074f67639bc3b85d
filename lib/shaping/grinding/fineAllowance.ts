/** What the finer grades will still add to the hollow, so that rough grinding stops short of the target. */
import type { GrainSize } from "./grindingLog.ts";

/** How fine grinding is meant to be done. */
export interface FinePlan {
  /** grades in the order of use, the first being the rough one whose pits must go, at least one */
  readonly grades: readonly GrainSize[];
  /** share of the time with the mirror on top, 0 to 1 */
  readonly mirrorOnTop?: number;
  /** each grade's removal over the grain of the grade before it; 0.5 at least, 1 to be cautious */
  readonly removalShare?: number;
  /** mean squared distance of the centres over the disc's radius squared; 1/27 for centre strokes of a third */
  readonly overhangSquared?: number;
}

/** Strokes over the centre, a third of the diameter long: A = a / 3, and the mean of d squared is A^2 / 3. */
export const centreThird: number = 1 / 27;

/**
 * Sagitta that fine grinding adds, whatever the abrasive's rate.
 *
 *     added = 6 <d^2> / a^2  x  sum of removals  x  (share on top - share at bottom)
 *
 * @param plan  grades from the rough one on; by default 55 % of the time with the mirror on top, half of the former
 *              grain removed, centre strokes a third of the diameter long
 * @returns mm; negative where the tool is on top for longer
 * @throws {RangeError} for shares outside 0 to 1, or an overhang at which the disc tips
 * @example from F80 down to F1200, always mirror on top, all of the former grain: 89 um
 * ```ts
 * import assert from "node:assert/strict";
 * const grades = [185, 109, 58, 29.2, 12.8, 6.5, 3].map((sizeUm) => ({ name: "F", sizeUm }));
 * const added = fineAllowance({ grades, mirrorOnTop: 1, removalShare: 1 });
 * assert.equal(added.toFixed(4), "0.0890");
 * ```
 */
export function fineAllowance(plan: FinePlan): number {
  const { grades, mirrorOnTop = 0.55, removalShare = 0.5, overhangSquared = centreThird } = plan;
  const inRange = (v: number, least: number, most: number): boolean => v >= least && v <= most;
  if (
    !inRange(mirrorOnTop, 0, 1) || !inRange(removalShare, 0, 2) || !inRange(overhangSquared, 0, 1)
  ) {
    throw new RangeError(
      `fineAllowance requires mirrorOnTop 0 to 1, removalShare 0 to 2, overhangSquared 0 to 1, got ${mirrorOnTop}, ${removalShare}, ${overhangSquared}`,
    );
  }
  if (!grades.every(({ sizeUm }) => sizeUm > 0 && Number.isFinite(sizeUm))) {
    throw new RangeError("fineAllowance requires grades with grains above 0 um");
  }
  const removal = grades.slice(0, -1).reduce((sum, { sizeUm }) => sum + sizeUm, 0) / 1000;
  return 6 * overhangSquared * removalShare * removal * (2 * mirrorOnTop - 1);
}
