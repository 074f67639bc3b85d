/** What is unlikely but possible in a record: told beside the number, never a reason to stop. */
import { DEPTH_MISCONCEPTIONS } from "../measuring/methods/leaves.ts";
import { CURVE_TABLES } from "../measuring/methods/methods.ts";
import { MISCONCEPTIONS } from "../quantity/misconceptions.ts";
import { mm } from "../quantity/format.ts";
import { type Findings, type Place } from "./errors.ts";
import { depthOf, groups, inOrderRead, latest, median, type Readings } from "./readings.ts";
import { TABLES } from "./schema.ts";
import { abrasives } from "./tables.ts";
import type { Row, ZoneRow } from "./types.ts";

/** `keyLines`: the line of each key of mirror.yaml that was written. */
type Rule = (
  record: Readings,
  findings: Findings,
  keyLines: ReadonlyMap<string, number>,
) => void;

const MIRROR_YAML = "mirror.yaml";

/** Lays every rule against the record; each adds its own warnings. */
export function lookForUnlikely(
  record: Readings,
  keyLines: ReadonlyMap<string, number>,
  findings: Findings,
): void {
  for (const rule of RULES) rule(record, findings, keyLines);
}

function design(
  { settings }: Readings,
  findings: Findings,
  keyLines: ReadonlyMap<string, number>,
): void {
  const { aperture, focalLength, thickness, gauges } = settings;
  const ratio = focalLength / aperture;
  const place = (column: string): Place => ({
    file: MIRROR_YAML,
    ...lineAt(keyLines.get(column)),
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
  const widest = last.reduce((most, { outer }) => Math.max(most, outer), 0);
  const [first] = last;
  if (first === undefined) return;
  if (widest < 0.7 * edge) {
    const message = `the outermost opening ends at ${mm(widest)} of ${
      mm(edge)
    }: nothing is known of the rest`;
    findings.warn({ file: first.file, column: "outer" }, message);
  }
  const over = zones.find(({ outer }) => outer > edge - settings.bevel + 0.5);
  if (over !== undefined) {
    const message = `${mm(over.outer)} reaches over the bevel, where the face ends at ${
      mm(edge - settings.bevel)
    }`;
    findings.warn({ file: over.file, line: over.line, column: "outer" }, message);
  }
  for (const [date, rows] of groups(zones, ({ date = "" }) => date)) {
    const runs = new Set(rows.map(({ run }) => run));
    if (runs.size === 1) {
      const day = date === "" ? "" : ` on ${date}`;
      const message =
        `one run only${day}: how far readings scatter is assumed, not known; read at least three runs`;
      findings.warn({ file: first.file, ...lineAt(rows[0]?.line) }, message);
    }
    for (const [, ofRun] of groups(rows, passOf)) {
      const twin = unexpectedTwin(inOrderRead(ofRun));
      if (twin === undefined) continue;
      const message = `run ${
        JSON.stringify(twin.run)
      } has this opening twice: give each run its own name`;
      findings.warn({ file: twin.file, line: twin.line, column: "run" }, message);
    }
  }
}

/** One pass over the zones: the same name may stand for another run in another seat or with the knife turned. */
function passOf({ run, angleDeg = 0, knifeDeg = 0 }: ZoneRow): string {
  return `${angleDeg} ${knifeDeg} ${run}`;
}

/** An opening that stands twice in a run, unless it is the first one, read once more at the run's end. */
function unexpectedTwin(rows: readonly ZoneRow[]): ZoneRow | undefined {
  const same = (one: ZoneRow | undefined, other: ZoneRow): boolean =>
    one?.inner === other.inner && one.outer === other.outer;
  return rows.find((row, i) =>
    rows.slice(0, i).some((before) => same(before, row)) &&
    !(i > 1 && i === rows.length - 1 && same(rows[0], row))
  );
}

function lineAt(line: number | undefined): { line?: number } {
  return line === undefined ? {} : { line };
}

/** Clocks and calendars that run backwards down a table; of the log's clock `grindingSummary` tells, with what follows. */
function backwards(record: Readings, findings: Findings): void {
  const tables = TABLES.map((table): readonly Row[] => record[table]);
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
        rows !== record.grinding && row.afterMin !== undefined && before?.afterMin !== undefined &&
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

/** A reading after more minutes than were ground. */
function beyondTheLog(record: Readings, findings: Findings): void {
  const ground = record.grinding.reduce((sum, { minutes }) => sum + minutes, 0);
  if (ground === 0) return;
  for (const rows of CURVE_TABLES.map((table): readonly Row[] => record[table])) {
    const late = rows.find(({ afterMin = 0 }) => afterMin > ground + 0.5);
    if (late?.afterMin === undefined) continue;
    const message = `${late.afterMin} min, but the log in grinding.csv adds up to ${
      Number(ground.toPrecision(6))
    } min: is a stretch missing there?`;
    findings.warn({ file: late.file, line: late.line, column: "after_min" }, message);
  }
}

/** A stroke of polish by a plan that stands there twice on a day: kept, for it may have been done twice. Sessions of grinding are alike by the dozen. */
function strokeTwice({ grinding }: Readings, findings: Findings): void {
  const oxides = new Set(
    abrasives().filter(({ scale }) => scale === "polish").map(({ name }) => name),
  );
  const planned = grinding.filter(({ abrasive, side, length }) =>
    oxides.has(abrasive) && (side !== undefined || length !== undefined)
  );
  const words = (row: Readings["grinding"][number]): string =>
    JSON.stringify([row.date, row.abrasive, row.position, row.minutes, row.side, row.length]);
  for (const [, rows] of groups(planned, words)) {
    const [first, ...again] = rows;
    for (const { file, line } of first === undefined ? [] : again) {
      const message = `the same stroke as in line ${first?.line}${
        first?.date === undefined ? "" : `, on the same day`
      }: it is counted twice; take one out if it was done once`;
      findings.warn({ file, line }, message);
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
  far(record.lamp, when, ({ distance }) => distance, 10 * gauges.rulerStep, "distance");
  const opening = ({ date = "", angleDeg = 0, knifeDeg = 0, inner, outer }: ZoneRow): string =>
    `${date} ${angleDeg} ${knifeDeg} ${inner} ${outer}`;
  far(record.zones, opening, ({ reading }) => reading, 0.06, "reading");
  far(record.sagitta.filter(({ chord }) => chord === undefined), when, depthOf, 0.012, "go");
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

/** What a ratio between two radii of one curve gives away, either way round: as by a depth under a straight-edge. */
const RATIOS: readonly { readonly ratio: number; readonly meant: string }[] = ([
  "inch for mm",
  "mm for inch",
  "diameter for radius",
  "radius for diameter",
  "R for f",
  "f for R",
] as const).flatMap((name) =>
  DEPTH_MISCONCEPTIONS.filter((one) => one.name === name)
    .map(({ ratio }) => ({ ratio, meant: MISCONCEPTIONS[name].meant }))
);

/** Lays the latest readings of the gauges beside each other and beside the design: they look at one curve. */
function mixedUnits(record: Readings, findings: Findings): void {
  const radii = [...curveRadii(record)];
  for (const [index, one] of radii.entries()) {
    for (const other of radii.slice(index + 1)) {
      const meant = meantBy(one.radius / other.radius);
      if (meant === undefined) continue;
      const message = `radius about ${mm(Math.round(one.radius))} by ${one.file}, ` +
        `${mm(Math.round(other.radius))} by ${other.file}: ${meant}?`;
      findings.warn({ file: one.file }, message);
    }
    againstDesign(one, record, findings);
  }
}

/** A curve is shallower than wanted until it is done; far deeper, or 25 times shallower after an hour, it never is. */
function againstDesign(
  { file, radius }: { file: string; radius: number },
  { settings, grinding }: Readings,
  findings: Findings,
): void {
  const wanted = 2 * settings.focalLength;
  const ground = grinding.reduce((sum, { minutes }) => sum + minutes, 0);
  const meant = meantBy(radius / wanted);
  const unlikely = radius < wanted || (radius > 10 * wanted && ground >= 60);
  if (meant === undefined || !unlikely) return;
  const message =
    `radius about ${mm(Math.round(radius))}, while the focal length in mirror.yaml asks for ` +
    `${mm(Math.round(wanted))}: ${meant}?`;
  findings.warn({ file }, message);
}

function meantBy(ratio: number): string | undefined {
  return RATIOS.find((row) => Math.abs(Math.log(ratio / row.ratio)) < Math.log(1.12))?.meant;
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
  const lamps = latest(record.lamp).map(({ distance }) => distance);
  if (lamps.length > 0) yield { file: "lamp.csv", radius: median(lamps) };
}

const RULES: readonly Rule[] = [
  design,
  spherometerWithoutLegs,
  chords,
  openings,
  strokeTwice,
  backwards,
  beyondTheLog,
  farReadings,
  mixedUnits,
];
