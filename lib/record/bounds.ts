/** What one record may hold: bounds far above what hands write, so that a file that is something else is told and costs no time. */
import { MOST_ZONES } from "../testing/zones/zoneRuns.ts";
import type { Findings } from "./errors.ts";
import { MOST_ROWS } from "./csv.ts";
import type { Row, ZoneRow } from "./types.ts";

/** Readings in all tables of a record together. */
const MOST_READINGS = 150_000;
/** Runs over the zones, over the mirror's whole life. */
const MOST_RUNS = 1_000;
/** Photographs in one table; each costs a second or two. */
export const MOST_PHOTOS = 100;

/**
 * Rows made from a table's rows, of which one may give several; no more than a table may have.
 *
 * @param file  for the refusal
 * @param make  what a row gives
 */
export function madeOf<V extends { readonly line: number }, T>(
  values: readonly V[],
  file: string,
  findings: Findings,
  make: (values: V) => readonly T[],
): T[] {
  const all: T[] = [];
  for (const one of values) {
    all.push(...make(one));
    if (all.length <= MOST_ROWS) continue;
    findings.refuse({ file, line: one.line }, `more than ${MOST_ROWS} readings`, ...TABLE);
    break;
  }
  return all;
}

/** Counts the readings of a record as its tables come; where there are too many, no further table is read. */
export class Budget {
  #left = MOST_READINGS;

  get spent(): boolean {
    return this.#left < 0;
  }

  /** Takes a table's readings; tells the one with which it was too much. */
  take(count: number, file: string, findings: Findings): void {
    this.#left -= count;
    if (!this.spent) return;
    const found = `more than ${MOST_READINGS} readings in all tables together`;
    findings.refuse({ file }, found, "one mirror's record", TABLE[1]);
  }
}

const TABLE = ["a maker's table", "take out what is not of this mirror"] as const;

/** Refuses what no bench fills: openings, runs, photographs. */
export function checkBounds(
  { zones, ronchi, star, knife }: {
    readonly zones: readonly ZoneRow[];
    readonly ronchi: readonly Row[];
    readonly star: readonly Row[];
    readonly knife: readonly Row[];
  },
  findings: Findings,
): void {
  refuseMore(
    zones,
    ({ inner, outer }) => `${inner} ${outer}`,
    MOST_ZONES,
    "different openings",
    "the openings of a mask or two; is a reading written where an edge belongs?",
    findings,
  );
  refuseMore(
    zones,
    ({ date = "", run }) => `${date} ${run}`,
    MOST_RUNS,
    "runs",
    "the runs of one mirror; give all readings of a run the same name",
    findings,
  );
  for (const rows of [ronchi, star, knife]) {
    const over = rows[MOST_PHOTOS];
    if (over === undefined) continue;
    const place = { file: over.file, line: over.line, column: "photo" };
    const mend = "keep the latest in this table, the older ones elsewhere";
    findings.refuse(place, `${rows.length} photographs`, `at most ${MOST_PHOTOS}`, mend);
  }
}

/** Refuses the row that brings one thing more than a table may have. */
function refuseMore<T extends Row>(
  rows: readonly T[],
  key: (row: T) => string,
  most: number,
  what: string,
  mend: string,
  findings: Findings,
): void {
  const seen = new Set<string>();
  for (const row of rows) {
    seen.add(key(row));
    if (seen.size <= most) continue;
    const place = { file: row.file, line: row.line };
    findings.refuse(place, `more than ${most} ${what}`, `at most ${most}`, `keep to ${mend}`);
    return;
  }
}
