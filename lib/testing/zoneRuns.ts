/** Knife readings by run and zone, gathered into one mean for each zone and one scatter for all. */
import { fQuantile, tQuantile } from "../numeric/quantiles.ts";
import type { Opening } from "./openings.ts";

/** One line of the zone table. */
export interface ZoneReading extends Opening {
  readonly run: string;
  /** knife position along the axis, mm, larger = farther from the mirror; its zero is arbitrary */
  readonly reading: number;
}

/** All readings of one zone. */
export interface ZoneMean extends Opening {
  readonly readings: readonly number[];
  readonly mean: number;
  /** scatter of these readings alone; absent where there is one only */
  readonly s?: number;
}

export interface PooledRuns {
  /** from the middle of the mirror outward */
  readonly zones: readonly ZoneMean[];
  readonly runs: readonly string[];
  /** standard deviation of one reading, mm, over all zones */
  readonly s: number;
  /** degrees of freedom of `s`; Infinity where it was assumed */
  readonly dof: number;
  /** what was taken for granted, in sentences */
  readonly assumed: readonly string[];
  /** what looks unlikely, in sentences; nothing is left out because of it */
  readonly cautions: readonly string[];
}

/** Standard deviation of one knife setting where a single run cannot show it, mm (COMMON PRACTICE). */
export const ASSUMED_READING_S = 0.05;
/** Least standard deviation of a reading, mm: a scale of 0.01 mm, rectangular. */
const LEAST_S = 0.01 / Math.sqrt(12);

/**
 * Gathers readings by zone and pools their scatter over the zones, each with its (n - 1).
 *
 * If whole runs are shifted against one another (the scale was touched between them), the shift is only focus; it is
 * then taken out of the scatter, and said.
 *
 * @param readings  two zones or more
 * @param idealSpread  how far the ideal readings of the zones spread, mm; tells absurd readings from real ones
 * @throws {RangeError} where there is one zone only, edges are out of order, a number is not finite, or a reading is
 * so far from all others that it cannot be a reading of the same mirror
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const rows = [12.31, 12.36, 12.27].flatMap((reading, i) => [
 *   { run: `${i}`, inner: 0, outer: 30, reading },
 *   { run: `${i}`, inner: 30, outer: 45, reading: reading + 0.2 },
 * ]);
 * const pooled = poolRuns(rows, 0.2);
 * assert.equal(pooled.zones[0]?.mean.toFixed(4), "12.3133");
 * assert.equal(pooled.dof, 2); // the runs shift as a whole, so only what is left after that counts
 * ```
 */
export function poolRuns(readings: readonly ZoneReading[], idealSpread: number): PooledRuns {
  requireSane(readings, idealSpread);
  const zones = byZone(readings);
  if (zones.length < 2) {
    throw new RangeError(
      `reduceZones requires readings of two zones or more, got ${zones.length}; one zone tells only focus`,
    );
  }
  const runs = [...new Set(readings.map((row) => row.run))];
  return { zones, runs, ...scatter(readings, zones, runs) };
}

function byZone(readings: readonly ZoneReading[]): ZoneMean[] {
  const groups = new Map<string, ZoneReading[]>();
  for (const row of readings) {
    const key = `${row.inner} ${row.outer}`;
    const group = groups.get(key);
    if (group) group.push(row);
    else groups.set(key, [row]);
  }
  const zones = [...groups.values()].map((rows): ZoneMean => {
    const values = rows.map((row) => row.reading);
    const mean = values.reduce((a, b) => a + b, 0) / values.length;
    const { inner, outer } = rows[0] as ZoneReading;
    const zone = { inner, outer, readings: values, mean };
    return values.length < 2
      ? zone
      : { ...zone, s: Math.sqrt(squares(values) / (values.length - 1)) };
  });
  return zones.sort((a, b) => a.inner + a.outer - b.inner - b.outer);
}

type Scatter = Pick<PooledRuns, "s" | "dof" | "assumed" | "cautions">;

