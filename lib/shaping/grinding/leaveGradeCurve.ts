/** What the ladder does to the curve, grade by grade: the drift of the sagitta and of the radius. */
import { radiusFromSagitta } from "../../optics/sphere.ts";
import { centreThird, fineAllowance } from "./fineAllowance.ts";
import type { GrainSize } from "./grindingLog.ts";

/** The curve when a grade has done its work. */
export interface CurveAfter {
  readonly grade: string;
  /** added by this grade, mm; below 0 where the tool was on top for longer */
  readonly added: number;
  /** mm */
  readonly sagitta: number;
  /** mm */
  readonly radius: number;
}

/** How the ladder is worked. */
export interface LadderCurve {
  /** from the rough grade down */
  readonly grades: readonly GrainSize[];
  /** mm, when the rough grade is left */
  readonly sagitta: number;
  /** mm */
  readonly aperture: number;
  /** share of the time with the mirror on top; default 0.5 */
  readonly mirrorOnTop?: number;
  /** share of the former grain that each grade removes; default 0.5 */
  readonly removalShare?: number;
}

/**
 * The curve after each grade of the ladder.
 *
 * @throws {RangeError} for fewer than two grades, or outside `fineAllowance` and `radiusFromSagitta`
 * @example always mirror on top: the first grade does half of it
 * ```ts
 * import assert from "node:assert/strict";
 * const grades = [["F80", 185], ["F120", 109], ["F220", 58]].map(([name, sizeUm]) =>
 *   ({ name: String(name), sizeUm: Number(sizeUm) }));
 * const after = curveThroughLadder({ grades, sagitta: 1.128, aperture: 150, mirrorOnTop: 1 });
 * assert.deepEqual(after.map(({ added }) => (added * 1000).toFixed(1)), ["20.6", "12.1"]);
 * ```
 */
export function curveThroughLadder(ladder: LadderCurve): CurveAfter[] {
  const { grades, sagitta, aperture, mirrorOnTop = 0.5, removalShare = 0.5 } = ladder;
  if (grades.length < 2) {
    throw new RangeError(
      `curveThroughLadder requires a rough grade and a finer one, got ${grades.length}`,
    );
  }
  let now = sagitta;
  return grades.slice(1).map((grade, i) => {
    const pair = [grades[i] ?? grade, grade];
    const added = fineAllowance({
      grades: pair,
      mirrorOnTop,
      removalShare,
      overhangSquared: centreThird,
    });
    now += added;
    return { grade: grade.name, added, sagitta: now, radius: radiusFromSagitta(now, aperture) };
  });
}
