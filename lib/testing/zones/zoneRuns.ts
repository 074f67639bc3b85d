/** Knife readings of one glass, from any number of runs, seats and days, made one set of zones with one covariance. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import { groupBy } from "../../numeric/groupBy.ts";
import { fQuantile, tQuantile } from "../../numeric/quantiles.ts";
import { type Matrix, matrix, solve } from "../../numeric/smallMatrix.ts";
import { knifePosition } from "../../optics/conic.ts";
import { effectiveRadius, type Opening } from "./openings.ts";
import type { Tester } from "./zoneModel.ts";

/** One line of the zone table; the rows of a run stand in the order in which they were read. */
export interface ZoneReading extends Opening {
  /** name of the run */
  readonly run: string;
  /** knife position along the axis, mm, larger = farther from the mirror; its zero is arbitrary */
  readonly reading: number;
  /** ISO date; runs of one date and one angle share the mirror's seat */
  readonly date?: string;
  /** where the mirror's mark stood, degrees counter-clockwise from the top, seen from the front; default 0 */
  readonly angleDeg?: number;
  /** edge of the knife, degrees counter-clockwise from the vertical; default 0 */
  readonly knifeDeg?: number;
  /** "inward" where the rows stand from the middle outward and were read the other way */
  readonly order?: "outward" | "inward";
}

/** All readings of one zone. */
export interface ZoneMean extends Opening {
  /** mm, brought to the scale's zero of the first seat and knife */
  readonly readings: readonly number[];
  /** mean of `readings`, mm */
  readonly mean: number;
  /** scatter of these readings alone; absent where there is one only */
  readonly s?: number;
}

/** Runs of one date, one seat, one direction of the knife. */
export interface ZoneGroup {
  /** ISO date; "" where none was written */
  readonly date: string;
  /** where the mirror's mark stood, degrees counter-clockwise from the top */
  readonly angleDeg: number;
  /** edge of the knife, degrees counter-clockwise from the vertical */
  readonly knifeDeg: number;
  /** number of runs */
  readonly runs: number;
  /** of the scale's zero, with focus in it: mm, and its standard uncertainty from the runs alone */
  readonly offset: number;
  /** standard uncertainty of `offset`, mm */
  readonly u: number;
}

/** All runs of a test, brought to one zero. */
export interface PooledRuns {
  /** from the middle of the mirror outward */
  readonly zones: readonly ZoneMean[];
  /** names, in the order of the table */
  readonly runs: readonly string[];
  /** by date, seat and knife */
  readonly groups: readonly ZoneGroup[];
  /** zero of each run's scale with focus in it, mm, in the order of the runs */
  readonly runZeros: readonly number[];
  /** departure of each zone from the ideal reading, mm; a constant is free */
  readonly departures: Float64Array;
  /** of the departures, mm^2, from the scatter of the readings */
  readonly covariance: Matrix;
  /** what one standard deviation of drift within a run adds to the departures, mm */
  readonly drift: Float64Array;
  /** standard deviation of one reading, mm, over all zones, and its degrees of freedom; Infinity where it was assumed */
  readonly s: number;
  /** degrees of freedom of `s` */
  readonly dof: number;
  /** the same with what is known of knife settings beforehand: what the figure's doubt rests on */
  readonly believedS: number;
  /** degrees of freedom of `believedS` */
  readonly believedDof: number;
  /** Birge ratio by which days, seats and knives disagree; absent where they agree */
  readonly birge?: number;
  /** what was taken for granted, a sentence each */
  readonly assumed: readonly string[];
  /** what looks unlikely, in sentences; nothing is left out because of it */
  readonly cautions: readonly string[];
}

/** Standard deviation of one knife setting, mm, beforehand (COMMON PRACTICE), worth so many degrees of freedom. */
export const ASSUMED_READING_S = 0.05;
const ASSUMED_DOF = 4;
/** Of the drift of a stand or a room from the first to the last reading of a run, mm (COMMON PRACTICE). */
export const DRIFT_S = 0.07;
/** Of a run's zero against others in one seat, mm, beforehand, worth two degrees of freedom (COMMON PRACTICE). */
const RUN_S = 0.02;
/** Least standard deviation of a reading, mm: a scale of 0.01 mm, rectangular. */
const LEAST_S = 0.01 / Math.sqrt(12);
/** A run's zero may lie anywhere: prior variance of its offset over a reading's is the inverse of this. */
const LOOSE = 0.0025;
/** More different openings than any mask, or two, has. */
export const MOST_ZONES = 100;

