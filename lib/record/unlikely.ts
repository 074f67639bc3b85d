/** What is unlikely but possible in a record: told beside the number, never a reason to stop. */
import type { Findings } from "./errors.ts";
import type { MirrorRecord, Row } from "./types.ts";

type Readings = Omit<MirrorRecord, "warnings">;
type Rule = (record: Readings, findings: Findings) => void;

const mm = (value: number): string => `${Number(value.toPrecision(6))} mm`;
const MIRROR_YAML = "mirror.yaml";

/** Lays every rule against the record; each adds its own warnings. */
export function lookForUnlikely(record: Readings, findings: Findings): void {
  for (const rule of RULES) rule(record, findings);
}

function design({ settings }: Readings, findings: Findings): void {
  const { aperture, focalLength, thickness, gauges } = settings;
  const ratio = focalLength / aperture;
  const place = (column: string): { file: string; column: string } => ({
    file: MIRROR_YAML,
    column,
  });
  if (ratio > 12) {
    const message =
      `f/${ratio.toFixed(1)} is long for a Newtonian: is ${
        mm(focalLength)
      } the radius of curvature? ` +
      `The focal length is half of it, ${mm(focalLength / 2)}`;
    findings.warn(place("focal_length"), message);
  }
  if (ratio < 3.5) {
    const message = `f/${ratio.toFixed(1)} is very deep for a mirror made by hand: ` +
      `is ${mm(focalLength)} the focal length, and ${mm(aperture)} the diameter of the disc?`;
    findings.warn(place("focal_length"), message);
  }
  if (aperture / thickness > 12 || aperture / thickness < 3) {
    const message = `a disc of ${mm(aperture)} by ${
      mm(thickness)
    } is unusual: look at both numbers and their units`;
    findings.warn(place("thickness"), message);
  }
  const legs = gauges.spherometer;
  if (legs !== undefined && legs.legRadius >= aperture / 2) {
    const message =
      `legs on a circle of radius ${mm(legs.legRadius)} do not stand on a disc of ${
        mm(aperture)
      }: ` +
      "is the circle's diameter given where its radius is meant?";
    findings.warn(place("gauges.spherometer.leg_radius"), message);
  }
}

function spherometerWithoutLegs({ settings, spherometer }: Readings, findings: Findings): void {
  if (spherometer.length === 0 || settings.gauges.spherometer !== undefined) return;
  const message = "not used: mirror.yaml has no gauges.spherometer with leg_radius and ball_radius";
  findings.warn({ file: "spherometer.csv" }, message);
}

function chords({ settings, sagitta }: Readings, findings: Findings): void {
  const clear = settings.aperture - 2 * settings.bevel;
  for (const { file, line, chord } of sagitta) {
    if (chord === undefined) continue;
    const place = { file, line, column: "chord" };
    if (Math.abs(chord / clear - 0.5) < 0.02) {
      findings.warn(
        place,
        `${mm(chord)} is half the disc: is a radius given where the whole chord is meant?`,
      );
    } else if (chord > clear + 0.5 && settings.bevel > 0) {
      const message = `${mm(chord)} reaches over the bevel: between the bevels there are ${
        mm(clear)
      }`;
      findings.warn(place, message);
    }
  }
}

function openings({ settings, zones }: Readings, findings: Findings): void {
  const last = latest(zones);
  const edge = settings.aperture / 2;
  const widest = Math.max(...last.map(({ outer }) => outer));
  const [first] = last;
  if (first === undefined) return;
  if (widest < 0.7 * edge) {
    const message = `the outermost opening ends at ${mm(widest)} of ${
      mm(edge)
    }: nothing is known of the rest`;
    findings.warn({ file: first.file, column: "outer" }, message);
  }
  for (const [date, rows] of groups(zones, ({ date = "" }) => date)) {
    const runs = new Set(rows.map(({ run }) => run));
    if (runs.size === 1) {
      const day = date === "" ? "" : ` on ${date}`;
      const message =
        `one run only${day}: how far readings scatter is assumed, not known; read at least three runs`;
      findings.warn({ file: first.file, ...lineOf(rows) }, message);
    }
    for (const [, same] of groups(rows, ({ run, inner, outer }) => `${run} ${inner} ${outer}`)) {
      const [, twin] = same;
      if (twin === undefined) continue;
      const message = `run ${
        JSON.stringify(twin.run)
      } has this opening twice: give each run its own name`;
      findings.warn({ file: twin.file, line: twin.line, column: "run" }, message);
    }
  }
}

