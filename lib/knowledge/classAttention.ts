/** Whom a leader goes to first, and why: the order the course decides by, never a rank of makers. */
import { type ClassOfRecords, EMPTY, type Unreadable } from "./classOfRecords.ts";
import type { ClassRow } from "./classRow.ts";
import { hazards } from "./hazards.ts";
import { type Judged, ORDER, type Reason, reasonOf, sooner } from "./orderOfHelp.ts";

/** One bench in the leader's order. */
export interface Attention {
  readonly record: string;
  /** what it is called on the page: its title, or the folder's name where it cannot be read */
  readonly title: string;
  readonly reason: Reason;
  /** one sentence */
  readonly why: string;
  /** the step that the reason is about, in the imperative; absent where none is known */
  readonly do?: string;
  /** what the step belongs to; absent where none is known */
  readonly stage?: string;
  /** days since its last reading; absent where no row has a date */
  readonly idleDays?: number;
}

const DAY = 86_400_000;

/**
 * Days from one ISO day to another.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(daysBetween("2026-02-27", "2026-03-01"), 2);
 * ```
 */
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / DAY);
}

/** Edge work, wherever a step speaks of it: a learner does it with an adult beside. */
const EDGE = /wet stone|\bbevel the\b|renew the bevel|stone the (edge|bevel)/i;

/** What an adult is there for, in words; nothing where a learner may go on alone. */
function adultFor({ stage, do: step }: Pick<ClassRow, "stage" | "do">): string | undefined {
  const met = hazards().find(({ who, steps, knownBy }) =>
    who === "trained adult" && steps.includes(stage) && knownBy.test(step)
  );
  if (met !== undefined || stage === "lap") return met?.short ?? PITCH;
  return stage === "blanks" || EDGE.test(step) ? "Edge work: an adult stands beside." : undefined;
}

const PITCH = "Hot pitch burns: not before the adult is there.";

/** What cannot be read is told, and what the other files say counts where that is more pressing. */
function unread(one: Unreadable, soonMin: number): Judged {
  const more = one.refusals > 1 ? ` (${one.refusals} places to mend)` : "";
  const why = `Cannot be read: ${one.why[0]}${more}`;
  if (one.rest === undefined) return ["cannot be read", why, 0];
  const [reason, said, among] = reasonOf(one.rest, soonMin, adultFor(one.rest));
  return ORDER.indexOf(reason) < ORDER.indexOf("slip")
    ? [reason, `${said} ${why}`, among]
    : ["cannot be read", why, 0];
}

/**
 * The benches in the order in which they want the leader, every folder of the class once.
 *
 * First what cannot be undone in the next minutes, then who needs an adult now, who is too deep, what looks like a slip,
 * what cannot be read, who has written nothing, who waits for the tester, then the longest idle; finished mirrors last.
 * Ties keep the order of the names.
 *
 * @param many     a class
 * @param soonMin  minutes, the course's `forecast_soon`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const unreadable = [{ record: "bench-3", why: ["sun.csv, line 2: found nothing"], refusals: 1 }];
 * const [first] = attention({ name: "ours", rows: [], unreadable }, 10);
 * assert.deepEqual([first?.record, first?.reason], ["bench-3", "cannot be read"]);
 * ```
 */
export function attention(many: ClassOfRecords, soonMin: number): Attention[] {
  const idle = (row: ClassRow | undefined): { idleDays?: number } =>
    row?.lastDay === undefined || many.today === undefined
      ? {}
      : { idleDays: Math.max(0, daysBetween(row.lastDay, many.today)) };
  const entry = (
    record: string,
    title: string,
    [reason, why, among]: Judged,
    row?: ClassRow,
  ): { entry: Attention; among: number } => ({
    entry: {
      ...{ record, title, reason, why },
      ...(row === undefined || row.readings === 0 && row.do === ""
        ? {}
        : { do: row.do, stage: row.stage }),
      ...idle(row),
    },
    among,
  });
  const all = [
    ...many.unreadable.map((one) =>
      entry(one.record, one.rest?.title ?? one.record, unread(one, soonMin), one.rest)
    ),
    ...many.rows.map((row) =>
      entry(row.record, row.title, reasonOf(row, soonMin, adultFor(row)), row)
    ),
    ...(many.others ?? []).map(({ folder, what }) =>
      entry(
        folder,
        folder,
        what === EMPTY
          ? ["nothing yet", "Its folder is empty.", 1]
          : ["cannot be read", `Cannot be read: ${what}.`, 1],
      )
    ),
  ];
  return all.sort((a, b) => sooner({ ...a.entry, among: a.among }, { ...b.entry, among: b.among }))
    .map((one) => one.entry);
}
