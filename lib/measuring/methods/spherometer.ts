/** Dial readings of a spherometer, one series on flat glass and one on the mirror, made into a radius. */
import { groupBy } from "../../numeric/groupBy.ts";
import { CannotTell } from "../../numeric/cannotTell.ts";
import { median } from "../../numeric/quantiles.ts";
import { mm } from "../../quantity/format.ts";
import { resolution } from "../../quantity/typeB.ts";
import { repeats } from "../depthsUnderChord.ts";
import { type Component, type Estimate, estimate, fileOf, placeOf } from "../estimate.ts";
import type { Bench, Spherometer } from "../gauges.ts";
import { type Repeated, repeated } from "../repeated.ts";
import { about, pieces, scatterOf, take } from "./draws.ts";
import { DEPTH_MISCONCEPTIONS } from "./leaves.ts";
import type { CurveMethod, MethodChange, MethodDraws, MethodRow, Misread } from "./method.ts";
import { type Feet, spherometerRadius, spherometerSensitivity } from "../spherometerFeet.ts";

/** A dial reading; a record's spherometer row fits. */
export interface DialRow extends MethodRow {
  /** what it stood on: the flat gives the zero */
  readonly surface: "flat" | "mirror";
  /** mm */
  readonly dial: number;
}

/**
 * The radius by a spherometer with ball feet.
 *
 * Scatter on the flat and on the mirror is averaged; the dial's own error at each of its two places is not, since every
 * reading falls on the same part of its scale: it stays, as much as the step leaves open, for each place.
 *
 * @param rows   dial readings on flat glass and on the mirror
 * @param bench  with `gauges.spherometer` and `gauges.dialStep`, mm
 * @returns the estimate, or `undefined` when there are no rows
 * @throws {CannotTell} when one of the two surfaces has no reading, both read alike, or the instrument is not described
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const gauges = {
 *   leaves: { width: 12.7, tolerance: 0.005 }, dialStep: 0.001, depthGaugeStep: 0.01, rulerStep: 1, chordU: 0.15,
 *   spherometer: { legRadius: 50, ballRadius: 3, legRadiusU: 0.05, ballRadiusU: 0.01 },
 * };
 * const rows = [{ surface: "flat", dial: 5.001 }, { surface: "mirror", dial: 5.522 }] as const;
 * const bench = { aperture: 150, bevel: 1, focalLength: 1200, gauges };
 * assert.equal(spherometer(rows, bench)?.radius.value.toFixed(1), "2402.5");
 * ```
 */
export function spherometer(rows: readonly DialRow[], bench: Bench): Estimate | undefined {
  if (rows.length === 0) return undefined;
  const tool = bench.gauges.spherometer;
  if (tool === undefined) {
    throw new CannotTell(
      "mirror.yaml has no gauges.spherometer with leg_radius and ball_radius",
    );
  }
  const step = bench.gauges.dialStep;
  const flat = dialSeries(rows, "flat", bench);
  const mirror = dialSeries(rows, "mirror", bench);
  const height = Math.abs(mirror.mean - flat.mean);
  const feet: Feet = { kind: "balls", legRadius: tool.legRadius, ballRadius: tool.ballRadius };
  requireHollow(height, tool.legRadius);
  const { perHeight } = spherometerSensitivity(feet, height);
  return estimate({
    method: "spherometer",
    radius: spherometerRadius(feet, height),
    components: [
      ...instrumentComponents(tool, feet, height, step),
      { source: "readings on the flat", u: -perHeight * flat.u, dof: flat.dof, ...repeats(flat) },
      {
        source: "readings on the mirror",
        u: perHeight * mirror.u,
        dof: mirror.dof,
        ...repeats(mirror),
      },
    ],
    readings: flat.count + mirror.count,
    setAside: [...flat.setAside, ...mirror.setAside],
    doubted: [...flat.doubted, ...mirror.doubted],
    assumed: [flat, mirror].some(({ count }) => count === 1)
      ? ["a surface was read once only: one dial step is assumed as the spread of a reading"]
      : [],
    file: fileOf(rows),
  });
}

