/** Whom a leader goes to first, and why: the order the course decides by, never a rank of makers. */
import type { ClassOfRecords, Unreadable } from "./classOfRecords.ts";
import type { ClassRow } from "./classRow.ts";

/** Why a bench is next. */
export type Reason = "refused" | "warned" | "soon" | "idle" | "done";

/** One bench in the leader's order. */
export interface Attention {
  readonly record: string;
  /** what it is called on the page: its title, or the folder's name where it cannot be read */
  readonly title: string;
  readonly reason: Reason;
  /** one sentence */
  readonly why: string;
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

function refused({ record, why, refusals }: Unreadable): Attention {
  const more = refusals > 1 ? ` (${refusals} places to mend)` : "";
  return { record, title: record, reason: "refused", why: `Cannot be read: ${why[0]}${more}` };
}

function reasonOf(row: ClassRow, soonMin: number): readonly [Reason, string] {
  const { slip, warnings, minutesToTarget: minutes, done, stage } = row;
  if (slip !== undefined) return ["warned", slip];
  if (warnings[0] !== undefined) {
    const more = warnings.length > 1 ? ` (and ${warnings.length - 1} more)` : "";
    return ["warned", `${warnings[0]}${more}`];
  }
  if (minutes !== undefined && minutes < soonMin) {
    return ["soon", `${minutes.toFixed(1)} min from its depth. ${row.do}`];
  }
  if (done) return ["done", "The figure is done: pack it and send it out."];
  return ["idle", `At ${stage}: ${row.do}`];
}

const order: readonly Reason[] = ["refused", "warned", "soon", "idle", "done"];

/**
 * The benches in the order in which they want the leader.
 *
 * First what cannot be read, then what is warned of (a slip with a name before the others), then a forecast under
 * `soonMin` minutes, then the longest idle; finished mirrors last. Ties keep the order of the names.
 *
 * @param many     a class
 * @param soonMin  minutes, the course's `forecast_soon`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const unreadable = [{ record: "bench-3", why: ["sun.csv, line 2: found nothing"], refusals: 1 }];
 * const [first] = attention({ name: "ours", rows: [], unreadable }, 10);
 * assert.deepEqual([first?.record, first?.reason], ["bench-3", "refused"]);
 * ```
 */
export function attention(many: ClassOfRecords, soonMin: number): Attention[] {
  const all: { entry: Attention; slip: number; minutes: number }[] = [
    ...many.unreadable.map((one) => ({ entry: refused(one), slip: 0, minutes: 0 })),
    ...many.rows.map((row) => {
      const [reason, why] = reasonOf(row, soonMin);
      const idle = row.lastDay === undefined || many.today === undefined
        ? {}
        : { idleDays: Math.max(0, daysBetween(row.lastDay, many.today)) };
      return {
        entry: { record: row.record, title: row.title, reason, why, ...idle },
        slip: row.slip === undefined ? 1 : 0,
        minutes: reason === "soon" ? row.minutesToTarget ?? 0 : 0,
      };
    }),
  ];
  return all.sort((a, b) =>
    order.indexOf(a.entry.reason) - order.indexOf(b.entry.reason) || a.slip - b.slip ||
    a.minutes - b.minutes || (b.entry.idleDays ?? -1) - (a.entry.idleDays ?? -1)
  ).map(({ entry }) => entry);
}
