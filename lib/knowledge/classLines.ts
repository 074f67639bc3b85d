/** A class as the room tells it: a line for every folder, in the leader's order, with the tester's queue and what is left. */
import { decision } from "../record/tables.ts";
import type { ClassSettings } from "../record/classSettings.ts";
import { attention } from "./classAttention.ts";
import { AT_TESTER, type Reason } from "./orderOfHelp.ts";
import { type ClassOfRecords, EMPTY } from "./classOfRecords.ts";
import type { ClassRow } from "./classRow.ts";

/** Whether a folder can be read. */
export type FolderState = "read" | "refused" | "empty" | "unreadable";

/** One bench of the class. */
export interface ClassLine {
  /** its folder's name */
  readonly folder: string;
  /** what it is called: as class.yaml says, else its own title, else the folder */
  readonly name: string;
  readonly state: FolderState;
  /** the first sentence on what stands in the way of reading it */
  readonly why?: string;
  /** what the next step belongs to */
  readonly stage?: string;
  /** the next step */
  readonly nextStep?: string;
  /** place in the leader's order, from 1 */
  readonly rank: number;
  /** of how it stands there, in one word or two */
  readonly kind: Reason | "pinned";
  /** why it stands there, in a sentence */
  readonly reason: string;
  readonly idleDays?: number;
}

/** What is left of something the class has. */
export interface StockLine {
  readonly name: string;
  /** g at the beginning */
  readonly had: number;
  /** g now, about; never below 0 */
  readonly left: number;
  /** less than a tenth is left */
  readonly short: boolean;
}

/** The class now. */
export interface ClassNow {
  readonly title: string;
  /** ISO date */
  readonly today: string;
  readonly benches: readonly ClassLine[];
  /** folders of the benches that wait for the tester, in the leader's order, and how many testers there are */
  readonly tester: { readonly count: number; readonly waiting: readonly string[] };
  /** how many adults there are, where class.yaml says, and which benches need one now */
  readonly adults: { readonly count?: number; readonly wanted: readonly string[] };
  readonly stock: readonly StockLine[];
}

/** Under this share of what was there, it is short. */
const SHORT = 0.1;

/**
 * The class in the leader's order.
 *
 * @param many      the class
 * @param settings  class.yaml; nothing in it is needed
 * @param pinned    folders that the leader has put first, in that order
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const others = [{ folder: "bench-1", what: "empty" }];
 * const { benches } = classNow({ name: "ours", rows: [], unreadable: [], others, today: "2026-09-26" }, {}, []);
 * assert.deepEqual(benches[0], {
 *   folder: "bench-1", name: "bench-1", state: "empty", why: "empty", rank: 1, kind: "nothing yet", reason: "Its folder is empty.",
 * });
 * ```
 */
export function classNow(
  many: ClassOfRecords,
  settings: ClassSettings,
  pinned: readonly string[],
): ClassNow {
  const named = new Map((settings.benches ?? []).map((one) => [one.folder, one]));
  const list = attention(many, decision("forecast_soon"));
  const place = (folder: string): number => {
    const at = pinned.indexOf(folder);
    return at < 0 ? pinned.length : at;
  };
  const ordered = list.toSorted((a, b) => place(a.record) - place(b.record));
  const unreadable = new Map(many.unreadable.map((one) => [one.record, one]));
  const others = new Map((many.others ?? []).map((one) => [one.folder, one.what]));
  const stateOf = (folder: string): Pick<ClassLine, "state" | "why"> => {
    const refused = unreadable.get(folder), other = others.get(folder);
    if (refused !== undefined) {
      return {
        state: refused.fault === undefined ? "refused" : "unreadable",
        ...(refused.why[0] === undefined ? {} : { why: refused.why[0] }),
      };
    }
    if (other === undefined) return { state: "read" };
    return { state: other === EMPTY ? "empty" : "unreadable", why: other };
  };
  const benches = ordered.map((one, at): ClassLine => {
    const { record: folder, title, reason, why, do: step, stage, idleDays } = one;
    const isPinned = pinned.includes(folder);
    return {
      folder,
      name: named.get(folder)?.name ?? title,
      ...stateOf(folder),
      ...(stage === undefined ? {} : { stage }),
      ...(step === undefined ? {} : { nextStep: step }),
      rank: at + 1,
      kind: isPinned ? "pinned" : reason,
      reason: isPinned ? `Put first by the leader. ${why}` : why,
      ...(idleDays === undefined ? {} : { idleDays }),
    };
  });
  const of = (reason: Reason): string[] =>
    ordered.filter((one) => one.reason === reason)
      .map(({ record }) => record);
  const atTester = ordered.filter(({ stage }) => AT_TESTER.includes(stage ?? ""))
    .map(({ record }) => record);
  return {
    title: settings.title ?? many.name,
    today: many.today ?? "",
    benches,
    tester: { count: settings.tester?.count ?? 1, waiting: atTester },
    adults: {
      ...(settings.adults === undefined ? {} : { count: settings.adults }),
      wanted: of("adult"),
    },
    stock: stockNow(many, settings),
  };
}

/** What is left of what class.yaml says was there, by the logs of all benches. */
function stockNow(
  { rows, unreadable }: ClassOfRecords,
  { stock }: ClassSettings,
): readonly StockLine[] {
  const all: readonly ClassRow[] = [...rows, ...unreadable.flatMap(({ rest }) => rest ?? [])];
  return [...stock ?? []].map(([name, had]) => {
    const used = all.reduce((sum, row) => sum + (row.used[name] ?? 0), 0);
    const left = Math.max(0, had - used);
    return { name, had, left: Math.round(left), short: left < SHORT * had };
  });
}
