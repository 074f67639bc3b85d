/** What of a class may not share a room on one evening: coarse grains beside fine ones, pitch and oxide. */
import type { ClassRow } from "./classRow.ts";

/** The benches that are to be parted, and what is said of it. */
export interface MixedRoom {
  /** titles of those at F80 to F220 */
  readonly coarse: readonly string[];
  /** titles of those at finer grades, pitch or oxide */
  readonly fine: readonly string[];
  /** one sentence or more */
  readonly said: string;
}

const listed = new Intl.ListFormat("en", { type: "conjunction" });

/** Benches named one by one; more than these are counted. */
const NAMED = 12;

function benches(titles: readonly string[]): string {
  return titles.length > NAMED
    ? `${titles.length} benches`
    : listed.format(titles.map((title) => title.split(",")[0] ?? title));
}

/**
 * Benches of one class that scatter coarse grains, and benches that one such grain throws back by a grade.
 *
 * @param rows  of a class
 * @returns undefined where all may work in one room
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const rows = [{ title: "Bench 1, red", works: "coarse" }, { title: "Bench 2", works: "fine" }] as const;
 * assert.match(mixedRoom(rows)?.said ?? "", /^Bench 1 with F80 to F220, Bench 2 with finer/);
 * assert.equal(mixedRoom(rows.slice(1)), undefined);
 * ```
 */
export function mixedRoom(
  rows: readonly Pick<ClassRow, "title" | "works">[],
): MixedRoom | undefined {
  const of = (kind: ClassRow["works"]): readonly string[] =>
    rows.filter(({ works }) => works === kind).map(({ title }) => title);
  const coarse = of("coarse"), fine = of("fine");
  if (coarse.length === 0 || fine.length === 0) return undefined;
  return {
    coarse,
    fine,
    said: `${benches(coarse)} with F80 to F220, ${
      benches(fine)
    } with finer grades, pitch or oxide: not in one room on one evening, for one coarse grain costs a grade. Another evening or another door; where there is one room only, the coarse benches stop first, benches and floor are wiped wet, aprons changed, and lap boxes and fine jars stay shut until then.`,
  };
}