function lineOf(rows: readonly Row[]): { line?: number } {
  const [first] = rows;
  return first === undefined ? {} : { line: first.line };
}

/** Clocks and calendars that run backwards down a table. */
function backwards(record: Readings, findings: Findings): void {
  const tables: readonly (readonly Row[])[] = [
    record.grinding,
    record.sagitta,
    record.spherometer,
    record.sun,
    record.zones,
    record.ronchi,
  ];
  for (const rows of tables) {
    let before: Row | undefined;
    for (const row of rows) {
      const place = { file: row.file, line: row.line };
      if (before?.date !== undefined && row.date !== undefined && row.date < before.date) {
        findings.warn(
          { ...place, column: "date" },
          `${row.date} stands below ${before.date}: is the year or month right?`,
        );
      }
      if (
        row.afterMin !== undefined && before?.afterMin !== undefined &&
        row.afterMin < before.afterMin
      ) {
        const message =
          `${row.afterMin} min stands below ${before.afterMin} min: grinding cannot be undone`;
        findings.warn({ ...place, column: "after_min" }, message);
      }
      before = row;
    }
  }
}

/** A reading far from others of the same thing: five times their scatter, never less than the floor allows. */
function farReadings(record: Readings, findings: Findings): void {
  const { gauges } = record.settings;
  const when = ({ date = "", afterMin }: Row): string => `${date} ${afterMin ?? ""}`;
  const far = <T extends Row>(
    rows: readonly T[],
    same: (row: T) => string,
    value: (row: T) => number | undefined,
    floor: number,
    column: string,
  ): void => {
    for (const [, group] of groups(rows, same)) tellFar(group, value, floor, column, findings);
  };
  const dialFloor = 3 * gauges.dialStep;
  far(
    record.spherometer,
    (row) => `${row.surface} ${when(row)}`,
    ({ dial }) => dial,
    dialFloor,
    "dial",
  );
  far(record.sun, when, ({ distance }) => distance, 3 * gauges.rulerStep, "distance");
  far(record.sun, when, ({ image }) => image, 0.2 * gauges.rulerStep, "image");
  const opening = (
    { date = "", inner, outer }: { date?: string; inner: number; outer: number },
  ): string => `${date} ${inner} ${outer}`;
  far(record.zones, opening, ({ reading }) => reading, 0.06, "reading");
  far(record.sagitta.filter(({ chord }) => chord === undefined), when, depthOf, 0.012, "go");
}

/** The depth a row of sagitta.csv stands for, mm: the middle of its bracket, or the gauge's reading. */
function depthOf({ go, nogo, depth }: Readings["sagitta"][number]): number | undefined {
  if (go === undefined || nogo === undefined) return depth;
  const sum = (leaves: readonly number[]): number =>
    leaves.reduce((total, leaf) => total + leaf, 0);
  return (sum(go) + sum(nogo)) / 2;
}

function tellFar<T extends Row>(
  rows: readonly T[],
  value: (row: T) => number | undefined,
  floor: number,
  column: string,
  findings: Findings,
): void {
  const read = rows.flatMap((row) => {
    const number = value(row);
    return number === undefined ? [] : [{ row, number }];
  });
  if (read.length < 4) return;
  const middle = median(read.map(({ number }) => number));
  const scatter = 1.4826 * median(read.map(({ number }) => Math.abs(number - middle)));
  for (const { row, number } of read) {
    if (Math.abs(number - middle) <= 5 * Math.max(scatter, floor)) continue;
    const message = `${mm(number)} is far from the others, which lie about ${
      mm(middle)
    }: read it again`;
    findings.warn({ file: row.file, line: row.line, column }, message);
  }
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((x, y) => x - y);
  const half = sorted.length / 2;
  return ((sorted[Math.ceil(half) - 1] ?? NaN) + (sorted[Math.floor(half)] ?? NaN)) / 2;
}

