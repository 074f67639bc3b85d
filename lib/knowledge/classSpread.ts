/** How far the mirrors of a class lie apart in one quantity, among those that follow the same plan. */
import { betweenMakersSpread, type MakersSpread } from "../measuring/betweenMakers.ts";
import type { Method } from "../measuring/methods/methods.ts";
import type { ClassOfRecords } from "./classOfRecords.ts";
import type { ClassRow, Known } from "./classRow.ts";

/** What makers may be compared by. */
export type Quantity = "together" | Method;

/** Mirrors of one plan, compared. */
export interface ClassSpread extends MakersSpread {
  readonly aperture: number;
  readonly focalLength: number;
  /** the rows compared, in the class's order */
  readonly rows: readonly ClassRow[];
  /** f of each, mm */
  readonly values: readonly Known[];
  /** rows of another plan, or without such a reading */
  readonly leftOut: number;
}

/** f of a row by one way, mm. */
export function focalOf(row: ClassRow, by: Quantity): Known | undefined {
  return by === "together" ? row.focal : row.focalBy[by];
}

/** The plan most rows follow, as a key. */
function planOf({ aperture, focalLength }: ClassRow): string {
  return `${aperture} ${focalLength}`;
}

/**
 * The spread of the focal length between makers.
 *
 * @param many    a class
 * @param by      one method, or all of each maker's methods together
 * @param at      only rows of these stages; default all
 * @param mended  f that takes the place of a record's own, by the record's name: what if this one were mended?
 * @returns nothing where fewer than three mirrors of one plan have such a reading
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(classSpread({ rows: [] }, "leaves"), undefined);
 * ```
 */
export function classSpread(
  many: Pick<ClassOfRecords, "rows">,
  by: Quantity,
  { at, mended = {} }: {
    readonly at?: readonly string[];
    readonly mended?: Readonly<Record<string, number>>;
  } = {},
): ClassSpread | undefined {
  const having = many.rows.filter((row) =>
    focalOf(row, by) !== undefined && (at === undefined || at.includes(row.stage))
  );
  const plans = [...Map.groupBy(having, planOf).values()].sort((a, b) => b.length - a.length);
  const rows = plans[0] ?? [], first = rows[0];
  if (first === undefined || rows.length < 3) return undefined;
  const values = rows.flatMap((row) => {
    const found = focalOf(row, by);
    return found === undefined ? [] : [{ ...found, value: mended[row.record] ?? found.value }];
  });
  return {
    ...betweenMakersSpread(values),
    aperture: first.aperture,
    focalLength: first.focalLength,
    rows,
    values,
    leftOut: many.rows.length - rows.length,
  };
}
