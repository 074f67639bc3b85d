/** Two copies of one record made one again: what each has more is kept, by line and by id; where they contradict, nothing. */
import { type Findings, shown } from "../record/errors.ts";
import {
  type History,
  HISTORY_HEADER,
  type HistoryEntry,
  historyLine,
  knownIds,
  readHistory,
} from "./history.ts";

/** A stretch in which two texts differ: lines of the one where the other has others. */
interface Hunk {
  /** where it begins in the first text, from 0 */
  readonly at: number;
  readonly ours: readonly string[];
  readonly theirs: readonly string[];
  /** nothing common stands behind it */
  readonly isLast: boolean;
}

/** More different lines than this are no two copies of one table. */
const MOST = 3000;

/** Lines without their ends; a last line that is empty is none. */
function linesOf(text: string): string[] {
  const lines = text.split(/\r\n|\r|\n/);
  if (lines.at(-1) === "") lines.pop();
  return lines;
}

/** The stretches in which two lists of lines differ, by their longest common sequence; nothing where they are too far apart. */
function hunksOf(ours: readonly string[], theirs: readonly string[]): Hunk[] | undefined {
  let head = 0;
  while (head < ours.length && head < theirs.length && ours[head] === theirs[head]) head++;
  let tail = 0;
  while (
    tail < ours.length - head && tail < theirs.length - head &&
    ours[ours.length - 1 - tail] === theirs[theirs.length - 1 - tail]
  ) tail++;
  const a = ours.slice(head, ours.length - tail), b = theirs.slice(head, theirs.length - tail);
  if (a.length > MOST || b.length > MOST) return undefined;
  const width = b.length + 1, common = new Uint16Array((a.length + 1) * width);
  for (let i = a.length - 1; i >= 0; i--) {
    for (let j = b.length - 1; j >= 0; j--) {
      common[i * width + j] = a[i] === b[j]
        ? (common[(i + 1) * width + j + 1] ?? 0) + 1
        : Math.max(common[(i + 1) * width + j] ?? 0, common[i * width + j + 1] ?? 0);
    }
  }
  const hunks: Hunk[] = [];
  for (let i = 0, j = 0; i < a.length || j < b.length;) {
    const [i0, j0] = [i, j];
    while ((i < a.length || j < b.length) && !(i < a.length && j < b.length && a[i] === b[j])) {
      const down = common[(i + 1) * width + j] ?? 0, right = common[i * width + j + 1] ?? 0;
      if (j >= b.length || (i < a.length && down >= right)) i++;
      else j++;
    }
    if (i > i0 || j > j0) {
      hunks.push({
        at: head + i0,
        ours: a.slice(i0, i),
        theirs: b.slice(j0, j),
        isLast: tail === 0 && i === a.length && j === b.length,
      });
    }
    while (i < a.length && j < b.length && a[i] === b[j]) {
      i++;
      j++;
    }
  }
  return hunks;
}

/** Lines that an id has written, each with the id and whether it stands. */
interface Written {
  readonly id: string;
  readonly isTaken: boolean;
}

function writtenIn(history: History, table: string): Map<string, Written[]> {
  const found = new Map<string, Written[]>();
  for (const [id, { entry, state }] of knownIds(history.entries)) {
    if (entry.table !== table || entry.act !== "add") continue;
    for (const line of linesOf(entry.text).slice(-entry.lines.length)) {
      const list = found.get(line) ?? [];
      found.set(line, [...list, { id, isTaken: state === "taken back" }]);
    }
  }
  return found;
}

/**
 * One table from two copies of it.
 *
 * Rows that either copy has more are kept, ours before theirs; a row that a phone has sent to both, by its id, once; a row
 * that was taken back in one is gone. Where both have changed the same line of old, or a row of one id reads otherwise in
 * each, nothing is decided here.
 *
 * @param table     its name, without ".csv"
 * @param ours      text of the copy that is written to, without a byte order mark
 * @param theirs    text of the other
 * @param journals  of both
 * @param findings  contradictions, with the line in our copy
 * @returns the text as it will stand, in our copy's line ends; nothing where they contradict
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "../record/errors.ts";
 * const none = { entries: [], torn: 0 };
 * const merged = mergedTable("lamp", "distance_mm\n2398\n2401\n", "distance_mm\n2398\n2395\n", [none, none], new Findings());
 * assert.equal(merged, "distance_mm\n2398\n2401\n2395\n");
 * ```
 */
