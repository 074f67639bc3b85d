/** What the methods draw from: means of readings, sizes within which an error lies, what two methods share. */
import {
  type Distribution,
  exactly,
  normalAbout,
  rectangularBetween,
  studentAbout,
  sumOf,
} from "../../quantity/distributions.ts";
import type { ChordDepth } from "../depthsUnderChord.ts";
import { type Bench, BEVEL_NOT_WRITTEN, STRAIGHT_EDGE_REST } from "../gauges.ts";
import type { Repeated } from "../repeated.ts";
import type { Draws } from "./method.ts";

/** The draws of one input. */
export function take(x: Draws, name: string): Float64Array {
  const column = x[name];
  if (column === undefined) throw new RangeError(`addRadius requires draws of ${name}, got none`);
  return column;
}

/** Where the straight-edge rests: farther out than written, the same for all that rest there. */
export function restOf(bench: Bench): Readonly<Record<string, Distribution>> {
  return { [STRAIGHT_EDGE_REST]: about(0, bench.gauges.chordU) };
}

/** An unwritten bevel, the same for all that rest on the rim; nothing where it is known. */
export function bevelOf({ unknownBevel }: Bench): Readonly<Record<string, Distribution>> {
  return unknownBevel === undefined ? {} : { [BEVEL_NOT_WRITTEN]: within(unknownBevel / 2) };
}

/** What an unwritten bevel does to half the chord, draw by draw, where the rows do not say where the straight-edge rested. */
export function onBevel(x: Draws, depths: readonly ChordDepth[]): (i: number) => number {
  const share = depths.filter(({ restWritten = false }) => !restWritten).length / depths.length;
  const column = x[BEVEL_NOT_WRITTEN];
  return column === undefined ? () => 0 : (i) => share * (column[i] ?? NaN);
}

/**
 * The mean of a series: Student's t by its scatter; where the step alone is known, anywhere within it for readings all
 * alike, and the bell curve for the mean of several roundings.
 */
export function scatterOf({ mean, u, dof, hidden }: Repeated): Distribution {
  if (dof !== Infinity) return studentAbout(mean, u, dof);
  const half = Math.sqrt(3) * u;
  return hidden ? rectangularBetween(mean - half, mean + half) : about(mean, u);
}

/** The bell curve, or the value itself where nothing is in doubt. */
export function about(mean: number, u: number): Distribution {
  return u > 0 ? normalAbout(mean, u) : exactly(mean);
}

/** An error equally likely anywhere up to a size, to either side. */
export function within(size: number): Distribution {
  return size === 0 ? exactly(0) : rectangularBetween(-Math.abs(size), Math.abs(size));
}

/** The sum of `count` errors, each anywhere up to a size; a count between two whole ones widens each a little. */
export function pieces(size: number, count: number): Distribution {
  const whole = Math.max(1, Math.round(count));
  const each = within(size * Math.sqrt(Math.max(0, count) / whole));
  return sumOf(Array.from({ length: whole }, () => each));
}

/** The mean chord of some depths, mm. */
export function meanChord(depths: readonly ChordDepth[]): number {
  return meanOf(depths.map(({ chord }) => chord));
}

/** The mean of one value or more. */
export function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
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
export function radiusUnder(
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
