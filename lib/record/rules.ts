/** The course's decision numbers and the ladder of grades, read from data/tables for the summary. */
import type { Rules } from "./nextStep.ts";
import { abrasives, decision } from "./tables.ts";

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

/** The numbers `nextStep` decides by. */
export function rules(): Rules {
  return {
    grainUm,
    ladder,
    sagittaTolerance: decision("depth_tolerance"),
    runsWanted: decision("runs_least"),
    shareFirst: decision("swap_share"),
    forecastShare: decision("forecast_share"),
    spellMin: decision("spell_longest"),
    coolMin: decision("spell_rest"),
  };
}
