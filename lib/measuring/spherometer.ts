/** Dial readings of a spherometer, one series on flat glass and one on the mirror, made into a radius. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { resolution } from "../quantity/typeB.ts";
import { repeats } from "./depthsUnderChord.ts";
import { type Component, type Estimate, estimate, fileOf, type Placed } from "./estimate.ts";
import type { Bench, Spherometer } from "./gauges.ts";
import { type Repeated, repeated } from "./repeated.ts";
import { type Feet, spherometerRadius, spherometerSensitivity } from "./spherometerFeet.ts";

/** A dial reading; a record's spherometer row fits. */
export interface DialRow extends Placed {
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
    const [deep, legs] = [height, legRadius].map((mm) => Number(mm.toPrecision(4)));
    throw new CannotTell(
      `between flat glass and mirror the dial moved by ${deep} mm, more than the feet stand apart ` +
        `(leg_radius ${legs} mm): look at the digits and at the header's unit`,
    );
  }
}

/** The readings on one surface put together; the dial's step is left to be counted once for each place. */
export function dialSeries(
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