function scatter(
  readings: readonly ZoneReading[],
  zones: readonly ZoneMean[],
  runs: readonly string[],
): Scatter {
  const dof = readings.length - zones.length;
  if (dof === 0) {
    const assumed =
      `no zone was read twice, so the scatter of one reading is assumed: ${ASSUMED_READING_S} mm`;
    return { s: ASSUMED_READING_S, dof: Infinity, assumed: [assumed], cautions: [] };
  }
  const total = zones.reduce((sum, zone) => sum + squares(zone.readings), 0);
  const cautions = farReadings(readings, zones, dof);
  const shift = runShift(readings, zones, runs);
  const rest = dof - (runs.length - 1);
  if (shift === undefined || rest < 2) return finish(total / dof, dof, cautions);
  const left = Math.max(total - shift, 0);
  const ratio = shift / (runs.length - 1) / (left / rest);
  if (ratio < fQuantile(0.99, runs.length - 1, rest)) return finish(total / dof, dof, cautions);
  const size = Math.sqrt(shift / (runs.length - 1) / zones.length).toFixed(3);
  return finish(left / rest, rest, [
    ...cautions,
    `whole runs are shifted against one another by about ${size} mm; that is only focus and is taken out of the scatter, ` +
    "but look whether the stand or the room moved",
  ]);
}

function finish(variance: number, dof: number, cautions: readonly string[]): Scatter {
  const s = Math.sqrt(variance);
  const assumed = s >= LEAST_S ? [] : [
    `the readings agree better than a scale of 0.01 mm can show, so ${
      LEAST_S.toFixed(4)
    } mm is used`,
  ];
  return { s: Math.max(s, LEAST_S), dof, assumed, cautions };
}

/** Sum of squares that shifts of whole runs explain; undefined unless every run has every zone once. */
function runShift(
  readings: readonly ZoneReading[],
  zones: readonly ZoneMean[],
  runs: readonly string[],
): number | undefined {
  if (runs.length < 2 || readings.length !== runs.length * zones.length) return undefined;
  if (zones.some((zone) => zone.readings.length !== runs.length)) return undefined;
  const grand = readings.reduce((sum, row) => sum + row.reading, 0) / readings.length;
  let sum = 0;
  for (const run of runs) {
    const rows = readings.filter((row) => row.run === run);
    if (rows.length !== zones.length) return undefined;
    const mean = rows.reduce((total, row) => total + row.reading, 0) / rows.length;
    sum += zones.length * (mean - grand) ** 2;
  }
  return sum;
}

/**
 * Readings too far from the others of their zone for chance: each against the mean of those others, by the scatter of
 * all readings but itself, Student's t, one false alarm in a hundred tests of a whole table.
 */
function farReadings(
  readings: readonly ZoneReading[],
  zones: readonly ZoneMean[],
  dof: number,
): string[] {
  if (dof < 4) return [];
  const limit = tQuantile(1 - 0.005 / readings.length, dof - 1);
  const total = zones.reduce((sum, zone) => sum + squares(zone.readings), 0);
  return zones.filter((zone) => zone.readings.length >= 3).flatMap((zone) => {
    const n = zone.readings.length;
    return readings
      .filter((row) => row.inner === zone.inner && row.outer === zone.outer)
      .filter((row) => {
        const own = ((row.reading - zone.mean) ** 2 * n) / (n - 1);
        const rest = Math.max((total - own) / (dof - 1), LEAST_S ** 2);
        return own / rest > limit * limit;
      })
      .map((row) =>
        `run ${row.run}, zone ${row.inner}-${row.outer}: ${row.reading} mm stands far from the others ` +
        `(${((zone.mean * n - row.reading) / (n - 1)).toFixed(3)} mm); it is used, look at it`
      );
  });
}

function requireSane(readings: readonly ZoneReading[], idealSpread: number): void {
  for (const row of readings) {
    if (!(row.inner >= 0 && row.outer > row.inner && Number.isFinite(row.reading + row.outer))) {
      throw new RangeError(
        `reduceZones requires 0 <= inner < outer and a finite reading in mm, ` +
          `got run=${row.run}, inner=${row.inner}, outer=${row.outer}, reading=${row.reading}`,
      );
    }
  }
  const middle = median(readings.map((row) => row.reading));
  const limit = 30 * (idealSpread + 1);
  const wild = readings.find((row) => Math.abs(row.reading - middle) > limit);
  if (!wild) return;
  throw new RangeError(
    `reduceZones requires readings within ${limit.toFixed(0)} mm of one another, ` +
      `got ${wild.reading} in run ${wild.run}, zone ${wild.inner}-${wild.outer}, where the others are near ${middle}`,
  );
}

function squares(values: readonly number[]): number {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return values.reduce((sum, v) => sum + (v - mean) ** 2, 0);
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b), half = (sorted.length - 1) / 2;
  return ((sorted[Math.floor(half)] ?? NaN) + (sorted[Math.ceil(half)] ?? NaN)) / 2;
}
