/** Each way of measuring the curve as something to draw from: what may be off, and the radius that follows. */
import {
  type Distribution,
  exactly,
  normalAbout,
  rectangularBetween,
  studentAbout,
  sumOf,
} from "../quantity/distributions.ts";
import { depthGauge, type DepthRow, gaugeDepths, gaugeTogether } from "./depthGauge.ts";
import { type ChordDepth, depthsTogether } from "./depthsUnderChord.ts";
import type { Estimate } from "./estimate.ts";
import { type Bench, BEVEL_NOT_WRITTEN, RULER, STRAIGHT_EDGE_REST } from "./gauges.ts";
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

/** Draws of every input, mm, by its name in the budget. */
export type Draws = Readonly<Record<string, Float64Array>>;

/** One method: its estimate, what is drawn for it, and the radius that follows, mm. */
export interface SimulatedMethod {
  readonly estimate: Estimate;
  readonly inputs: Readonly<Record<string, Distribution>>;
  /** adds weight times the radius of each draw to `out` */
  readonly addRadius: (x: Draws, weight: number, out: Float64Array) => void;
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
 * const middle = Object.entries(method?.inputs ?? {}).map(([name, { mean }]) => [name, Float64Array.of(mean)]);
 * const out = new Float64Array(1);
 * method?.addRadius(Object.fromEntries(middle), 1, out);
 * assert.equal(out[0]?.toFixed(6), method?.estimate.radius.value.toFixed(6));
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
  const rim = bench.aperture / 2, chord = meanChord(depths) / 2;
  return {
    estimate,
    inputs: {
      "leaf brackets": scatterOf(together.atFullAperture),
      ...restOf(bench),
      "leaf thickness": pieces(tolerance, count),
      "film between the leaves": pieces(film, count - 1),
      ...bevelOf(bench),
      "mishandling": sumOf([offset, tilt, sag].filter((size) => size !== 0).concat(0).map(within)),
    },
    addRadius: (x, weight, out) => {
      const full = take(x, "leaf brackets"), rest = take(x, STRAIGHT_EDGE_REST);
      const thickness = take(x, "leaf thickness"), between = take(x, "film between the leaves");
      const slips = take(x, "mishandling"), narrower = onBevel(x, depths);
      for (let i = 0; i < out.length; i++) {
        const more = (thickness[i] ?? NaN) + (between[i] ?? NaN) + (slips[i] ?? NaN);
        const radius = radiusUnder(
          rim,
          full[i] ?? NaN,
          chord,
          (rest[i] ?? NaN) + narrower(i),
          more,
        );
        out[i] = (out[i] ?? NaN) + weight * radius;
      }
    },
  };
}

function byDepthGauge(
  { depthGauge: rows = [] }: CurveReadings,
  bench: Bench,
): SimulatedMethod | undefined {
  const estimate = depthGauge(rows, bench);
  if (estimate === undefined) return undefined;
  const depths = gaugeDepths(rows, bench), together = gaugeTogether(depths, bench);
  const rim = bench.aperture / 2, chord = meanChord(depths) / 2;
  return {
    estimate,
    inputs: {
      "depth gauge readings": scatterOf(together.atFullAperture),
      ...restOf(bench),
      ...bevelOf(bench),
      "depth gauge dial": within(bench.gauges.depthGaugeStep / 2),
    },
    addRadius: (x, weight, out) => {
      const full = take(x, "depth gauge readings"), rest = take(x, STRAIGHT_EDGE_REST);
      const dial = take(x, "depth gauge dial"), narrower = onBevel(x, depths);
      for (let i = 0; i < out.length; i++) {
        const farther = (rest[i] ?? NaN) + narrower(i);
        const radius = radiusUnder(rim, full[i] ?? NaN, chord, farther, dial[i] ?? NaN);
        out[i] = (out[i] ?? NaN) + weight * radius;
      }
    },
  };
}

/**
 * Radius from a depth at the full aperture, carried to a chord by the sphere, mm.
 *
 * @param rim      half the aperture
 * @param full     depth at the full aperture
 * @param chord    half the chord as written
 * @param farther  what half the chord is more than that
 * @param more     what the depth there is more than it seemed
 */
function radiusUnder(
  rim: number,
  full: number,
  chord: number,
  farther: number,
  more: number,
): number {
  const whole = (rim * rim + full * full) / (2 * full);
  const depth = chord * chord / (whole + Math.sqrt((whole - chord) * (whole + chord))) + more;
  const half = chord + farther;
  return (half * half + depth * depth) / (2 * depth);
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

function bySun(
  { sun: rows = [], rulerU = 0 }: CurveReadings,
  bench: Bench,
): SimulatedMethod | undefined {
  const estimate = sunDistance(rows, bench, rulerU), series = sunSettings(rows, bench);
  if (estimate === undefined || series === undefined) return undefined;
  return {
    estimate,
    inputs: { "settings of the Sun's image": scatterOf(series), [RULER]: about(0, rulerU) },
    addRadius: (x, weight, out) => {
      const setting = take(x, "settings of the Sun's image"), ruler = take(x, RULER);
      for (let i = 0; i < out.length; i++) {
        out[i] = (out[i] ?? NaN) + 2 * weight * ((setting[i] ?? NaN) + (ruler[i] ?? NaN));
      }
    },
  };
}

function take(x: Draws, name: string): Float64Array {
  const column = x[name];
  if (column === undefined) throw new RangeError(`addRadius requires draws of ${name}, got none`);
  return column;
}

/** Where the straight-edge rests: farther out than written, the same for all that rest there. */
function restOf(bench: Bench): Readonly<Record<string, Distribution>> {
  return { [STRAIGHT_EDGE_REST]: about(0, bench.gauges.chordU) };
}

/** An unwritten bevel, the same for all that rest on the rim; nothing where it is known. */
function bevelOf({ unknownBevel }: Bench): Readonly<Record<string, Distribution>> {
  return unknownBevel === undefined ? {} : { [BEVEL_NOT_WRITTEN]: within(unknownBevel / 2) };
}

/** What an unwritten bevel does to half the chord, draw by draw, where the rows do not say where the straight-edge rested. */
function onBevel(x: Draws, depths: readonly ChordDepth[]): (i: number) => number {
  const share = depths.filter(({ restWritten = false }) => !restWritten).length / depths.length;
  const column = x[BEVEL_NOT_WRITTEN];
  return column === undefined ? () => 0 : (i) => share * (column[i] ?? NaN);
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
  return u > 0 ? normalAbout(mean, u) : exactly(mean);
}

/** An error equally likely anywhere up to a size, to either side. */
function within(size: number): Distribution {
  return size === 0 ? exactly(0) : rectangularBetween(-Math.abs(size), Math.abs(size));
}

/** The sum of `count` errors, each anywhere up to a size; a count between two whole ones widens each a little. */
function pieces(size: number, count: number): Distribution {
  const whole = Math.max(1, Math.round(count));
  const each = within(size * Math.sqrt(Math.max(0, count) / whole));
  return sumOf(Array.from({ length: whole }, () => each));
}

function meanChord(depths: readonly ChordDepth[]): number {
  return meanOf(depths.map(({ chord }) => chord));
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
