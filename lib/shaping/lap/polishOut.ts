/** Whether a mirror is polished out: judged by pits in fields of the loupe, at the edge, never by hours or shine. */

/** Fields of the loupe at one place, and the pits counted in each. */
export interface PitCounts {
  /** at the edge, field by field */
  readonly edge: readonly number[];
  /** the same fields at the look before, where there was one */
  readonly before?: readonly number[];
  /** depth of the deepest pit, um, where it could be told from the focus of the loupe */
  readonly deepestUm?: number;
}

/** What the course decides by; in data/tables/decisions.csv. */
export interface PitRules {
  /** fields without a pit, at the edge */
  readonly fields: number;
  /** deeper than this, um: back to the last grade */
  readonly deepestUm: number;
}

export interface PolishedOut {
  readonly do: "test" | "polish" | "press" | "look more" | "back to the last grade";
  readonly why: string;
  /** with no pit seen: at 95 % there are fewer than this to a field */
  readonly pitsPerFieldAtMost?: number;
}

/** No pit in n fields: at 95 % fewer than 3.0 / n to a field, from exp(-m n) = 0.05. DERIVED */
const noneSeen = -Math.log(0.05);

/**
 * Says whether polishing is over.
 *
 * @param counts  fields at the edge, and the same at the look before
 * @param rules   how many fields, how deep a pit
 * @throws {RangeError} for counts that are no whole numbers of 0 or more
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const rules = { fields: 5, deepestUm: 5 };
 * assert.equal(polishedOut({ edge: [0, 0, 0, 0, 0] }, rules).do, "test");
 * assert.equal(polishedOut({ edge: [3, 1, 2, 4, 2], before: [3, 2, 2, 3, 2] }, rules).do, "press");
 * ```
 */
export function polishedOut(counts: PitCounts, rules: PitRules): PolishedOut {
  const { edge, before, deepestUm } = counts;
  requireCounts([...edge, ...(before ?? [])]);
  const pits = sum(edge);
  if (edge.length < rules.fields) {
    return {
      do: "look more",
      why: `${edge.length} of ${rules.fields} fields were looked at; ${
        pits === 0 ? "none of them shows a pit" : `${pitsSaid(pits)} so far`
      }`,
    };
  }
  if (pits === 0) {
    const most = noneSeen / edge.length;
    return {
      do: "test",
      why: `no pit in ${edge.length} fields at the edge`,
      pitsPerFieldAtMost: most,
    };
  }
  if (deepestUm !== undefined && deepestUm > rules.deepestUm) {
    return {
      do: "back to the last grade",
      why:
        `a pit of ${deepestUm} um is deeper than ${rules.deepestUm} um: a quarter of an hour of the last grade is shorter than hours of polishing`,
    };
  }
  if (before !== undefined && !isFewer(edge, before)) {
    return { do: "press", why: "the count has not fallen: press the lap and look at its contact" };
  }
  return { do: "polish", why: `${pitsSaid(pits)} in ${edge.length} fields at the edge` };
}

function pitsSaid(pits: number): string {
  return `${pits} ${pits === 1 ? "pit" : "pits"}`;
}

/** Counts scatter by their root: a fall of less than that is no fall. */
function isFewer(now: readonly number[], before: readonly number[]): boolean {
  const a = sum(now) / now.length, b = sum(before) / before.length;
  const scatter = Math.sqrt(sum(now) / now.length ** 2 + sum(before) / before.length ** 2);
  return b - a > scatter;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function requireCounts(counts: readonly number[]): void {
  if (!counts.every((count) => Number.isInteger(count) && count >= 0)) {
    throw new RangeError(
      `polishedOut requires whole counts of 0 or more, got ${counts.join(", ")}`,
    );
  }
}
