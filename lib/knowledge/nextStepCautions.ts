/** The caution that goes with a step: from the one list of hazards, by the step's stage. */
import { hazards } from "./hazards.ts";
import type { NextStep } from "./summaryTypes.ts";

/** A next step before its caution is put to it: that follows from its stage alone. */
export type Step = Omit<NextStep, "caution">;

/** Where no hazard is met, the work stands still all the same: this is said of a record that must be checked first. */
const STAND_STILL =
  "Take no glass off, and send nothing away, before this is clear: glass that is gone does not come back.";

/**
 * What must be minded before a step of a stage: a sentence for each hazard that is met there.
 *
 * @param stage  as a next step names it: "rough grinding"
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(cautionOf("rough grinding"), /Safety glasses on.*FFP2.*only wet/);
 * assert.equal(cautionOf("check the record").slice(0, 17), "Take no glass off");
 * ```
 */
export function cautionOf(stage: string): string {
  const met = hazards().filter(({ steps }) => steps.includes(stage));
  return met.length === 0 ? STAND_STILL : met.map(({ short }) => short).join(" ");
}

/** One sentence for several mirrors: which stages it goes with, and what is to be minded there. */
export interface StagesMind {
  readonly stages: readonly string[];
  readonly short: string;
}

/**
 * What must be minded before the next steps of several mirrors, each sentence once.
 *
 * @param stages  of their next steps, in any order; repeats do not count
 */
export function mindOfStages(stages: readonly string[]): StagesMind[] {
  const here = [...new Set(stages)];
  return hazards().flatMap(({ steps, short }) => {
    const met = here.filter((stage) => steps.includes(stage));
    return met.length === 0 ? [] : [{ stages: met, short }];
  });
}
