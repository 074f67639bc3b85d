/** Why a bench wants the leader, and which of two is sooner: the course's order of help, without any file. */
import type { ClassRow } from "./classRow.ts";

/**
 * Why a bench is next, in the order in which it counts: what cannot be undone in the next minutes; an adult is needed now;
 * too deep already; a number is wrong; cannot be read; nothing written yet; waits for the tester; goes on; done.
 */
export type Reason =
  | "cannot be undone"
  | "adult"
  | "too deep"
  | "slip"
  | "cannot be read"
  | "nothing yet"
  | "tester"
  | "idle"
  | "done";

/** The reasons in the order in which they count. */
export const ORDER: readonly Reason[] = [
  "cannot be undone",
  "adult",
  "too deep",
  "slip",
  "cannot be read",
  "nothing yet",
  "tester",
  "idle",
  "done",
];

/** Stages at which the coarse grades still take glass off. */
const ROUGH: readonly string[] = ["rough grinding", "measuring", "correcting"];

/** Stages that wait for the one tester of the room. */
export const AT_TESTER: readonly string[] = ["band test", "zone test", "star test"];

/** A bench's reason, the sentence, and where it stands among those of one reason: the smaller, the sooner. */
export type Judged = readonly [reason: Reason, why: string, among: number];

/** What of a bench the order looks at. */
export type HelpRow = Pick<
  ClassRow,
  | "stage"
  | "do"
  | "readings"
  | "warnings"
  | "slip"
  | "minutesToTarget"
  | "tooDeepUm"
  | "done"
>;

/**
 * Why a bench wants the leader.
 *
 * @param row      what is known of it
 * @param soonMin  minutes, the course's `forecast_soon`
 * @param adult    what an adult is needed for at its next step, in words; absent where a learner may go on alone
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const row = { stage: "rough grinding", do: "Grind on.", readings: 9, warnings: [], done: false };
 * assert.equal(reasonOf({ ...row, minutesToTarget: 4 }, 10, undefined)[0], "cannot be undone");
 * assert.equal(reasonOf({ ...row, minutesToTarget: 40 }, 10, undefined)[0], "idle");
 * ```
 */
export function reasonOf(row: HelpRow, soonMin: number, adult: string | undefined): Judged {
  const { slip, warnings, minutesToTarget: minutes, tooDeepUm, done, stage } = row;
  if (row.readings === 0) return ["nothing yet", "Nothing is written yet.", 0];
  if (minutes !== undefined && /^Stop\b/.test(row.do)) {
    return ["cannot be undone", "Its depth is reached; glass does not grow back.", 0];
  }
  if (minutes !== undefined && minutes < soonMin && ROUGH.includes(stage)) {
    const left = `${Math.max(0, minutes).toFixed(1)} min to its depth`;
    const back = tooDeepUm === undefined
      ? ""
      : `, ${tooDeepUm.toFixed(0)} µm too deep, coming back`;
    return ["cannot be undone", `${left}${back}; glass does not grow back.`, minutes];
  }
  if (adult !== undefined) {
    return ["adult", slip === undefined ? adult : `${adult} ${slip}`, 0];
  }
  if (tooDeepUm !== undefined) {
    return ["too deep", `${tooDeepUm.toFixed(0)} µm too deep.`, -tooDeepUm];
  }
  if (slip !== undefined) return ["slip", slip, 0];
  if (warnings[0] !== undefined) {
    const more = warnings.length > 1 ? ` (and ${warnings.length - 1} more)` : "";
    return ["slip", `${warnings[0]}${more}.`, 1];
  }
  if (stage === "check the record") return ["slip", row.do, 1];
  if (done) return ["done", "The figure is done: pack it and send it out.", 0];
  if (AT_TESTER.includes(stage)) return ["tester", "Waits for the tester.", 0];
  return ["idle", `At ${stage}.`, 0];
}

/** One bench among those to be put in order. */
export interface Waiting {
  readonly record: string;
  readonly reason: Reason;
  /** among those of one reason, the smaller the sooner */
  readonly among: number;
  readonly idleDays?: number;
}

const { compare } = new Intl.Collator("en", { numeric: true });

/** Which of two benches is sooner, below 0 for the first: by reason, within it, by idle days, by name. */
export function sooner(a: Waiting, b: Waiting): number {
  return ORDER.indexOf(a.reason) - ORDER.indexOf(b.reason) || a.among - b.among ||
    (b.idleDays ?? -1) - (a.idleDays ?? -1) || compare(a.record, b.record);
}