interface Row {
  readonly zone: number;
  readonly run: number;
  /** departure less the mean of its run, mm */
  y: number;
  /** place in the run's time, -1/2 to 1/2 */
  readonly t: number;
  readonly reading: ZoneReading;
}

interface Run {
  readonly name: string;
  readonly group: number;
  readonly rows: Row[];
  /** mean departure of its rows, mm */
  mean: number;
}

interface Table {
  readonly openings: readonly Opening[];
  readonly runs: readonly Run[];
  readonly groups: readonly ZoneReading[];
  readonly rows: readonly Row[];
}

/**
 * Gathers readings into zones by least squares: a reading is its zone's, and its run's zero, and the run's drift.
 *
 * Runs with the zones in one order cannot tell drift from figure, so drift stays a doubt; a run the other way round, or
 * the first zone read again at the end, shows it. Groups (days, seats, knives) that disagree beyond their scatter widen
 * all by their Birge ratio. In time linear in the number of readings.
 *
 * @param readings  two zones or more
 * @param ideal     the reading that the reference gives through an opening, mm
 * @throws {CannotTell} where there is one zone only or far too many; as `requireSane` where edges are out of order, a number is not finite, or a reading is
 * so far from all others that it cannot be a reading of the same mirror
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const rows = [12.31, 12.36, 12.27].flatMap((reading, i) => [
 *   { run: `${i}`, inner: 0, outer: 30, reading },
 *   { run: `${i}`, inner: 30, outer: 45, reading: reading + 0.2 },
 * ]);
 * const pooled = poolRuns(rows, () => 0);
 * assert.equal(pooled.zones[0]?.mean.toFixed(4), "12.3133");
 * assert.equal(pooled.dof, 2); // the runs shift as a whole, so only what is left after that counts
 * ```
 */
export function poolRuns(
  readings: readonly ZoneReading[],
  ideal: (opening: Opening) => number,
): PooledRuns {
  const table = tabled(readings, ideal);
  const { openings, runs, rows } = table;
  const squares = openings.map(({ inner, outer }) => inner * inner + outer * outer);
  const apart = (squares.at(-1) ?? 0) - (squares[0] ?? 0);
  if (!(apart > 1e-3 * (squares.at(-1) ?? 0))) {
    throw new CannotTell("one zone tells only focus: read two zones or more");
  }
  const first = fit(table, ASSUMED_READING_S), scatter = scatterOf(table, first);
  const { s, dof, birge } = scatter;
  const known = Number.isFinite(dof) ? dof : 0;
  const believedDof = ASSUMED_DOF + known;
  const believedS = Math.sqrt((ASSUMED_DOF * ASSUMED_READING_S ** 2 + known * s * s) / believedDof);
  const fitted = fit(table, believedS);
  const groups = groupsOf(table, fitted, believedS);
  const wider = (birge ?? 1) ** 2 * believedS ** 2;
  return {
    zones: zoneMeans(table, fitted, groups, ideal),
    runs: runs.map(({ name }) => name),
    groups,
    runZeros: runs.map((run, i) => run.mean + (fitted.offsets[i] ?? 0)),
    departures: fitted.zones,
    covariance: fitted.inverse.map((row) => row.map((v) => v * wider)),
    drift: fitted.drift,
    s,
    dof,
    believedS,
    believedDof,
    ...(birge === undefined ? {} : { birge }),
    assumed: scatter.assumed,
    cautions: [
      ...farReadings(rows, runs, fitted, s, dof),
      ...shifted(table, fitted, s),
      ...scatter.cautions,
    ],
  };
}

