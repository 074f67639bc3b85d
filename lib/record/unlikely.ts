/** What is unlikely but possible in a record: told beside the number, never a reason to stop. */
import type { Findings } from "./errors.ts";
import { farReadings } from "./farReadings.ts";
import { mixedUnits } from "./mixedUnits.ts";
import { groups, latest, mm, type Readings } from "./readings.ts";
import type { Place, Row, ZoneRow } from "./types.ts";
import { inOrderRead } from "./zoneRows.ts";

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
  const tables: readonly (readonly Row[])[] = [
    record.grinding,
    record.sagitta,
    record.spherometer,
    record.sun,
    record.zones,
    record.ronchi,
    record.diary,
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
  for (const rows of [record.sagitta, record.spherometer, record.sun]) {
    const late = rows.find(({ afterMin = 0 }) => afterMin > ground + 0.5);
    if (late?.afterMin === undefined) continue;
    const message = `${late.afterMin} min, but the log in grinding.csv adds up to ${
      Number(ground.toPrecision(6))
    } min: is a stretch missing there?`;
    findings.warn({ file: late.file, line: late.line, column: "after_min" }, message);
  }
}

const RULES: readonly Rule[] = [
  design,
  spherometerWithoutLegs,
  chords,
  openings,
  backwards,
  beyondTheLog,
  farReadings,
  mixedUnits,
];
