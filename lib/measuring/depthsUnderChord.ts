/** Depths measured under a straight-edge, on one chord or several, put together as one radius. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { carrySagitta, radiusFromSagitta, radiusSensitivity } from "../optics/sphere.ts";
import type { Component, Placed } from "./estimate.ts";
import { rectangular } from "../quantity/typeB.ts";
import { BEVEL_NOT_WRITTEN, STRAIGHT_EDGE_REST } from "./gauges.ts";
import { type Repeated, repeated, type RepeatedOptions } from "./repeated.ts";

/** One depth below one chord, mm. */
export interface ChordDepth extends Placed {
  readonly depth: number;
  readonly chord: number;
  /** width within which the gauge could not tell, mm */
  readonly step: number;
  /** true where the row says where the straight-edge rested; then no bevel's width comes in */
  readonly restWritten?: boolean;
  /** what the maker read, mm, to be shown when the reading is doubted */
  readonly asRead: number;
}

/** The depths as one radius, and how the radius answers to each kind of error. */
export interface DepthsTogether {
  /** mm */
  readonly radius: number;
  /** the depths carried to the full aperture and averaged, mm */
  readonly atFullAperture: Repeated;
  /** change of the radius for 1 mm of depth on every chord at once; negative */
  readonly perDepth: number;
  /** from scatter and step, and from the chord's half-width */
  readonly components: readonly Component[];
}

/**
 * Carries each depth to the full aperture by the sphere, averages there, and turns the average into a radius.
 *
 * Scatter and step belong to each reading; the place where the straight-edge rests is one error for all of them.
 *
 * @param depths    at least one
 * @param aperture  the disc's diameter, mm
 * @param chordU    standard uncertainty of half the chord, mm; the same error at every reading
 * @param source    what the scatter is called: "leaf brackets"
 * @param options   what to assume for a single depth; whether the step is counted here; half the range of an unwritten bevel, mm
 * @throws {CannotTell} for a depth not above 0, or deeper than half its chord, with its place
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const depths = [{ depth: 1.1484, chord: 148, step: 0.02, asRead: 1.14 }];
 * assert.equal(depthsTogether(depths, 150, 0.15, "leaf brackets").radius.toFixed(0), "2385");
 * ```
 */
export function depthsTogether(
  depths: readonly ChordDepth[],
  aperture: number,
  chordU: number,
  source: string,
  options: RepeatedOptions & { readonly bevelWithin?: number } = {},
): DepthsTogether {
  for (const row of depths) requireHollow(row, aperture);
  const carried = depths.map((row) => {
    const value = carrySagitta(row.depth, row.chord, aperture);
    return { ...row, value, step: row.step * (value / row.depth) };
  });
  const together = repeated(carried, options);
  const radius = radiusFromSagitta(together.mean, aperture);
  const perFullDepth = radiusSensitivity(together.mean, aperture).perDepth;
  const chord = depths.reduce((sum, row) => sum + row.chord, 0) / depths.length;
  const onBevel = depths.filter(({ restWritten = false }) => !restWritten).length / depths.length;
  const here = radiusSensitivity(carrySagitta(together.mean, aperture, chord), chord);
  return {
    radius,
    atFullAperture: together,
    perDepth: here.perDepth,
    components: [
      { source, u: perFullDepth * together.u, dof: together.dof, ...repeats(together) },
      {
        source: STRAIGHT_EDGE_REST,
        u: here.perHalfChord * chordU,
        dof: Infinity,
        shared: STRAIGHT_EDGE_REST,
      },
      {
        source: BEVEL_NOT_WRITTEN,
        u: here.perHalfChord * onBevel * rectangular(options.bevelWithin ?? 0),
        dof: Infinity,
        shared: BEVEL_NOT_WRITTEN,
      },
    ],
  };
}

/** Is this the depth of a hollow that a disc can have: above 0, and of a sphere no smaller than the disc? */
export function isHollow(depth: number, chord: number, aperture: number): boolean {
  return depth > 0 && depth <= chord / 2 &&
    radiusFromSagitta(depth, chord) * (1 - 1e-9) >= aperture / 2;
}

/** Says where a depth is one that no hollow of the disc has. */
export function requireHollow(row: ChordDepth, aperture: number): void {
  const { depth, chord, asRead, file, line } = row;
  if (isHollow(depth, chord, aperture)) return;
  const where = file === undefined || line === undefined ? "" : `${file}, line ${line}: `;
  const [read, wide] = [asRead, chord].map((mm) => Number(mm.toPrecision(6)));
  throw new CannotTell(
    depth > 0
      ? `${where}a depth of ${read} mm on a chord of ${wide} mm is a ball smaller than the disc: look at the ` +
        "digits and at the header's unit"
      : `${where}a depth of ${read} mm is no hollow: a gauge that shows 0 everywhere does not touch the glass, or its ` +
        "zero was not taken on flat glass",
  );
}

/** Reading again helps only where the step does not hide the scatter. */
export function repeats(series: Repeated): { readonly repeats?: number } {
  return series.hidden && series.count > 1 ? {} : { repeats: series.count };
}