function tabled(readings: readonly ZoneReading[], ideal: (opening: Opening) => number): Table {
  requireSane(readings, ideal);
  const keys = new Map<string, Opening>();
  for (const { inner, outer } of readings) keys.set(`${inner} ${outer}`, { inner, outer });
  const square = ({ inner, outer }: Opening): number => inner * inner + outer * outer;
  const openings = [...keys.values()].sort((a, b) => square(a) - square(b));
  if (openings.length > MOST_ZONES) {
    throw new CannotTell(
      `${openings.length} different openings are more than the ${MOST_ZONES} that can be told together`,
    );
  }
  const place = new Map(openings.map(({ inner, outer }, i) => [`${inner} ${outer}`, i]));
  const ideals = openings.map(ideal);
  const groups = new Map<string, number>(), heads: ZoneReading[] = [];
  const runs = new Map<string, { name: string; group: number; of: ZoneReading[] }>();
  for (const row of readings) {
    const key = `${row.date ?? ""}|${row.angleDeg ?? 0}|${row.knifeDeg ?? 0}`;
    if (!groups.has(key)) groups.set(key, heads.push(row) - 1);
    const run = runs.get(`${key}|${row.run}`);
    if (run) run.of.push(row);
    else runs.set(`${key}|${row.run}`, { name: row.run, group: groups.get(key) ?? 0, of: [row] });
  }
  const made = [...runs.values()].map(({ name, group, of }, number): Run => {
    const rows = of.map((reading, i): Row => {
      const zone = place.get(`${reading.inner} ${reading.outer}`) ?? 0;
      const t = of.length < 2 ? 0 : i / (of.length - 1) - 0.5;
      const y = reading.reading - (ideals[zone] ?? 0);
      return { zone, run: number, y, t: reading.order === "inward" ? -t : t, reading };
    });
    const mean = rows.reduce((sum, { y }) => sum + y, 0) / rows.length;
    for (const row of rows) row.y -= mean;
    return { name, group, rows, mean };
  });
  return { openings, runs: made, groups: heads, rows: made.flatMap(({ rows }) => rows) };
}

/**
 * Refuses rows that no mirror can give.
 *
 * @param readings  rows as typed
 * @param ideal     the reference's reading through an opening, mm
 * @throws {RangeError} where edges are out of order or a number is not finite
 * @throws {CannotTell} where a reading lies far beyond its run's others
 */
function requireSane(
  readings: readonly ZoneReading[],
  ideal: (opening: Opening) => number,
): void {
  let low = Infinity, high = -Infinity;
  for (const row of readings) {
    if (!(row.inner >= 0 && row.outer > row.inner && Number.isFinite(row.reading + row.outer))) {
      throw new RangeError(
        `reduceZones requires 0 <= inner < outer and a finite reading in mm, ` +
          `got run=${row.run}, inner=${row.inner}, outer=${row.outer}, reading=${row.reading}`,
      );
    }
  }
  const seen = new Set<string>();
  for (const { inner, outer } of readings) {
    if (seen.has(`${inner} ${outer}`)) continue;
    seen.add(`${inner} ${outer}`);
    const here = ideal({ inner, outer });
    low = Math.min(low, here), high = Math.max(high, here);
  }
  const limit = 30 * (Math.max(high - low, 0) + 1);
  const runs = groupBy(
    readings,
    (row) => `${row.date ?? ""}|${row.angleDeg ?? 0}|${row.knifeDeg ?? 0}|${row.run}`,
  );
  for (const rows of runs.values()) {
    const middle = median(rows.map((row) => row.reading));
    const wild = rows.find((row) => Math.abs(row.reading - middle) > limit);
    if (wild === undefined) continue;
    throw new CannotTell(
      `in run ${wild.run} the zone ${wild.inner}-${wild.outer} reads ${wild.reading} mm, where the others are near ` +
        `${Number(middle.toFixed(3))} mm: no mirror has that; look at the digits`,
    );
  }
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b), half = (sorted.length - 1) / 2;
  return ((sorted[Math.floor(half)] ?? NaN) + (sorted[Math.ceil(half)] ?? NaN)) / 2;
}

interface Fit {
  readonly zones: Float64Array;
  /** of each run's zero, beside its mean, mm */
  readonly offsets: Float64Array;
  /** of the zones, for unit variance of a reading, drift held */
  readonly inverse: Matrix;
  readonly drift: Float64Array;
  /** of each row */
  readonly left: Float64Array;
}

