/** Each way of measuring the curve as something to draw from: what may be off, and the radius that follows. */
import {
  type Distribution,
  normalAbout,
  rectangularBetween,
  studentAbout,
  sumOf,
} from "../quantity/distributions.ts";
import { depthGauge, type DepthRow, gaugeDepths, gaugeTogether } from "./depthGauge.ts";
import { type ChordDepth, depthsTogether } from "./depthsUnderChord.ts";
import type { Estimate } from "./estimate.ts";
import { type Bench, RULER, STRAIGHT_EDGE_REST } from "./gauges.ts";
import { type Handling, handlingSizes, leafDepths, type LeafRow, leaves } from "./leaves.ts";
import type { Repeated } from "./repeated.ts";
import { type DialRow, dialSeries, spherometer } from "./spherometer.ts";
import { sunDistance, type SunRow, sunSettings } from "./sun.ts";

/** All readings of one curve; a method without rows takes no part. */
export interface CurveReadings {
  /** rows with go and no-go */
  readonly leaves?: readonly LeafRow[];
  readonly handling?: Handling;
  /** rows with a depth */
  readonly depthGauge?: readonly DepthRow[];
  readonly spherometer?: readonly DialRow[];
  /** rows with a distance; the image's width is only a check and takes no part */
  readonly sun?: readonly SunRow[];
  /** how far the ruler may be off over the Sun's distance, standard uncertainty, mm; default 0 */
  readonly rulerU?: number;
}

/** A draw of every input, mm, by its name in the budget. */
export type Draw = Readonly<Record<string, number>>;

/** One method: its estimate, what is drawn for it, and the radius that follows, mm. */
export interface SimulatedMethod {
  readonly estimate: Estimate;
  readonly inputs: Readonly<Record<string, Distribution>>;
  readonly radius: (x: Draw) => number;
}

/**
 * The methods that have readings. An input that two of them name is one error for both.
 *
 * @param readings  rows as the methods take them
 * @param bench     aperture, bevel, gauges, mm
 * @throws {RangeError} as the methods do
 * @example each method's radius at the middle of its inputs is its estimate
 * ```ts
 * import assert from "node:assert/strict";
 * const gauges = { leaves: { width: 12.7, tolerance: 0.005 }, dialStep: 0.001, depthGaugeStep: 0.01, rulerStep: 1, chordU: 0.15 };
 * const bench = { aperture: 150, bevel: 1, focalLength: 1200, gauges };
 * const [method] = simulatedMethods({ depthGauge: [{ depth: 1.14 }, { depth: 1.15 }] }, bench);
 * const middle = Object.fromEntries(Object.entries(method?.inputs ?? {}).map(([name, { mean }]) => [name, mean]));
 * assert.equal(method?.radius(middle).toFixed(6), method?.estimate.radius.value.toFixed(6));
 * ```
 */
export function simulatedMethods(
  readings: CurveReadings,
  bench: Bench,
): readonly SimulatedMethod[] {
  return [byLeaves, byDepthGauge, bySpherometer, bySun]
    .map((by) => by(readings, bench)).filter((one) => one !== undefined);
}

function byLeaves(
  { leaves: rows = [], handling = {} }: CurveReadings,
  bench: Bench,
): SimulatedMethod | undefined {
  const estimate = leaves(rows, bench, handling);
  if (estimate === undefined) return undefined;
  const depths = leafDepths(rows, bench), { tolerance } = bench.gauges.leaves;
  const together = depthsTogether(depths, bench.aperture, bench.gauges.chordU, "leaf brackets");
  const { film, offset, tilt, sag } = handlingSizes(handling, depths, bench);
  const count = meanOf(depths.map((depth) => depth.count));
  const radius = radiusUnder(bench, depths);
  return {
    estimate,
    inputs: {
      "leaf brackets": scatterOf(together.atFullAperture),
      ...restOf(bench),
      "leaf thickness": pieces(tolerance, count),
      "film between the leaves": pieces(film, count - 1),
      "mishandling": sumOf([offset, tilt, sag].filter((size) => size !== 0).concat(0).map(within)),
    },
    radius: (x) =>
      radius(
        x["leaf brackets"] ?? NaN,
        (x["leaf thickness"] ?? NaN) + (x["film between the leaves"] ?? NaN) +
          (x["mishandling"] ?? NaN),
        x[STRAIGHT_EDGE_REST] ?? NaN,
      ),
  };
}

