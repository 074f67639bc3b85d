/** A bench's journal, `history.csv`: what was written through the room, by which id, and what was taken back. */

/** What an entry of the journal tells. */
export type Act =
  /** rows were added; stands on disk before they do */
  | "add"
  /** a picture was put into `photos/` */
  | "photo"
  /** an addition was taken back */
  | "undo"
  /** an addition that never came to be; its id is free again */
  | "struck";

/** One line of the journal. */
export interface HistoryEntry {
  /** when, ISO with seconds, by the laptop's clock */
  readonly at: string;
  /** of the addition, as the phone made it */
  readonly id: string;
  /** whose key it was: "leader", "bench" */
  readonly who: string;
  /** without its ".csv"; "photos" for a picture */
  readonly table: string;
  /** lines of the rows in the table, from 1 */
  readonly lines: readonly number[];
  readonly act: Act;
  /** what was put behind the table's text, exactly; of a picture its path in the record */
  readonly text: string;
}

const HEAD = "at,id,who,table,line,act,text";

/** The header of a fresh journal. */
export const HISTORY_HEADER: string = `${HEAD}\n`;

/** Backslash, line ends as they are written within one line. */
function escaped(text: string): string {
  return text.replaceAll("\\", "\\\\").replaceAll("\r", "\\r").replaceAll("\n", "\\n");
}

function unescaped(text: string): string {
  return text.replace(
    /\\(.)/g,
    (_, sign: string) => sign === "n" ? "\n" : sign === "r" ? "\r" : sign,
  );
}

const cell = (text: string): string =>
  /[",#]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;

/**
 * One entry as a line, its line end included.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const entry: HistoryEntry = {
 *   at: "2026-11-30T11:41:07Z", id: "a1", who: "bench", table: "sagitta", lines: [8, 9], act: "add", text: '0.88,0.9,\n"x, y",,\n',
 * };
 * const line = historyLine(entry);
 * assert.equal(line.split("\n").length, 2);
 * assert.deepEqual(readHistory(HISTORY_HEADER + line).entries, [entry]);
 * ```
 */
export function historyLine({ at, id, who, table, lines, act, text }: HistoryEntry): string {
  return `${[at, id, who, table, lines.join("+"), act, escaped(text)].map(cell).join(",")}\n`;
}

function cellsOf(line: string): string[] | undefined {
  const cells: string[] = [];
  const next = /(?:"((?:[^"]|"")*)"|([^,"]*))(,|$)/y;
  while (next.lastIndex <= line.length) {
    const found = next.exec(line);
    if (found === null) return undefined;
    cells.push(found[1]?.replaceAll('""', '"') ?? found[2] ?? "");
    if (found[3] === "") return cells;
  }
  return cells;
}

const ACTS: readonly string[] = ["add", "photo", "undo", "struck"] satisfies Act[];

/** The journal as it stands. */
export interface History {
  readonly entries: readonly HistoryEntry[];
  /** letters of a last line without its end, which a crash has torn: it was never acted on */
  readonly torn: number;
}

/**
 * Reads a journal; lines that somebody has written into it by hand and that tell nothing are passed over.
 *
 * @param text  the file
 */
export function readHistory(text: string): History {
  const lines = text.split("\n"), torn = lines.pop()?.length ?? 0;
  const entries = lines.flatMap((raw): HistoryEntry[] => {
    const line = raw.replace(/\r$/, "");
    if (line === "" || line.startsWith("#") || line === HEAD) return [];
    const cells = cellsOf(line);
    if (cells === undefined || cells.length < 7) return [];
    const [at = "", id = "", who = "", table = "", numbers = "", act = "", text = ""] = cells;
    if (id === "" || !ACTS.includes(act)) return [];
    return [{
      ...{ at, id, who, table },
      lines: numbers === "" ? [] : numbers.split("+").map(Number),
      act: act as Act,
      text: unescaped(text),
    }];
  });
  return { entries, torn };
}

/** What is known of one id: its addition, and whether it stands, was taken back, or never came to be. */
export interface Known {
  readonly entry: HistoryEntry;
  readonly state: "stands" | "taken back";
}

/** Every id that counts, with what became of it. One that was struck is free again. */
export function knownIds(entries: readonly HistoryEntry[]): Map<string, Known> {
  const known = new Map<string, Known>();
  for (const entry of entries) {
    if (entry.act === "struck") known.delete(entry.id);
    else if (entry.act !== "undo") known.set(entry.id, { entry, state: "stands" });
    else {
      const before = known.get(entry.id);
      if (before !== undefined) known.set(entry.id, { ...before, state: "taken back" });
    }
  }
  return known;
}