function requireHollow(height: number, legRadius: number): void {
  if (height === 0) {
    throw new CannotTell(
      "the dial reads alike on flat glass and on the mirror, as if both were flat",
    );
  }
  if (height > legRadius) {
    const [deep, legs] = [height, legRadius].map((size) => Number(size.toPrecision(4)));
    throw new CannotTell(
      `between flat glass and mirror the dial moved by ${deep} mm, more than the feet stand apart ` +
        `(leg_radius ${legs} mm): look at the digits and at the header's unit`,
    );
  }
}

/** The readings on one surface put together; the dial's step is left to be counted once for each place. */
function dialSeries(
  rows: readonly DialRow[],
  surface: DialRow["surface"],
  bench: Bench,
): Repeated {
  const step = bench.gauges.dialStep;
  const readings = rows.filter((row) => row.surface === surface);
  if (readings.length === 0) {
    const have = `${rows.length} on the ${surface === "flat" ? "mirror" : "flat"}`;
    const where = surface === "flat" ? "flat glass" : "the mirror";
    throw new CannotTell(`the dial was not read on ${where}: there is only ${have}`);
  }
  // The step is counted with the dial, once for each place: here only the scatter is wanted.
  const placed = readings.map((row) => ({ ...row, value: row.dial, step }));
  return repeated(placed, { single: step, stepApart: true });
}

function instrumentComponents(
  tool: Spherometer,
  feet: Feet,
  height: number,
  step: number,
): readonly Component[] {
  const { perLegRadius, perHeight, perBall } = spherometerSensitivity(feet, height);
  const dial = Math.SQRT2 * resolution(step);
  return [
    { source: "leg circle", u: perLegRadius * tool.legRadiusU, dof: Infinity },
    { source: "ball feet", u: perBall * tool.ballRadiusU, dof: Infinity },
    { source: "spherometer dial", u: perHeight * dial, dof: Infinity },
  ];
}

/** What is drawn for the spherometer, and the radius of each draw. */
function spherometerDraws(rows: readonly DialRow[], bench: Bench): MethodDraws {
  const tool = bench.gauges.spherometer;
  if (tool === undefined) throw new RangeError("spherometerDraws requires gauges.spherometer");
  const flat = dialSeries(rows, "flat", bench), mirror = dialSeries(rows, "mirror", bench);
  const side = Math.sign(mirror.mean - flat.mean);
  return {
    inputs: {
      "leg circle": about(tool.legRadius, tool.legRadiusU),
      "ball feet": about(tool.ballRadius, tool.ballRadiusU),
      "spherometer dial": pieces(bench.gauges.dialStep / 2, 2),
      "readings on the flat": scatterOf(flat),
      "readings on the mirror": scatterOf(mirror),
    },
    addRadius: (x, weight, out) => {
      const legs = take(x, "leg circle"), ball = take(x, "ball feet");
      const dials = take(x, "spherometer dial");
      const onFlat = take(x, "readings on the flat"), onMirror = take(x, "readings on the mirror");
      for (let i = 0; i < out.length; i++) {
        const height = side * ((onMirror[i] ?? NaN) - (onFlat[i] ?? NaN)) + (dials[i] ?? NaN);
        const circle = legs[i] ?? NaN;
        const radius = (circle * circle + height * height) / (2 * height) + (ball[i] ?? NaN);
        out[i] = (out[i] ?? NaN) + weight * radius;
      }
    },
  };
}

/** A session's rows with the flat that was read last before it, or else first after it, where it has none of its own. */
function withFlat(session: readonly DialRow[], all: readonly DialRow[]): readonly DialRow[] {
  const of = (rows: readonly DialRow[], surface: DialRow["surface"]): readonly DialRow[] =>
    rows.filter((row) => row.surface === surface);
  if (of(session, "flat").length > 0 || of(session, "mirror").length === 0) return session;
  const when = session[0]?.afterMin ?? Infinity, flats = of(all, "flat");
  const sessions = [
    ...groupBy(flats, ({ date = "", afterMin }) => `${date} ${afterMin ?? ""}`).values(),
  ]
    .map((rows) => ({ rows, at: rows[0]?.afterMin ?? 0 })).toSorted((a, b) => a.at - b.at);
  const chosen = sessions.findLast(({ at }) => at <= when) ?? sessions[0];
  return [...chosen?.rows ?? [], ...session];
}

