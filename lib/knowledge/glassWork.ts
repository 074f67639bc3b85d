/** When the glass was worked, and which zone readings are therefore of one and the same surface. */
import type { DiaryRow, GrindingRow, MirrorRecord, Row, ZoneRow } from "../record/types.ts";

type Tables = Pick<MirrorRecord, "grinding" | "diary" | "zones">;

/** Something that changed the glass. */
interface Work {
  readonly date?: string;
  /** minutes of the log when it was over */
  readonly until?: number;
  /** of the log; absent for an act of the diary */
  readonly row?: GrindingRow;
}

/** Acts of the diary that change the glass, so that readings before and after are of two surfaces. */
const TOUCH_GLASS: readonly DiaryRow["what"][] = ["bevel renewed", "chip"];

/** Readings of one surface, whatever their days: no work on the glass lies between them. */
export interface ZoneMeasurement {
  /** the latest of `dates`; absent where the rows have none */
  readonly date?: string;
  /** ISO, in the order of time */
  readonly dates: readonly string[];
  /** their rows of zones.csv */
  readonly rows: readonly ZoneRow[];
  /** days of `dates` on which work is written too, taken as done before the readings */
  readonly afterWork: readonly string[];
}

function worksOf({ grinding, diary }: Tables): readonly Work[] {
  let until = 0;
  const ground = grinding.flatMap((row): Work[] => {
    const { date, minutes } = row;
    until += minutes;
    return minutes > 0 ? [{ ...(date === undefined ? {} : { date }), until, row }] : [];
  });
  const acts = diary.filter(({ what }) => TOUCH_GLASS.includes(what));
  return [...ground, ...acts.map(({ date }) => ({ date }))];
}

/** Whether work was done before a reading: by the days; within a day, or without any, by the log's minutes, else yes. */
function isBefore(work: Work, row: Row): boolean {
  if (work.date !== undefined && row.date !== undefined && work.date !== row.date) {
    return work.date < row.date;
  }
  return work.until === undefined || row.afterMin === undefined || work.until <= row.afterMin + 0.5;
}

/**
 * The zone readings surface by surface, in the order of time.
 *
 * @example two days without work between them are one measurement
 * ```ts
 * import assert from "node:assert/strict";
 * const row = { file: "zones.csv", line: 2, run: "1", inner: 0, outer: 30, reading: 12.1 };
 * const zones = ["2026-06-12", "2026-06-19", "2026-06-26"].map((date) => ({ ...row, date }));
 * const session = { file: "grinding.csv", line: 2, abrasive: "rouge", position: "tool on top", minutes: 4 } as const;
 * const found = zoneMeasurements({ zones, diary: [], grinding: [{ ...session, date: "2026-06-20" }] });
 * assert.deepEqual(found.map(({ dates }) => dates.length), [2, 1]);
 * ```
 */
export function zoneMeasurements(tables: Tables): readonly ZoneMeasurement[] {
  const works = worksOf(tables);
  const groups = Map.groupBy(
    tables.zones,
    (row) => works.filter((work) => isBefore(work, row)).length,
  );
  return [...groups].sort(([a], [b]) => a - b).map(([, rows]) => {
    const dates = [...new Set(rows.flatMap(({ date }) => date ?? []))].sort(), date = dates.at(-1);
    const afterWork = dates.filter((day) =>
      works.some((work) =>
        work.date === day && rows.some((row) => row.date === day && isBefore(work, row))
      )
    );
    return { ...(date === undefined ? {} : { date }), dates, rows, afterWork };
  });
}

/** Two surfaces that were read one after the other, and the log's rows between them; acts of the diary are none of these. */
export interface SessionBetween {
  readonly before: ZoneMeasurement;
  readonly after: ZoneMeasurement;
  readonly rows: readonly GrindingRow[];
}

/** What was done between each surface that was read and the next, in the order of time. */
export function sessionsBetween(tables: Tables): readonly SessionBetween[] {
  const read = zoneMeasurements(tables), works = worksOf(tables);
  const isDone = (work: Work, { rows }: ZoneMeasurement): boolean =>
    rows.every((row) => isBefore(work, row));
  return read.slice(1).flatMap((after, i) => {
    const before = read[i];
    return before === undefined ? [] : [{
      before,
      after,
      rows: works.flatMap((work) =>
        work.row !== undefined && isDone(work, after) && !isDone(work, before) ? [work.row] : []
      ),
    }];
  });
}

/** Whether the glass was worked after the latest zone readings, so that they are of a former surface. */
export function isStale(tables: Tables): boolean {
  const rows = zoneMeasurements(tables).at(-1)?.rows;
  return rows !== undefined &&
    worksOf(tables).some((work) => rows.every((row) => !isBefore(work, row)));
}

/** Whether a reading is of the glass as it is now: nothing that was done to it came after. */
export function isOfNow(tables: Tables, row: Row): boolean {
  return worksOf(tables).every((work) => isBefore(work, row));
}

/** Names of the runs of a measurement: one for each day, seat and direction of the knife. */
export function runsOf({ rows }: Pick<ZoneMeasurement, "rows">): readonly string[] {
  return [...new Set(rows.map(passOf))];
}

/** One pass over the zones: the same name may stand for another run on another day, in another seat, with the knife turned. */
export function passOf({ date = "", angleDeg = 0, knifeDeg = 0, run }: ZoneRow): string {
  return `${date} ${angleDeg} ${knifeDeg} ${run}`;
}

/** Days that are named one by one. */
const MOST_DAYS = 3;

const listed = new Intl.ListFormat("en", { type: "conjunction" });

/**
 * Which readings a figure rests on, in words that may follow a semicolon.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const row = { file: "zones.csv", line: 2, run: "1", inner: 0, outer: 30, reading: 12.1 };
 * const rows = ["2026-06-12", "2026-06-13"].map((date) => ({ ...row, date }));
 * const said = readingsSaid({ dates: ["2026-06-12", "2026-06-13"], rows, afterWork: [] });
 * assert.equal(said, "2 runs of 2026-06-12 and 2026-06-13 taken together, for no work on the glass lies between them");
 * ```
 */
export function readingsSaid(
  { dates, rows, afterWork }: Omit<ZoneMeasurement, "date">,
): string {
  const count = runsOf({ rows }).length, runs = `${count} ${count === 1 ? "run" : "runs"}`;
  if (dates.length === 0) return runs;
  const together = dates.length > 1
    ? " taken together, for no work on the glass lies between them"
    : "";
  const after = afterWork.length === 0
    ? ""
    : ` (the work of ${
      dates.length === 1 ? "that day" : daysSaid(afterWork)
    } is taken as done before the readings)`;
  return `${runs} of ${daysSaid(dates)}${together}${after}`;
}

/** A few days one by one, many by the first and the last. */
function daysSaid(dates: readonly string[]): string {
  return dates.length <= MOST_DAYS
    ? listed.format(dates)
    : `${dates.length} days from ${dates[0]} to ${dates.at(-1)}`;
}
