/** When to leave a grade: pits by loupe and lamp, contact by pencil, the curve by its gauge. */

/** What was seen before going on. */
export interface GradeLook {
  /** pits of the former grade, field by field under the loupe */
  readonly pits: readonly number[];
  /** whether a pencil grid wore off everywhere at once in one wet; undefined where it was not tried */
  readonly pencilGone?: boolean;
  /** longest scratch, mm; 0 for none */
  readonly scratch?: number;
  /** radius of curvature over the wanted one, less 1; undefined where it was not measured */
  readonly radiusOff?: number;
}

/** What the course decides by; in data/tables/decisions.csv. */
export interface GradeRules {
  readonly fields: number;
  /** longest scratch that may stay, mm */
  readonly scratch: number;
  /** share of the radius */
  readonly radiusOff: number;
}

export interface GradeAdvice {
  readonly do:
    | "next grade"
    | "same grade"
    | "look more"
    | "back one grade"
    | "back to correct the curve";
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
