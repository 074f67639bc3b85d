/** Grades of abrasive, each in its own scale: what stands on the jar, and what that means in grains, pits and damage. */

/** The scales share numbers and nothing else. */
export type Scale = "F" | "#" | "P" | "polish";

/** One grade; the rows of data/tables/abrasives.csv are such. */
export interface Grade {
  /** with its letter: "F80", "#400", "P400", "rouge" */
  readonly name: string;
  /** by which it is named; the scales differ */
  readonly scale: Scale;
  /** middle grain, um: half of the volume is finer */
  readonly ds50Um: number;
  /** the standard's tolerance on it, um, where there is one */
  readonly withinUm?: number;
}

/** A range; um unless its place says otherwise. */
export interface RangeUm {
  /** lower end */
  readonly least: number;
  /** upper end */
  readonly most: number;
}

/**
 * Finds a grade as it was written. Capitals and spaces do not count, the scale's letter does: F400 has grains of 17 um, #400
 * of 30, P400 of 35.
 *
 * @param text    "F80", "f 80", "#400", "cerium oxide"
 * @param grades  to look among
 * @throws {RangeError} for a number without its letter, or a grade that is not there
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const grades = [{ name: "F80", scale: "F" as const, ds50Um: 185 }];
 * assert.equal(gradeOf("f 80", grades).ds50Um, 185);
 * assert.throws(() => gradeOf("80", grades), /letter/);
 * ```
 */
export function gradeOf(text: string, grades: readonly Grade[]): Grade {
  const plain = (name: string): string => name.toLowerCase().replace(/\s+/g, "");
  const found = grades.find(({ name }) => plain(name) === plain(text));
  if (found) return found;
  if (/^\s*\d+\s*$/.test(text)) {
    const meant = grades.filter(({ name }) =>
      /^(F|#|P)\d+$/.test(name) && name.slice(1) === text.trim()
    );
    const choice = meant.map(({ name, ds50Um }) => `${name} (${ds50Um} um)`).join(", ");
    throw new RangeError(
      `gradeOf requires a grade with its scale's letter, got "${text}"; ${
        choice || "F, # or P"
      } is meant?`,
    );
  }
  throw new RangeError(`gradeOf requires a known grade, got "${text}"`);
}

/**
 * Depth of the pits that a grade leaves, from the highest to the lowest: a quarter to a third of its middle grain, um. Where the
 * grain itself is known within a tolerance alone, a quarter of the finest and a third of the coarsest that it may be.
 *
 * @throws {RangeError} for a grain not above 0 or not below 1000 um, a tolerance below 0 or above the grain
 * @see rule of thumb: common practice, an order of magnitude
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(pitDepth({ ds50Um: 12 }), { least: 3, most: 4 });
 * assert.deepEqual(pitDepth({ ds50Um: 9, withinUm: 1 }), { least: 2, most: 10 / 3 });
 * ```
 */
export function pitDepth({ ds50Um, withinUm = 0 }: Pick<Grade, "ds50Um" | "withinUm">): RangeUm {
  requireGrain("pitDepth", ds50Um);
  if (!(withinUm >= 0 && withinUm <= ds50Um)) {
    throw new RangeError(
      `pitDepth requires a tolerance of 0 to the grain of ${ds50Um} um, got ${withinUm}`,
    );
  }
  return { least: (ds50Um - withinUm) / 4, most: (ds50Um + withinUm) / 3 };
}

/**
 * Depth of the cracked layer under the pits, um: 0.3 L^0.68 to 2 L^0.85, L the grain in um.
 *
 * @see bounds that workshops share: common practice; a wide range, not a prediction
 * @example for F320, 29.2 um
 * ```ts
 * import assert from "node:assert/strict";
 * const { least, most } = damageDepth({ ds50Um: 29.2 });
 * assert.deepEqual([least.toFixed(1), most.toFixed(0)], ["3.0", "35"]);
 * ```
 */
export function damageDepth({ ds50Um }: Pick<Grade, "ds50Um">): RangeUm {
  requireGrain("damageDepth", ds50Um);
  return { least: 0.3 * ds50Um ** 0.68, most: 2 * ds50Um ** 0.85 };
}

/**
 * What the next grade must take off, um: half of this grade's middle grain at least, all of it to be cautious.
 *
 * @param former  the grade whose pits must go
 * @see COMMON PRACTICE
 * @example after F220
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(removalAfter({ ds50Um: 58 }), { least: 29, most: 58 });
 * ```
 */
export function removalAfter(former: Pick<Grade, "ds50Um">): RangeUm {
  requireGrain("removalAfter", former.ds50Um);
  return { least: former.ds50Um / 2, most: former.ds50Um };
}

function requireGrain(caller: string, ds50Um: number): void {
  if (!(ds50Um > 0 && ds50Um < 1000)) {
    throw new RangeError(`${caller} requires a grain above 0 and below 1000 um, got ${ds50Um}`);
  }
}
