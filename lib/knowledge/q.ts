/** Quantities on their way into JSON. */
import type { Measured } from "../quantity/measured.ts";
import type { Q } from "./summaryTypes.ts";

/**
 * A measured value as it stands in summary.json; degrees of freedom are left out where they are unlimited, since JSON
 * has no infinity.
 *
 * @param from  names of the tables it rests on
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const q = toQ({ value: 1203, u: 4, dof: Infinity, unit: "mm" }, ["sun.csv"]);
 * assert.deepEqual(q, { value: 1203, unit: "mm", u: 4, from: ["sun.csv"] });
 * ```
 */
export function toQ(quantity: Measured, from?: readonly string[]): Q {
  const { value, unit, u, dof } = quantity;
  return {
    value,
    unit,
    ...(u > 0 ? { u } : {}),
    ...(u > 0 && Number.isFinite(dof) ? { dof } : {}),
    ...(from === undefined || from.length === 0 ? {} : { from }),
  };
}

/** A value without uncertainty: a plan, a limit, a count. */
export function exactQ(value: number, unit: string, from?: readonly string[]): Q {
  return { value, unit, ...(from === undefined ? {} : { from }) };
}

/** A quantity of a summary as `Measured`, for figures and blocks. */
export function fromQ({ value, unit, u = 0, dof = Infinity }: Q): Measured {
  return { value, u, dof, unit };
}