function fit({ openings, runs, rows }: Table, s: number): Fit {
  const n = openings.length,
    normal = matrix(n + 1, n + 1, () => 0),
    right = new Float64Array(n + 1);
  const add = (i: number, j: number, v: number): void => {
    const row = normal[i] as Float64Array;
    row[j] = (row[j] as number) + v;
  };
  for (const run of runs) {
    const sums = new Map<number, number>();
    let times = 0;
    for (const { zone, y, t } of run.rows) {
      add(zone, zone, 1), add(zone, n, t), add(n, zone, t), add(n, n, t * t);
      right[zone] = (right[zone] as number) + y;
      right[n] = (right[n] as number) + t * y;
      sums.set(zone, (sums.get(zone) ?? 0) + 1);
      times += t;
    }
    const weight = 1 / (run.rows.length + LOOSE), all = [...sums, [n, times] as const];
    for (const [i, a] of all) for (const [j, b] of all) add(i, j, -weight * a * b);
  }
  const held = normal.slice(0, n).map((row) => row.subarray(0, n));
  const identity = matrix(n, n, (i, j) => i === j ? 1 : 0);
  const inverse = solve(held, identity);
  // the drift by itself, the zones eliminated; its own prior beside it
  const cross = normal.slice(0, n).map((row) => row[n] as number);
  const per = inverse.map((row) => -row.reduce((sum, v, j) => sum + v * (cross[j] ?? 0), 0));
  const own = ((normal[n] as Float64Array)[n] as number) +
    per.reduce((sum, v, i) => sum + v * (cross[i] ?? 0), 0) + (s / DRIFT_S) ** 2;
  const drive = (right[n] as number) + per.reduce((sum, v, i) => sum + v * (right[i] ?? 0), 0);
  const drift = drive / own, driftS = s / Math.sqrt(own);
  const zones = Float64Array.from(
    inverse,
    (row, i) => row.reduce((sum, v, j) => sum + v * (right[j] ?? 0), 0) + drift * (per[i] ?? 0),
  );
  const rest = (row: Row): number => row.y - (zones[row.zone] ?? 0) - drift * row.t;
  const offsets = Float64Array.from(
    runs,
    (run) => run.rows.reduce((sum, row) => sum + rest(row), 0) / (run.rows.length + LOOSE),
  );
  const left = Float64Array.from(rows, (row) => rest(row) - (offsets[row.run] ?? 0));
  return { zones, offsets, inverse, drift: Float64Array.from(per, (v) => v * driftS), left };
}

