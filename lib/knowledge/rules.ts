/** The course's decision numbers and the ladder of grades, read from data/tables for the summary. */
import type { RangeUm } from "../shaping/grinding/grade.ts";
import { fineLadder } from "../shaping/grinding/ladder.ts";
import { polishTime } from "../shaping/lap/polish.ts";
import type { Rules } from "./nextStep.ts";
import { abrasives, decision } from "../record/tables.ts";

/** The course's grades after rough grinding. COMMON PRACTICE: each about half the one before. */
export const ladder: readonly string[] = ["F120", "F220", "F320", "F500", "F800", "F1200"];

/**
 * Middle grain of a grade, um; undefined for a polishing oxide or a name that is no grade.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([grainUm("F80"), grainUm("rouge")], [185, undefined]);
 * ```
 */
export function grainUm(name: string): number | undefined {
  const row = abrasives().find((one) => one.name === name);
  return row === undefined || row.scale === "polish" ? undefined : row.ds50Um;
}

/** Usual rate of polishing at the centre, um/h, until a maker has measured it. */
const usualRate = 1.3;

/** The numbers `nextStep` decides by. */
export function rules(): Rules {
  const pitUm = decision("pit_depth_most");
  return {
    grainUm,
    ladder,
    sagittaTolerance: decision("depth_tolerance"),
    runsWanted: decision("runs_least"),
    shareFirst: decision("swap_share"),
    forecastShare: decision("forecast_share"),
    spellMin: decision("spell_longest"),
    coolMin: decision("spell_rest"),
    spellsWithoutGain: decision("spells_without_gain"),
    gradeMinutes,
    pitUm,
    edgeHours: polishTime({ pits: { least: pitUm, most: pitUm }, rate: usualRate }).edge,
  };
}

/** From the ladder of two grades; nothing for coated papers, oxides and names that are no grades. */
function gradeMinutes(
  grade: string,
  before: string | undefined,
  aperture: number,
): RangeUm | undefined {
  const rows = [before, grade].flatMap((name) =>
    abrasives().find((one) => one.name === name) ?? []
  );
  const [coarse, fine] = rows;
  if (coarse === undefined || fine === undefined) return undefined;
  const isLoose = rows.every(({ scale }) => scale !== "polish" && scale !== "P");
  return isLoose && fine.ds50Um < coarse.ds50Um
    ? fineLadder(rows, aperture)[0]?.minutes
    : undefined;
}