/** What a ratio between two radii of one curve gives away. */
const RATIOS: readonly { readonly ratio: number; readonly meant: string }[] = [
  { ratio: 25.4, meant: "inches where mm are meant, or the other way round" },
  { ratio: 1 / 25.4, meant: "inches where mm are meant, or the other way round" },
  { ratio: 4, meant: "a diameter where a radius is meant, or the other way round" },
  { ratio: 1 / 4, meant: "a diameter where a radius is meant, or the other way round" },
  {
    ratio: 2,
    meant: "a radius of curvature where a focal length is meant, or the other way round",
  },
  {
    ratio: 1 / 2,
    meant: "a radius of curvature where a focal length is meant, or the other way round",
  },
];

/** Lays the latest readings of the three gauges side by side: they look at one curve. */
function mixedUnits(record: Readings, findings: Findings): void {
  const radii = [...curveRadii(record)];
  for (const [index, one] of radii.entries()) {
    for (const other of radii.slice(index + 1)) {
      const ratio = one.radius / other.radius;
      const named = RATIOS.find((row) => Math.abs(Math.log(ratio / row.ratio)) < Math.log(1.12));
      if (named === undefined) continue;
      const message =
        `radius about ${mm(Math.round(one.radius))} by ${one.file}, ${
          mm(Math.round(other.radius))
        } ` +
        `by ${other.file}: ${named.meant}?`;
      findings.warn({ file: one.file }, message);
    }
  }
}

function* curveRadii(record: Readings): Generator<{ file: string; radius: number }> {
  const { aperture, bevel, gauges } = record.settings;
  const bowl = (half: number, depth: number): number => (half * half + depth * depth) / (2 * depth);
  const leaves = latest(record.sagitta).flatMap((row) => {
    const depth = depthOf(row);
    return depth === undefined || depth <= 0
      ? []
      : [bowl((row.chord ?? aperture - 2 * bevel) / 2, depth)];
  });
  if (leaves.length > 0) yield { file: "sagitta.csv", radius: median(leaves) };
  const legs = gauges.spherometer;
  const dials = latest(record.spherometer);
  const dial = (surface: string): number =>
    median(dials.filter((row) => row.surface === surface).map((row) => row.dial));
  const height = Math.abs(dial("mirror") - dial("flat"));
  if (legs !== undefined && height > 0) {
    yield { file: "spherometer.csv", radius: bowl(legs.legRadius, height) + legs.ballRadius };
  }
  const distances = latest(record.sun).flatMap(({ distance }) => distance ?? []);
  if (distances.length > 0) yield { file: "sun.csv", radius: 2 * median(distances) };
}

/** Rows of the latest minute, or of the latest day where minutes are not given. */
function latest<T extends Row>(rows: readonly T[]): readonly T[] {
  const minutes = rows.flatMap(({ afterMin }) => afterMin ?? []);
  if (minutes.length > 0) {
    const last = Math.max(...minutes);
    return rows.filter(({ afterMin }) => afterMin === last);
  }
  const last = rows.flatMap(({ date }) => date ?? []).sort().at(-1);
  return last === undefined ? rows : rows.filter(({ date }) => date === last);
}

function groups<T>(rows: readonly T[], key: (row: T) => string): Map<string, T[]> {
  return Map.groupBy(rows, key);
}

const RULES: readonly Rule[] = [
  design,
  spherometerWithoutLegs,
  chords,
  openings,
  backwards,
  farReadings,
  mixedUnits,
];