export function mergedTable(
  table: string,
  ours: string,
  theirs: string,
  journals: readonly [ours: History, theirs: History],
  findings: Findings,
): string | undefined {
  const file = `${table}.csv`, before = findings.count;
  const a = linesOf(ours), b = linesOf(theirs);
  const hunks = hunksOf(a, b);
  if (hunks === undefined) {
    findings.refuse({ file }, "two tables", "two copies of one", "merge copies of the same record");
    return undefined;
  }
  const sides = journals.map((journal) => writtenIn(journal, table));
  refuseMended(file, a, b, journals, findings);
  const out: string[] = [];
  let at = 0;
  for (const hunk of hunks) {
    out.push(...a.slice(at, hunk.at));
    at = hunk.at + hunk.ours.length;
    const isBoth = hunk.ours.length > 0 && hunk.theirs.length > 0;
    if (isBoth && !hunk.isLast) {
      const [one = ""] = hunk.ours, [other = ""] = hunk.theirs;
      findings.refuse(
        { file, line: hunk.at + 1 },
        `${shown(one)} here and ${shown(other)} in the other copy`,
        "one of them",
        "decide by hand, write the same into both, and merge again",
      );
      continue;
    }
    out.push(...hunk.ours, ...hunk.theirs);
  }
  out.push(...a.slice(at));
  if (findings.count > before) return undefined;
  putRight(out, a, b, sides);
  const end = /\r\n|\r|\n/.exec(ours)?.[0] ?? "\n";
  return out.map((line) => line + end).join("");
}

/**
 * Makes of each row that ids have written as many as there are ids that stand, besides those that hands have written: what
 * was sent to both stands once, what was taken back in one is gone.
 */
function putRight(
  out: string[],
  a: readonly string[],
  b: readonly string[],
  [ours = new Map(), theirs = new Map()]: readonly ReadonlyMap<string, readonly Written[]>[],
): void {
  const count = (lines: readonly string[], line: string): number =>
    lines.filter((one) => one === line).length;
  for (const line of new Set([...ours.keys(), ...theirs.keys()])) {
    const one = ours.get(line) ?? [], other = theirs.get(line) ?? [];
    const taken = new Set([...one, ...other].filter(({ isTaken }) => isTaken).map(({ id }) => id));
    const ids = new Set([...one, ...other].map(({ id }) => id).filter((id) => !taken.has(id)));
    const standing = (side: readonly Written[]): number =>
      new Set(side.filter(({ isTaken }) => !isTaken).map(({ id }) => id)).size;
    const byHand = Math.max(
      0,
      count(a, line) - standing(one),
      count(b, line) - standing(other),
    );
    for (let more = count(out, line) - ids.size - byHand; more > 0; more--) {
      out.splice(out.lastIndexOf(line), 1);
    }
    for (let less = ids.size + byHand - count(out, line); less > 0; less--) out.push(line);
  }
}

/** A row of one id that stands in one copy as it was sent and in the other was changed by hand. */
function refuseMended(
  file: string,
  a: readonly string[],
  b: readonly string[],
  [ours, theirs]: readonly [History, History],
  findings: Findings,
): void {
  const other = knownIds(theirs.entries);
  for (const [id, { entry, state }] of knownIds(ours.entries)) {
    const twin = other.get(id);
    if (twin === undefined || `${entry.table}.csv` !== file || entry.act !== "add") continue;
    if (state === "taken back" || twin.state === "taken back") continue;
    for (const line of linesOf(entry.text).slice(-entry.lines.length)) {
      if (a.includes(line) === b.includes(line)) continue;
      findings.refuse(
        { file, line: entry.lines[0] ?? 1 },
        `${shown(line)} in one copy, and changed by hand in the other`,
        "one of them",
        "decide by hand, write the same into both, and merge again",
      );
    }
  }
}

/** One journal from two: every entry once, in the order of the clock. */
export function mergedHistory(ours: string, theirs: string): string {
  const [one, other] = [ours, theirs].map((text) => readHistory(text).entries);
  const key = ({ id, act, at }: HistoryEntry): string => `${id} ${act} ${act === "add" ? "" : at}`;
  const seen = new Set<string>(), all: HistoryEntry[] = [];
  for (const entry of [...one ?? [], ...other ?? []]) {
    if (seen.has(key(entry))) continue;
    seen.add(key(entry));
    all.push(entry);
  }
  const sorted = all.map((entry, at) => ({ entry, at }))
    .sort((x, y) => x.entry.at < y.entry.at ? -1 : x.entry.at > y.entry.at ? 1 : x.at - y.at);
  return HISTORY_HEADER + sorted.map(({ entry }) => historyLine(entry)).join("");
}
