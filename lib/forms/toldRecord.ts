/** What is told at once after a reading: the numbers that it bears on, and the next step as `check` prints it. */
import { type Group, knownQuantities } from "../knowledge/quantities.ts";
import type { Summary } from "../knowledge/summaryTypes.ts";
import { tellQ } from "../knowledge/tellQ.ts";
import { inInches } from "../quantity/inches.ts";
import type { TableName } from "../record/schema.ts";

/** A record after a reading. */
export interface ToldRecord {
  /** the numbers a table bears on: a name, and the value with its uncertainty */
  readonly numbers: readonly (readonly [title: string, value: string])[];
  readonly nextStep: {
    readonly stage: string;
    readonly caution: string;
    readonly do: string;
    readonly until: string;
    readonly why: string;
  };
  /** what looks like a slip of the pencil, a sentence each */
  readonly warnings: readonly string[];
}

/** What a table bears on. */
const BEARS_ON: Readonly<Record<TableName, readonly Group[]>> = {
  grinding: ["grinding", "curve"],
  sagitta: ["curve", "grinding"],
  spherometer: ["curve"],
  sun: ["curve"],
  lamp: ["curve"],
  zones: ["figure"],
  ronchi: ["figure"],
  knife: ["figure"],
  star: ["star"],
  diary: [],
  observations: [],
};

/** The same in inches, as `check` prints it for a record that wants them. */
export function toldInInches({ numbers, nextStep, warnings }: ToldRecord): ToldRecord {
  const { stage, caution, do: step, until, why } = nextStep;
  return {
    numbers: numbers.map(([title, value]) => [title, inInches(value)]),
    nextStep: {
      stage,
      caution: inInches(caution),
      do: inInches(step),
      until: inInches(until),
      why: inInches(why),
    },
    warnings: warnings.map(inInches),
  };
}

/**
 * What is told of a record to whoever has just typed into a table.
 *
 * @param table  the numbers it bears on are told; without one, those of the whole record
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { openRecord } from "../knowledge/open.ts";
 * const { summary } = (await openRecord()).demo;
 * const { numbers, nextStep } = toldRecord(summary, "sun");
 * assert.ok(numbers.some(([title]) => title === "Radius of curvature"));
 * assert.equal(nextStep.do, summary.nextStep.do);
 * ```
 */
export function toldRecord(summary: Summary, table?: TableName): ToldRecord {
  const groups = table === undefined ? undefined : BEARS_ON[table];
  const numbers = groups?.length === 0 ? [] : knownQuantities(summary, "check", groups);
  const { stage, caution, do: step, until, why } = summary.nextStep;
  return {
    numbers: numbers.map(({ title, value, digits }) => [title, tellQ(value, digits)]),
    nextStep: { stage, caution, do: step, until, why },
    warnings: summary.warnings.map(({ file, line, message }) =>
      [file, line === undefined ? undefined : `line ${line}`].filter(Boolean)
        .map((part) => `${part}: `).join("").replace(": line", ", line") + message
    ),
  };
}
