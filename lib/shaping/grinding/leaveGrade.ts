/** When to leave a grade: pits by loupe and lamp, contact by pencil, the curve by its gauge. */
import { radiusFromSagitta } from "../../optics/sphere.ts";
import { centreThird, fineAllowance } from "./ladder.ts";
import type { GrainSize } from "./grindingLog.ts";
import type { PolarGrid } from "./polarGrid.ts";
import { wearSettings } from "./wearLaws.ts";

/** What was seen before going on. */
export interface GradeLook {
  /** pits of the former grade, field by field under the loupe */
  readonly pits: readonly number[];
  /** whether a pencil grid wore off everywhere at once with one charge; undefined where it was not tried */
  readonly pencilGone?: boolean;
  /** longest scratch, mm; 0 for none */
  readonly scratch?: number;
  /** radius of curvature over the wanted one, less 1; undefined where it was not measured */
  readonly radiusOff?: number;
}

/** What the course decides by; in data/tables/decisions.csv. */
export interface GradeRules {
  /** least number of fields to look at */
  readonly fields: number;
  /** longest scratch that may stay, mm */
  readonly scratch: number;
  /** share of the radius */
  readonly radiusOff: number;
}

/** Whether to go on to the next grade. */
export interface GradeAdvice {
  /** what comes next */
  readonly do:
    | "next grade"
    | "same grade"
    | "look more"
    | "back one grade"
    | "back to correct the curve";
  /** in a sentence */
  readonly why: string;
}

/**
 * Whether to go on to the next grade.
 *
 * A pit that stays now costs hours of polishing; a wrong curve is put right with F220 or coarser; a scratch goes back one
 * grade; and a grid of pencil lines that stays anywhere says that the discs do not fit there.
 *
 * @throws {RangeError} for counts that are no whole numbers of 0 or more, or a scratch below 0
 * @see COMMON PRACTICE
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const rules = { fields: 5, scratch: 30, radiusOff: 0.01 };
 * assert.equal(leaveGrade({ pits: [0, 0, 0, 0, 0], pencilGone: true }, rules).do, "next grade");
 * assert.equal(leaveGrade({ pits: [0, 1, 0, 0, 0], pencilGone: true }, rules).do, "same grade");
 * ```
 */
export function leaveGrade(look: GradeLook, rules: GradeRules): GradeAdvice {
  const { pits, pencilGone, scratch = 0, radiusOff = 0 } = look;
  if (!(pits.every((n) => Number.isInteger(n) && n >= 0) && scratch >= 0)) {
    throw new RangeError(
      `leaveGrade requires whole counts and a scratch of 0 or more, got pits=${pits}, scratch=${scratch}`,
    );
  }
  const seen = pits.reduce((sum, n) => sum + n, 0);
  if (Math.abs(radiusOff) > rules.radiusOff) {
    return {
      do: "back to correct the curve",
      why: `the radius is ${percent(radiusOff)} off: a finer grade would take too long to mend it`,
    };
  }
  if (scratch > rules.scratch) {
    return {
      do: "back one grade",
      why: `a scratch of ${scratch} mm is deeper than this grade can reach`,
    };
  }
  if (seen > 0) {
    return {
      do: "same grade",
      why: `${seen} ${seen === 1 ? "pit" : "pits"} of the former grade in ${pits.length} fields`,
    };
  }
  if (pencilGone === false) {
    return { do: "same grade", why: "pencil lines stayed: the discs do not touch everywhere yet" };
  }
  if (pits.length < rules.fields || pencilGone === undefined) {
    return {
      do: "look more",
      why: pits.length < rules.fields
        ? `${pits.length} of ${rules.fields} fields were looked at`
        : "the pencil grid has not been tried",
    };
  }
  return {
    do: "next grade",
    why: `no pit in ${pits.length} fields, and the pencil went everywhere at once`,
  };
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}

// What the ladder does to the curve, grade by grade: the drift of the sagitta and of the radius.