interface Scatter {
  readonly s: number;
  readonly dof: number;
  readonly birge?: number;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

/** Scatter of one reading within its run, and whether days, seats and knives agree on the figure. */
function scatterOf(table: Table, { left }: Fit): Scatter {
  const { openings, runs, rows, groups } = table;
  const all = left.reduce((sum, v) => sum + v * v, 0);
  const dof = rows.length - openings.length - runs.length + 1;
  if (dof <= 0) {
    const why =
      `no zone was read twice, so the scatter of one reading is assumed: ${ASSUMED_READING_S} mm`;
    return { s: ASSUMED_READING_S, dof: Infinity, assumed: [why], cautions: [] };
  }
  const cells = new Map<string, { sum: number; count: number }>();
  rows.forEach((row, i) => {
    const key = `${runs[row.run]?.group} ${row.zone}`, cell = cells.get(key);
    const here = cell ?? { sum: 0, count: 0 };
    here.sum += left[i] as number, here.count++;
    if (!cell) cells.set(key, here);
  });
  const between = [...cells.values()].reduce((sum, c) => sum + c.sum * c.sum / c.count, 0);
  const dofBetween = cells.size - openings.length - groups.length + 1;
  const dofWithin = dof - dofBetween, within = Math.max(all - between, 0);
  if (dofBetween > 0 && dofWithin > 1) {
    const variance = Math.max(within / dofWithin, LEAST_S ** 2);
    const ratio = between / dofBetween / variance;
    if (ratio > fQuantile(0.99, dofBetween, dofWithin)) {
      const birge = Math.sqrt(ratio);
      const caution =
        `the readings of ${
          namesOf(groups)
        } disagree beyond their scatter; every doubt is widened by their ` +
        `Birge ratio, ${birge.toFixed(1)}`;
      return { ...settled(variance, dofWithin), birge, cautions: [caution] };
    }
  }
  return { ...settled(all / dof, dof), cautions: [] };
}

function settled(variance: number, dof: number): Omit<Scatter, "cautions"> {
  const s = Math.sqrt(variance);
  const assumed = s >= LEAST_S ? [] : [
    `the readings agree better than a scale of 0.01 mm can show, so ${
      LEAST_S.toFixed(4)
    } mm is used`,
  ];
  return { s: Math.max(s, LEAST_S), dof, assumed };
}

/** "2026-06-19 and 2026-06-26"; where the day is one, the seats and knives. */
function namesOf(groups: readonly ZoneReading[]): string {
  const days = [...new Set(groups.map(({ date }) => date ?? "undated"))];
  const names = days.length > 1
    ? days
    : groups.map(({ angleDeg = 0, knifeDeg = 0 }) => `mark ${angleDeg}°, knife ${knifeDeg}°`);
  const few = names.length > 4 ? [...names.slice(0, 3), `${names.length - 3} more`] : names;
  return `${few.slice(0, -1).join(", ")} and ${few.at(-1)}`;
}

function groupsOf({ runs, groups }: Table, { offsets }: Fit, s: number): ZoneGroup[] {
  const own = groups.map(() => [] as { offset: number; weight: number }[]);
  runs.forEach((run, i) =>
    own[run.group]?.push({ offset: run.mean + (offsets[i] ?? 0), weight: run.rows.length })
  );
  const means = own.map((list) =>
    list.reduce((sum, { offset, weight }) => sum + offset * weight, 0) /
    list.reduce((sum, { weight }) => sum + weight, 0)
  );
  const usual = runs.reduce((sum, { rows }) => sum + 1 / rows.length, 0) / runs.length;
  const squares = own.reduce(
    (sum, list, g) => list.reduce((sub, { offset }) => sub + (offset - (means[g] ?? 0)) ** 2, sum),
    0,
  );
  const free = runs.length - groups.length;
  const variance = (2 * (RUN_S ** 2 + s * s * usual) + squares) / (2 + free);
  return groups.map(({ date = "", angleDeg = 0, knifeDeg = 0 }, g) => {
    const count = own[g]?.length ?? 1;
    return {
      date,
      angleDeg,
      knifeDeg,
      runs: count,
      offset: means[g] ?? 0,
      u: Math.sqrt(variance / count),
    };
  });
}

function zoneMeans(
  { openings, runs, rows }: Table,
  { zones }: Fit,
  groups: readonly ZoneGroup[],
  ideal: (opening: Opening) => number,
): ZoneMean[] {
  const zero = groups[0]?.offset ?? 0;
  const own = openings.map(() => [] as number[]);
  for (const row of rows) {
    const group = groups[runs[row.run]?.group ?? 0];
    own[row.zone]?.push(row.reading.reading - ((group?.offset ?? zero) - zero));
  }
  return openings.map((opening, i) => {
    const readings = own[i] ?? [];
    const mean = ideal(opening) + (zones[i] ?? 0) + zero;
    const plain = readings.reduce((a, b) => a + b, 0) / readings.length;
    const square = readings.reduce((sum, v) => sum + (v - plain) ** 2, 0);
    const one = { ...opening, readings, mean };
    return readings.length < 2 ? one : { ...one, s: Math.sqrt(square / (readings.length - 1)) };
  });
}

/** Readings too far from what zone and run lead to expect: Student's t, one false alarm in a hundred whole tables. */
function farReadings(
  rows: readonly Row[],
  runs: readonly Run[],
  { left }: Fit,
  s: number,
  dof: number,
): string[] {
  if (!(dof >= 2) || !Number.isFinite(dof)) return [];
  const believed = ASSUMED_DOF * ASSUMED_READING_S ** 2, free = ASSUMED_DOF + dof - 1;
  const limit = tQuantile(1 - 0.005 / rows.length, free);
  const counts = new Map<number, number>();
  for (const { zone } of rows) counts.set(zone, (counts.get(zone) ?? 0) + 1);
  return rows.flatMap((row, i) => {
    const n = counts.get(row.zone) ?? 1, inRun = runs[row.run]?.rows.length ?? 1;
    const lever = Math.max(1 - 1 / n - 1 / inRun + 1 / (n * inRun), 0.05);
    const own = (left[i] as number) ** 2 / lever;
    const rest = (believed + Math.max(dof * s * s - own, 0)) / free;
    if (n < 3 || own / rest <= limit * limit) return [];
    const { run, inner, outer, reading } = row.reading;
    return [
      `run ${run}, zone ${inner}-${outer}: ${reading} mm stands far from the others ` +
      `(${(reading - (left[i] as number) / lever).toFixed(3)} mm); it is used, look at it`,
    ];
  });
}

/** Whole runs of one seat that are shifted against one another: only focus, but something moved. */
function shifted({ runs, groups, rows, openings }: Table, { offsets }: Fit, s: number): string[] {
  const free = runs.length - groups.length;
  if (free < 1) return [];
  const zeros = runs.map((run, i) => run.mean + (offsets[i] ?? 0));
  const sums = groups.map(() => ({ sum: 0, count: 0 }));
  runs.forEach((run, i) => {
    const own = sums[run.group];
    if (own) own.sum += zeros[i] ?? 0, own.count++;
  });
  const square = runs.reduce((sum, run, i) => {
    const own = sums[run.group];
    return sum + ((zeros[i] ?? 0) - (own ? own.sum / own.count : 0)) ** 2;
  }, 0);
  const each = square / free, expected = (s * s * runs.length) / rows.length;
  const rest = Math.max(rows.length - openings.length - runs.length + 1, 1);
  if (each / expected < fQuantile(0.99, free, rest)) return [];
  return [
    `whole runs are shifted against one another by about ${
      Math.sqrt(each).toFixed(3)
    } mm; that is only focus and is ` +
    "taken out of the scatter, but look whether the stand or the room moved",
  ];
}

// What bends all runs alike, so that reading again does not cure it: drift, the screw's scale, the eye in a window.

/** One cause and its covariance of the departures, mm^2. */
export interface Cause {
  readonly source: string;
  readonly covariance: Matrix;
}

/** Relative standard uncertainty of the knife's scale (COMMON PRACTICE: a screw of cheap steel, a ruled slide). */
export const SCALE_U = 0.003;
/**
 * What an eye takes for even grey in a wide window: somewhere from the window's mean radius to the root of its mean
 * square (0), in shares of the way from one to the other, and beside that in shares of what the window spans.
 *
 * @see knife-edge by wave optics through four windows of a perfect 200 mm f/6 mirror, an optical engineer's message of
 * March 2005 on a public mailing list: the first window is read 0.13 of the way off, the rms over all four is 3 % of the span
 */
const TOWARD_MEAN = 0.35;
const OF_SPAN = 0.04;

/**
 * All causes that the departures of the zones carry.
 *
 * @param pooled  from `poolRuns`
 * @param tester  the bench
 * @returns the scatter first; each with what it adds, independent of the others
 */
export function causesOf(pooled: PooledRuns, tester: Tester): Cause[] {
  const { zones, drift } = pooled, n = zones.length;
  const middle = zones.reduce((sum, { mean }) => sum + mean, 0) / n;
  const scale = zones.map(({ mean }) => SCALE_U * (mean - middle));
  const eye = zones.map((zone) => TOWARD_MEAN * towardMean(zone, tester));
  const own = zones.map((zone) => OF_SPAN * spanOf(zone, tester));
  const rankOne = (v: ArrayLike<number>): Matrix =>
    matrix(n, n, (i, j) => (v[i] ?? 0) * (v[j] ?? 0));
  return [
    { source: "scatter of the readings", covariance: pooled.covariance },
    { source: "drift within a run", covariance: rankOne(drift) },
    {
      source: "what the eye balances in an opening",
      covariance: matrix(
        n,
        n,
        (i, j) => (eye[i] ?? 0) * (eye[j] ?? 0) + (i === j ? (own[i] ?? 0) ** 2 : 0),
      ),
    },
    { source: "scale of the knife's screw", covariance: rankOne(scale) },
  ];
}

const along = (r: number, { radius, source }: Tester): number =>
  knifePosition(r, { radius, conic: -1 }, source);

/** Reading by the window's mean radius less that by its effective one, mm. */
function towardMean(zone: Opening, tester: Tester): number {
  return along((zone.inner + zone.outer) / 2, tester) -
    along(effectiveRadius(zone, tester.openings), tester);
}

/** Ideal reading at the outer less that at the inner edge, mm. */
function spanOf({ inner, outer }: Opening, tester: Tester): number {
  return along(outer, tester) - along(inner, tester);
}
