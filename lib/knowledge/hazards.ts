/** The one list of what can hurt somebody on the way: data/tables/hazards.csv, with pages, steps and sheets. */
import { rowsOf } from "../record/tables.ts";

/** A row of hazards.csv: what can hurt somebody, where it is met, and what is said before it. */
export interface Hazard {
  readonly hazard: string;
  /** who does it: "anybody", "learner with an adult", "trained adult" */
  readonly who: string;
  /** numbers of the notebooks that meet it: "08" */
  readonly pages: readonly string[];
  /** stages of a next step that meet it */
  readonly steps: readonly string[];
  /** names of the printables that carry it to the bench */
  readonly sheets: readonly string[];
  /** the words by which a step of it is known on a page, and all of what the caution before it says */
  readonly knownBy: RegExp;
  readonly says: readonly RegExp[];
  /** what stands beside a next step */
  readonly short: string;
  /** whether one person alone may do it at home, and what exactly */
  readonly alone: "may" | "may not";
  readonly aloneWhat: string;
}

/**
 * What can hurt somebody, in the order of the way.
 *
 * @throws {RecordRefused} when the table is damaged
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(hazards().find(({ hazard }) => hazard === "night and road")?.pages, ["read-star", "observe-sky"]);
 * ```
 */
export function hazards(): readonly Hazard[] {
  return rowsOf("hazards", (cell) => {
    const list = (column: string): string[] =>
      cell.text(column).split(";").filter((one) => one !== "");
    return {
      hazard: cell.text("hazard"),
      who: cell.text("who"),
      pages: list("pages"),
      steps: list("steps"),
      sheets: list("sheets"),
      knownBy: new RegExp(cell.text("known_by")),
      says: list("says").map((one) => new RegExp(one, "i")),
      short: cell.text("short"),
      alone: cell.text("alone") as Hazard["alone"],
      aloneWhat: cell.text("alone_what"),
    };
  });
}

/**
 * What stands on a sheet that goes to the bench: a sentence for each hazard that is met there.
 *
 * @param sheet  name of a printable: "stroke-tally"
 */
export function mindOnSheet(sheet: string): string {
  return hazards().filter(({ sheets }) => sheets.includes(sheet)).map(({ short }) => short).join(
    " ",
  );
}
