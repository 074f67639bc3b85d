/** The zone test surface by surface: readings with no work on the glass between them are one measurement, whatever their days. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { judgingOf, reduceMeasurement } from "../knowledge/figureSummary.ts";
import { passOf, type ZoneMeasurement, zoneMeasurements } from "../knowledge/glassWork.ts";
import type { Mirror } from "../knowledge/open.ts";
import type { ZoneRow } from "../record/types.ts";
import type { ZoneFigure } from "../testing/zones/zones.ts";

/** Readings of one surface with what they give. */
export interface ReducedDay extends ZoneMeasurement {
  readonly found: ZoneFigure;
}

/** What was already reduced, by mirror and wish: each reduction draws thousands of mirrors. */
const known = new WeakMap<Mirror, Map<string, readonly ReducedDay[]>>();

function remembered(
  mirror: Mirror,
  wish: string,
  reduce: () => readonly ReducedDay[],
): readonly ReducedDay[] {
  const ofMirror = known.get(mirror) ?? new Map<string, readonly ReducedDay[]>();
  known.set(mirror, ofMirror);
  const days = ofMirror.get(wish) ?? reduce();
  ofMirror.set(wish, days);
  return days;
}

function reduced(
  { record, summary }: Mirror,
  days: readonly ZoneMeasurement[],
): readonly ReducedDay[] {
  const judging = judgingOf(record, summary);
  return days.flatMap((day) => {
    try {
      return [{ ...day, found: reduceMeasurement(record, day, judging) }];
    } catch (error) {
      if (!(error instanceof CannotTell)) throw error;
      return [];
    }
  });
}

/**
 * Every surface whose zones were read, reduced; one that cannot be reduced is left out.
 *
 * @param only  take the first so many runs of each, to see what fewer would have said
 */
export function reducedDays(mirror: Mirror, only = Infinity): readonly ReducedDay[] {
  return remembered(mirror, `first ${only}`, () =>
    reduced(
      mirror,
      zoneMeasurements(mirror.record).map((day) => {
        const runs = [...new Set(day.rows.map(passOf))].slice(0, only);
        return { ...day, rows: day.rows.filter((row) => runs.includes(passOf(row))) };
      }),
    ));
}

/** The days of the latest surface, each reduced as if the others had not been read; none where there is one day only. */
export function daysAlone(mirror: Mirror): readonly ReducedDay[] {
  const last = zoneMeasurements(mirror.record).at(-1);
  if (last === undefined || last.dates.length < 2) return [];
  return remembered(mirror, "alone", () =>
    reduced(
      mirror,
      last.dates.map((date) => ({
        ...last,
        date,
        dates: [date],
        rows: last.rows.filter((row) => row.date === date),
      })),
    ));
}

/**
 * The days of a measurement in short: "2026-06-26 and 27".
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(daysOf({ dates: ["2026-06-26", "2026-06-27"] }), "2026-06-26 and 27");
 * assert.equal(daysOf({ dates: ["2026-06-26", "2026-06-28", "2026-07-01"] }), "2026-06-26 to 07-01");
 * assert.equal(daysOf({ dates: [] }), "undated");
 * ```
 */
export function daysOf({ dates }: Pick<ZoneMeasurement, "dates">): string {
  const first = dates[0], last = dates.at(-1);
  if (first === undefined || last === undefined) return "undated";
  if (dates.length === 1) return first;
  const alike = first.slice(0, 7) === last.slice(0, 7)
    ? 8
    : first.slice(0, 4) === last.slice(0, 4)
    ? 5
    : 0;
  return `${first} ${dates.length === 2 ? "and" : "to"} ${last.slice(alike)}`;
}

/** Whether the fault that keeps the whole disc from its goal lies in the shadow of the flat alone, where no star's light goes. */
export function isInShadow(
  { verdict, outsideShadow }: Pick<ZoneFigure, "verdict" | "outsideShadow">,
): boolean {
  return verdict !== "yes" && outsideShadow?.verdict === "yes";
}

/** The different openings of some rows, from the middle outwards. */
export function openingsOf(
  rows: readonly ZoneRow[],
): readonly { readonly inner: number; readonly outer: number }[] {
  const seen = new Map(rows.map(({ inner, outer }) => [`${inner} ${outer}`, { inner, outer }]));
  return [...seen.values()].sort((a, b) => a.inner - b.inner || a.outer - b.outer);
}

/** Runs through the same openings, that is one mask, in the order of their first row. */
export function masksOf(rows: readonly ZoneRow[]): readonly (readonly ZoneRow[])[] {
  const runs = [...Map.groupBy(rows, passOf).values()];
  const masks = Map.groupBy(runs, (run) => JSON.stringify(openingsOf(run)));
  return [...masks.values()].map((own) => own.flat());
}