function byDepthGauge(
  { depthGauge: rows = [] }: CurveReadings,
  bench: Bench,
): SimulatedMethod | undefined {
  const estimate = depthGauge(rows, bench);
  if (estimate === undefined) return undefined;
  const depths = gaugeDepths(rows, bench), together = gaugeTogether(depths, bench);
  const radius = radiusUnder(bench, depths);
  return {
    estimate,
    inputs: {
      "depth gauge readings": scatterOf(together.atFullAperture),
      ...restOf(bench),
      "depth gauge dial": within(bench.gauges.depthGaugeStep / 2),
    },
    radius: (x) =>
      radius(
        x["depth gauge readings"] ?? NaN,
        x["depth gauge dial"] ?? NaN,
        x[STRAIGHT_EDGE_REST] ?? NaN,
      ),
  };
}

/**
 * Radius from a depth at the full aperture, carried to the mean chord by the sphere, what is added to the depth there,
 * and what is added to half that chord, all mm.
 */
function radiusUnder(
  { aperture }: Bench,
  depths: readonly ChordDepth[],
): (full: number, more: number, farther: number) => number {
  const rim = aperture / 2, chord = meanOf(depths.map((depth) => depth.chord)) / 2;
  return (full, more, farther) => {
    const whole = (rim * rim + full * full) / (2 * full);
    const depth = chord * chord / (whole + Math.sqrt((whole - chord) * (whole + chord))) + more;
    const half = chord + farther;
    return (half * half + depth * depth) / (2 * depth);
  };
}

function bySpherometer(
  { spherometer: rows = [] }: CurveReadings,
  bench: Bench,
): SimulatedMethod | undefined {
  const estimate = spherometer(rows, bench), tool = bench.gauges.spherometer;
  if (estimate === undefined || tool === undefined) return undefined;
  const flat = dialSeries(rows, "flat", bench), mirror = dialSeries(rows, "mirror", bench);
  const side = Math.sign(mirror.mean - flat.mean);
  return {
    estimate,
    inputs: {
      "leg circle": about(tool.legRadius, tool.legRadiusU),
      "ball feet": about(tool.ballRadius, tool.ballRadiusU),
      "spherometer dial": pieces(bench.gauges.dialStep / 2, 2),
      "readings on the flat": scatterOf(flat),
      "readings on the mirror": scatterOf(mirror),
    },
    radius: (x) => {
      const circle = x["leg circle"] ?? NaN;
      const seen = (x["readings on the mirror"] ?? NaN) - (x["readings on the flat"] ?? NaN);
      const height = side * seen + (x["spherometer dial"] ?? NaN);
      return (circle * circle + height * height) / (2 * height) + (x["ball feet"] ?? NaN);
    },
  };
}

function bySun(
  { sun: rows = [], rulerU = 0 }: CurveReadings,
  bench: Bench,
): SimulatedMethod | undefined {
  const estimate = sunDistance(rows, bench, rulerU), series = sunSettings(rows, bench);
  if (estimate === undefined || series === undefined) return undefined;
  return {
    estimate,
    inputs: { "settings of the Sun's image": scatterOf(series), [RULER]: about(0, rulerU) },
    radius: (x) => 2 * ((x["settings of the Sun's image"] ?? NaN) + (x[RULER] ?? NaN)),
  };
}

/** Where the straight-edge rests: farther out than written, the same for all that rest there. */
function restOf(bench: Bench): Readonly<Record<string, Distribution>> {
  return { [STRAIGHT_EDGE_REST]: about(0, bench.gauges.chordU) };
}

/**
 * The mean of a series: Student's t by its scatter; where the step alone is known, anywhere within it for readings all
 * alike, and the bell curve for the mean of several roundings.
 */
function scatterOf({ mean, u, dof, hidden }: Repeated): Distribution {
  if (dof !== Infinity) return studentAbout(mean, u, dof);
  const half = Math.sqrt(3) * u;
  return hidden ? rectangularBetween(mean - half, mean + half) : about(mean, u);
}

/** The bell curve, or the value itself where nothing is in doubt. */
function about(mean: number, u: number): Distribution {
  return u > 0 ? normalAbout(mean, u) : rectangularBetween(mean, mean);
}

/** An error equally likely anywhere up to a size, to either side. */
function within(size: number): Distribution {
  return rectangularBetween(-Math.abs(size), Math.abs(size));
}

/** The sum of `count` errors, each anywhere up to a size; a count between two whole ones widens each a little. */
function pieces(size: number, count: number): Distribution {
  const whole = Math.max(1, Math.round(count));
  const each = within(size * Math.sqrt(Math.max(0, count) / whole));
  return sumOf(Array.from({ length: whole }, () => each));
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