/** The middle of the dial's readings on one surface; NaN where there is none. */
function middleOf(rows: readonly DialRow[], of: DialRow["surface"]): number {
  const dials = rows.filter(({ surface }) => surface === of).map(({ dial }) => dial);
  return dials.length === 0 ? NaN : median(dials);
}

/** A dial row that lies among those of the other surface: written with the wrong word. */
function swappedDial(rows: readonly DialRow[], step: number): Misread | undefined {
  const flat = middleOf(rows, "flat"), mirror = middleOf(rows, "mirror");
  const row = rows.find(({ surface, dial }) => {
    const [own, other] = surface === "flat" ? [flat, mirror] : [mirror, flat];
    return Math.abs(dial - own) > 20 * step && Math.abs(dial - other) < 0.5 * Math.abs(dial - own);
  });
  return row && {
    row,
    message: `${mm(row.dial)} on ${
      row.surface === "flat" ? "flat glass" : "the mirror"
    } lies among the readings of the other surface: are flat and mirror swapped? The spherometer is not used until this is mended`,
  };
}

/** Two sessions of one spherometer with opposite signs: in one of them flat and mirror are swapped. */
function turnedDial(rows: readonly DialRow[], step: number): Misread | undefined {
  let before: number | undefined;
  for (
    const session of groupBy(rows, ({ date = "", afterMin }) => `${date} ${afterMin ?? ""}`)
      .values()
  ) {
    const height = middleOf(session, "mirror") - middleOf(session, "flat"), [row] = session;
    if (!(Math.abs(height) > 20 * step) || row === undefined) continue;
    if (before !== undefined && before * height < 0) {
      return {
        row,
        message:
          "here the dial goes the other way from flat glass to mirror than in the session above: in one of the two, flat " +
          "and mirror are swapped. The spherometer is not used until this is mended",
      };
    }
    before = height;
  }
  return undefined;
}

/** On a leg circle wider by k the height grows by k^2: what it brings to the radius falls by k^2, what the circle brings by k. */
function onWiderLegs(wider: number): MethodChange {
  const factorOf = (source: string): number =>
    source === "ball feet" ? 1 : source === "leg circle" ? wider : wider ** 2;
  return {
    what: `a leg circle ${wider} times as wide`,
    components: (of) => of.map((one) => ({ ...one, u: one.u / factorOf(one.source) })),
  };
}

/** Three ball feet and a dial. */
export const bySpherometer: CurveMethod<"spherometer", "spherometer", DialRow> = {
  name: "spherometer",
  title: "Spherometer",
  by: "by spherometer",
  table: "spherometer",
  reads: () => true,
  isDescribed: ({ gauges }) => gauges.spherometer !== undefined,
  reduce: spherometer,
  complete: withFlat,
  draws: spherometerDraws,
  misconceptions: DEPTH_MISCONCEPTIONS,
  misread: (rows, all, { gauges: { dialStep } }) =>
    swappedDial(rows, dialStep) ?? turnedDial(all, dialStep),
  changes: (wider) => [onWiderLegs(wider)],
  page: {
    name: "spherometer",
    usual: true,
    latestOnly: false,
    heading: "Spherometer",
    columns: () => [{ title: "Surface", text: true }, { title: "Dial, mm", text: true }],
    lines: (rows) => {
      const dials = (of: DialRow["surface"]): string =>
        rows.filter(({ surface }) => surface === of).map(({ dial }) => dial.toFixed(4)).join(", ");
      return [{ cells: ["flat glass", dials("flat")] }, { cells: ["mirror", dials("mirror")] }];
    },
    how:
      "Set it on flat glass and read the dial, set it on the mirror and read again, five times each. " +
      "Write both into spherometer.csv.",
  },
  series: {
    name: "spherometer",
    title: "Dial on the mirror (mm)",
    digits: 3,
    readings: (rows, { gauges }) =>
      rows.filter(({ surface }) => surface === "mirror").map((row) => ({
        ...placeOf(row),
        value: row.dial,
        step: gauges.dialStep,
      })),
    how:
      "Lift it off, turn it, set it down again: five times on the flat, five times on the mirror.",
  },
};
