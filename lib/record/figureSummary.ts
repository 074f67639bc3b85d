/** The figure of the mirror from its zone readings, as summary.json holds it, and the verdict on it. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { reduceZones, type ZoneFigure } from "../testing/zones.ts";
import { numbersQ, spreadOf } from "./figureNumbers.ts";
import { exactQ, toQ } from "./q.ts";
import type { CurveSummary, FigureSummary, VerdictSummary } from "./summaryTypes.ts";
import type { MirrorRecord, Warning, ZoneRow } from "./types.ts";

/** A day of zone readings. */
export interface ZoneDay {
  /** ISO date; absent where the rows have none */
  readonly date?: string;
  readonly rows: readonly ZoneRow[];
}

/**
 * The zone readings day by day, in the order of time; rows without a date are a day of their own, the first.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const row = { file: "zones.csv", line: 2, run: "1", inner: 0, outer: 30, reading: 12.1 };
 * const days = zoneDays([{ ...row, date: "2026-06-19" }, { ...row, date: "2026-06-12" }]);
 * assert.deepEqual(days.map(({ date }) => date), ["2026-06-12", "2026-06-19"]);
 * ```
 */
export function zoneDays(rows: readonly ZoneRow[]): readonly ZoneDay[] {
  const days = Map.groupBy(rows, ({ date }) => date ?? "");
  return [...days].sort(([a], [b]) => a < b ? -1 : 1).map(([date, ofDay]) => ({
    ...(date === "" ? {} : { date }),
    rows: ofDay,
  }));
}

/**
 * Reduces one day's readings with the record's own bench.
 *
 * @param radius  of curvature, mm; the plan's where the curve has not been measured
 * @throws {RangeError} where the readings cannot be reduced
 */
export function reduceDay({ settings }: MirrorRecord, day: ZoneDay, radius: number): ZoneFigure {
  const { aperture, bevel, goal, tester } = settings;
  return reduceZones({
    readings: day.rows,
    aperture,
    bevel,
    radius,
    source: tester.source === "fixed" ? "fixed" : "moves",
    openings: tester.openings,
    wavelength: goal.wavelength,
    goalSurfaceWaves: goal.surfaceWaves,
    reference: goal.shape === "sphere" ? "sphere" : "paraboloid",
  });
}

/** Radius of curvature to judge the figure by: the measured one where there is one, else the plan's. */
export function judgingRadius(record: MirrorRecord, curve: CurveSummary | undefined): number {
  return curve?.radius?.value ?? 2 * record.settings.focalLength;
}

/** The latest day's figure, and what was assumed or looks unlikely about it. */
export interface FigureFound {
  readonly figure?: FigureSummary;
  /** what the figure was taken from, for a plan of figuring */
  readonly reduced?: ZoneFigure;
  readonly verdict?: VerdictSummary;
  readonly warnings: readonly Warning[];
}

/** Figure and verdict from the latest day of zone readings; nothing where there are none. */
export function figureSummary(record: MirrorRecord, curve: CurveSummary | undefined): FigureFound {
  const day = zoneDays(record.zones).at(-1);
  if (day === undefined) return { warnings: [] };
  try {
    const found = reduceDay(record, day, judgingRadius(record, curve));
    const told = [...found.assumed, ...found.cautions];
    return {
      figure: toSummary(found),
      reduced: found,
      verdict: {
        meets_goal: found.verdict,
        probability: found.probabilityWithinGoal,
        why: found.advice === undefined ? found.why : `${found.why}; ${found.advice}`,
      },
      warnings: told.map((message) => ({ file: "zones.csv", message })),
    };
  } catch (error) {
    if (!cannotTell(error)) throw error;
    return {
      figure: { refused: error.message },
      warnings: [{ file: "zones.csv", message: `not reduced: ${error.message}` }],
    };
  }
}

/** RMS of the glass on each of the last days that can be reduced, nm, in the order of time. */
export function dailyRms(record: MirrorRecord, radius: number, last: number): number[] {
  return zoneDays(record.zones).slice(-last).flatMap((day) => {
    try {
      return [reduceDay(record, day, radius).surfaceRms.value];
    } catch (error) {
      if (!cannotTell(error)) throw error;
      return [];
    }
  });
}

/** The zone test still says by a RangeError what its readings cannot tell. */
function cannotTell(error: unknown): error is Error {
  return error instanceof CannotTell || error instanceof RangeError;
}

function toSummary(found: ZoneFigure): FigureSummary {
  const from = ["zones.csv"];
  return {
    ...numbersQ(found, from),
    reference: found.reference,
    focus: found.focus,
    noise_floor_rms: toQ(found.noiseFloorRms),
    transverse_over_airy: toQ(found.transverseOverAiry, from),
    pooled_reading_s: { value: found.pooledS, unit: "mm" },
    runs: found.runs,
    judged_aperture: exactQ(found.judgedAperture, "mm"),
    ...spreadOf(found),
  };
}