/** The curve when a grade has done its work. */
export interface CurveAfter {
  /** its name */
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

// The pencil test: how far two discs that do not fit touch, and how small a misfit it can show.

/** What a grid of pencil lines will show. */
export interface PencilTest {
  /** how far contact reaches, as a share of the radius, 0 to 1; from the centre for a mirror too flat, else from the edge */
  readonly reach: number;
  /** sagitta misfit below which the lines go everywhere, um */
  readonly showsUm: number;
}

/**
 * Contact of two discs whose curves differ, with the grains of a grade between them.
 *
 * The grains give by delta = pressure / stiffness. Two shallow curves that differ by s in sagitta touch all over while
 * s <= 2 delta; beyond, contact is a disc of radius share (2 delta / s)^(1/4).
 *
 * @param misfitUm  difference of the sagittas, um, either way
 * @param grain     grade in use
 * @param aperture  mm
 * @throws {RangeError} for a misfit that is not finite
 * @see force balance on an elastic layer, pressure = stiffness x (squeeze - s rho^2): derived for this kit
 * @example F500 shows a misfit of 1.4 um, F80 only one of 20
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(pencilTest(0, { sizeUm: 12.8 }).showsUm.toFixed(1), "1.4");
 * assert.equal(pencilTest(0, { sizeUm: 185 }).showsUm.toFixed(0), "20");
 * assert.equal(pencilTest(22, { sizeUm: 12.8 }).reach.toFixed(2), "0.50");
 * ```
 */
export function pencilTest(
  misfitUm: number,
  grain: { readonly sizeUm: number },
  aperture = 150,
): PencilTest {
  if (!Number.isFinite(misfitUm)) {
    throw new RangeError(`pencilTest requires a finite misfit in um, got misfitUm=${misfitUm}`);
  }
  const { force, stiffness, upperRadius } = wearSettings(aperture, grain);
  const give = force / (Math.PI * upperRadius ** 2) / stiffness * 1000;
  const showsUm = 2 * give;
  return { showsUm, reach: Math.min(1, (showsUm / Math.max(Math.abs(misfitUm), 1e-12)) ** 0.25) };
}

// Heights made ready to be read between the nodes: what a straight line between two nodes adds is taken off beforehand.

/**
 * Fills `ready` from `heights`.
 *
 * Between two nodes a straight line lies above a hollow curve, on average by a twelfth of the curve's second difference.
 * Taken off each node in both directions, reading in straight lines is right on average. A step higher than `limit` is a
 * wall and not a curve: no more than a twelfth of that is taken off.
 *
 * @param grid     of the disc
 * @param heights  on its nodes, mm
 * @param limit    largest second difference that counts as a curve, mm
 * @param ready    filled, mm
 * @see mean error of linear interpolation, t (1 - t) f'' / 2 over 0 to 1: f'' / 12
 * @example a bowl r^2 is read at its true height on average
 * ```ts
 * import assert from "node:assert/strict";
 * const grid = { radius: 75, rings: 15, angles: 24 };
 * const bowl = Float64Array.from({ length: 360 }, (_, at) => (Math.floor(at / 24) + 0.5) ** 2);
 * const ready = new Float64Array(360);
 * heightsToRead(grid, bowl, Infinity, ready);
 * assert.equal((bowl[100]! - ready[100]!).toFixed(6), (2 / 12).toFixed(6));
 * ```
 */
export function heightsToRead(
  { rings, angles }: PolarGrid,
  heights: Float64Array,
  limit: number,
  ready: Float64Array,
): void {
  const half = angles / 2, twelfth = 1 / 12;
  for (let ring = 0; ring < rings; ring++) {
    const first = ring * angles, last = first + angles - 1, isRim = ring === rings - 1;
    let left = heights[last] as number, h = heights[first] as number;
    for (let at = first; at <= last; at++) {
      const right = heights[at === last ? first : at + 1] as number;
      let bend = left + right - 2 * h;
      if (!isRim) {
        const inner = ring > 0 ? at - angles : at < half ? at + half : at - half;
        bend += (heights[inner] as number) + (heights[at + angles] as number) - 2 * h;
      }
      ready[at] = h - (bend > limit ? limit : bend < -limit ? -limit : bend) * twelfth;
      left = h, h = right;
    }
  }
}
