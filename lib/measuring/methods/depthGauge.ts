/** A depth gauge: a bar across the disc and a probe in its middle, read on a dial. */
import { resolution } from "../../quantity/typeB.ts";
import { type ChordDepth, type DepthsTogether, depthsTogether } from "../depthsUnderChord.ts";
import { type Estimate, estimate, fileOf } from "../estimate.ts";
import { type Bench, chordOf, STRAIGHT_EDGE_REST } from "../gauges.ts";
import {
  bevelOf,
  meanChord,
  onBevel,
  radiusUnder,
  restOf,
  scatterOf,
  take,
  within,
} from "./draws.ts";
import { DEPTH_MISCONCEPTIONS } from "./leaves.ts";
import type { CurveMethod, MethodDraws, MethodRow } from "./method.ts";
import { apartFromDepths } from "./misread.ts";

/** A row with a depth; a record's sagitta row fits, rows without one are passed over. */
export interface DepthRow extends MethodRow {
  /** below the bar, the reading on flat glass already taken off, mm */
  readonly depth?: number;
  /** where the bar rested, mm; default the aperture less both bevels */
  readonly chord?: number;
}

/**
 * The radius by a depth gauge.
 *
 * The dial's own error at that place is the same at every reading and is counted once, beside the scatter: as much as
 * its step leaves open. Where the bar rests is shared with the leaves: both rest on the same bevel.
 *
 * @param rows   sagitta rows; those without a depth are passed over
 * @param bench  aperture, bevel, depthGaugeStep, chordU, mm
 * @returns the estimate, or `undefined` when no row has a depth
 * @throws {RangeError} for a depth not above 0, a chord wider than the disc
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const gauges = { leaves: { width: 12.7, tolerance: 0.005 }, dialStep: 0.001, depthGaugeStep: 0.01, rulerStep: 1, chordU: 0.15 };
 * const bench = { aperture: 150, bevel: 1, focalLength: 1200, gauges };
 * assert.equal(depthGauge([{ depth: 1.14 }, { depth: 1.15 }], bench)?.radius.value.toFixed(0), "2392");
 * ```
 */
export function depthGauge(rows: readonly DepthRow[], bench: Bench): Estimate | undefined {
  const depths = gaugeDepths(rows, bench), step = bench.gauges.depthGaugeStep;
  if (depths.length === 0) return undefined;
  const together = gaugeTogether(depths, bench);
  const series = together.atFullAperture;
  return estimate({
    method: "depth gauge",
    radius: together.radius,
    components: [
      ...together.components,
      { source: "depth gauge dial", u: together.perDepth * resolution(step), dof: Infinity },
    ],
    readings: series.count,
    setAside: series.setAside,
    doubted: series.doubted,
    assumed: series.count === 1
      ? ["one depth only: one step of the gauge is assumed as the spread of a reading"]
      : [],
    file: fileOf(rows),
  });
}

/** The rows that have a depth, each with its chord, mm. */
function gaugeDepths(rows: readonly DepthRow[], bench: Bench): readonly ChordDepth[] {
  const step = bench.gauges.depthGaugeStep;
  return rows.flatMap((row) =>
    row.depth === undefined ? [] : [{
      ...row,
      depth: row.depth,
      chord: chordOf(bench, row.chord),
      restWritten: row.chord !== undefined,
      step,
      asRead: row.depth,
    }]
  );
}

/** Those depths as one radius, the dial's own error left to be counted once beside their scatter. */
function gaugeTogether(
  depths: readonly ChordDepth[],
  { aperture, gauges, unknownBevel = 0 }: Bench,
): DepthsTogether {
  return depthsTogether(depths, aperture, gauges.chordU, "depth gauge readings", {
    single: gauges.depthGaugeStep,
    stepApart: true,
    bevelWithin: unknownBevel / 2,
  });
}

/** What is drawn for the depth gauge, and the radius of each draw. */
function depthGaugeDraws(rows: readonly DepthRow[], bench: Bench): MethodDraws {
  const depths = gaugeDepths(rows, bench), together = gaugeTogether(depths, bench);
  const rim = bench.aperture / 2, chord = meanChord(depths) / 2;
  return {
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

/** A bar across the disc with a dial in its middle. */
export const byDepthGauge: CurveMethod<"depth gauge", "sagitta", DepthRow> = {
  name: "depth gauge",
  title: "Depth gauge",
  by: "by depth gauge",
  table: "sagitta",
  reads: ({ depth }) => depth !== undefined,
  reduce: depthGauge,
  draws: depthGaugeDraws,
  misconceptions: DEPTH_MISCONCEPTIONS,
  misread: (rows, _, bench) =>
    apartFromDepths(byDepthGauge, rows.map((row) => ({ row, depth: row.depth })), bench),
  restsOnRim: true,
};
