/** Feeler leaves under a straight-edge: a stack that passes, the next that does not, and the radius between them. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import { carrySagitta, radiusFromSagitta } from "../../optics/sphere.ts";
import { type Misconception, misconception } from "../../quantity/misconceptions.ts";
import { sumOf } from "../../quantity/distributions.ts";
import { rectangular } from "../../quantity/typeB.ts";
import { type ChordDepth, depthsTogether, requireHollow } from "../depthsUnderChord.ts";
import { type Component, type Estimate, estimate, fileOf, placeOf } from "../estimate.ts";
import { type Bench, chordOf, type Handling, STRAIGHT_EDGE_REST } from "../gauges.ts";
import {
  bevelOf,
  meanChord,
  meanOf,
  onBevel,
  pieces,
  radiusUnder,
  restOf,
  scatterOf,
  take,
  within,
} from "./draws.ts";
import type { CurveMethod, MethodDoubts, MethodDraws, MethodRow, PageLine } from "./method.ts";
import { apartFromDepths } from "./misread.ts";
import { checkStack, thicknessOf } from "../stacks.ts";
import { jamOfTiltedLeaf, leafWidthCorrection } from "../straightEdge.ts";

/** A row of go and no-go; a record's sagitta row fits, rows without both are passed over. */
export interface LeafRow extends MethodRow {
  /** leaves that passed together, mm each */
  readonly go?: readonly number[];
  /** leaves of the next stack, which did not, mm each */
  readonly nogo?: readonly number[];
  /** where the straight-edge rested, mm; default the aperture less both bevels */
  readonly chord?: number;
}

/** What a go and a no-go stack say about the gap, mm. */
export interface Bracket {
  /** most likely gap, between go and no-go */
  readonly middle: number;
  /** no-go less go */
  readonly width: number;
  /** standard uncertainty of the middle: anywhere between the two is equally likely */
  readonly u: number;
}

/** Oil or air between two wiped leaves, half-width in mm. COMMON PRACTICE */
const USUAL_FILM = 0.001;

/** Nobody sells a thicker leaf: a stack written as one number above this was made of several. COMMON PRACTICE */
const THICKEST_LEAF = 1;

/**
 * The gap lies between the stack that passes and the one that does not.
 *
 *     s = (go + no-go) / 2          u = (no-go - go) / 2 sqrt 3
 *
 * @param go    leaves that pass, mm each, no leaf twice; 0 where not even the thinnest passes
 * @param nogo  leaves that do not, mm each, no leaf twice; together thicker than go
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(bracket([0.88, 0.25], [0.85, 0.3]).middle, 1.14);
 * ```
 */
export function bracket(go: readonly number[], nogo: readonly number[]): Bracket {
  const low = isNone(go) ? 0 : thicknessOf(go);
  const high = thicknessOf(nogo);
  if (!(low < high)) {
    throw new RangeError(
      `bracket requires a no-go thicker than its go, got go=${low}, no-go=${high} mm`,
    );
  }
  const width = Number((high - low).toFixed(9));
  return { middle: Number(((low + high) / 2).toFixed(9)), width, u: rectangular(width / 2) };
}

/**
 * Depth under a straight-edge from one bracket: the middle, and what a leaf of some width misses.
 *
 * The correction w^2 / 8R needs the radius, which needs the depth; the two are settled together.
 *
 * @param middle  of the bracket, mm; above 0
 * @param chord   where the straight-edge rests, mm
 * @param width   of the leaf along the straight-edge, mm; 0 or more
 * @returns mm
 * @throws {RangeError} when the depth is not above 0 or more than half the chord
 * @throws {CannotTell} when so wide a leaf does not reach into so deep a hollow
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(depthFromLeaves(1.14, 148, 12.7).toFixed(4), "1.1485");
 * ```
 */
export function depthFromLeaves(middle: number, chord: number, width: number): number {
  let depth = middle;
  for (let turn = 0; turn < 20; turn++) {
    const next = middle + leafWidthCorrection(width, radiusFromSagitta(depth, chord));
    if (Math.abs(next - depth) < 1e-15) break;
    if (next > chord / 2) {
      throw new CannotTell(
        `a leaf ${Number(width.toPrecision(4))} mm wide does not reach into a hollow of ${
          Number(middle.toPrecision(4))
        } mm under a chord of ${Number(chord.toPrecision(4))} mm: look at the three numbers`,
      );
    }
    depth = next;
  }
  return depth;
}

/**
 * The radius by feeler leaves.
 *
 * Each bracket gives a depth; the depths are carried to the full aperture by the sphere and averaged. What is one
 * error for all brackets is counted once, however many there are: the leaves' own thickness (the same set each
 * time, go and no-go taken as one stack, which is the cautious side), the film between them, and the place where the
 * straight-edge rests.
 *
 * @param rows      sagitta rows; those without go and no-go are passed over
 * @param bench     aperture, bevel, leaf width and tolerance, chordU, mm
 * @param handling  largest believable mishandling; default the usual film and nothing else
 * @returns the estimate, or `undefined` when no row has a bracket
 * @throws {RangeError} for a leaf twice in a stack, a no-go not thicker than its go, a chord wider than the disc
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const gauges = { leaves: { width: 12.7, tolerance: 0.005 }, dialStep: 0.001, depthGaugeStep: 0.01, rulerStep: 1, chordU: 0.15 };
 * const bench = { aperture: 150, bevel: 1, focalLength: 1200, gauges };
 * assert.equal(leaves([{ go: [0.88, 0.25], nogo: [0.85, 0.3] }], bench)?.radius.value.toFixed(0), "2385");
 * ```
 */
export function leaves(
  rows: readonly LeafRow[],
  bench: Bench,
  handling: Handling = {},
): Estimate | undefined {
  const depths = leafDepths(rows, bench);
  if (depths.length === 0) return undefined;
  const together = depthsTogether(
    depths,
    bench.aperture,
    bench.gauges.chordU,
    depths.length === 1 ? "leaf bracket" : "leaf brackets",
    { bevelWithin: (bench.unknownBevel ?? 0) / 2 },
  );
  const stack = Math.sqrt(meanOf(depths.map(({ count }) => count)));
  const tolerance = together.perDepth * stack * rectangular(bench.gauges.leaves.tolerance);
  const series = together.atFullAperture;
  return estimate({
    method: "leaves",
    radius: together.radius,
    components: [
      ...together.components,
      { source: "leaf thickness", u: tolerance, dof: Infinity },
      ...handlingComponents(handling, depths, bench, together.perDepth),
    ],
    readings: series.count,
    setAside: series.setAside,
    doubted: series.doubted,
    assumed: series.count === 1
      ? ["one bracket only: how much a second would differ is not known"]
      : [],
    file: fileOf(rows),
  });
}

/** A bracket's depth, and how many leaves stood in its stacks. */
export interface LeafDepth extends ChordDepth {
  /** mean of the go and the no-go stack */
  readonly count: number;
}

/**
 * The depth each bracket says, what a leaf of the set's width misses already added.
 *
 * @param rows   those without go and no-go are passed over
 * @param bench  aperture, bevel, leaf width, mm
 * @throws {RangeError} as `leaves`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const gauges = { leaves: { width: 12.7, tolerance: 0.005 }, dialStep: 0.001, depthGaugeStep: 0.01, rulerStep: 1, chordU: 0.15 };
 * const bench = { aperture: 150, bevel: 1, focalLength: 1200, gauges };
 * const [depth] = leafDepths([{ go: [0.88, 0.25], nogo: [0.85, 0.3] }], bench);
 * assert.equal(`${depth?.depth.toFixed(4)} ${depth?.count}`, "1.1485 2");
 * ```
 */
export function leafDepths(rows: readonly LeafRow[], bench: Bench): readonly LeafDepth[] {
  return rows.flatMap((row) => depthOfRow(row, bench));
}

function depthOfRow(row: LeafRow, bench: Bench): readonly LeafDepth[] {
  if (row.go === undefined || row.nogo === undefined) return [];
  const { middle, width } = bracket(row.go, row.nogo);
  const chord = chordOf(bench, row.chord);
  requireHollow({ ...row, depth: middle, chord, step: width, asRead: middle }, bench.aperture);
  const depth = depthFromLeaves(middle, chord, bench.gauges.leaves.width);
  const count = (leavesIn(row.go) + leavesIn(row.nogo)) / 2;
  const restWritten = row.chord !== undefined;
  return [{ ...placeOf(row), depth, chord, restWritten, step: width, asRead: middle, count }];
}

/** Mishandling as components: each effect equally likely anywhere up to its largest. */
function handlingComponents(
  handling: Handling,
  depths: readonly LeafDepth[],
  bench: Bench,
  perDepth: number,
): readonly Component[] {
  const gaps = Math.sqrt(Math.max(0, meanOf(depths.map(({ count }) => count)) - 1));
  const { film, ...others } = handlingSizes(handling, depths, bench);
  const effects: readonly (readonly [string, number])[] = [
    ["film between the leaves", gaps * film],
    ["straight-edge beside the centre", others.offset],
    ["leaf tilted", others.tilt],
    ["straight-edge sagging", others.sag],
  ];
  return effects.map(([source, size]) => ({
    source,
    u: -perDepth * rectangular(Math.abs(size)),
    dof: Infinity,
  }));
}

/** What each mishandling does to the depth at most, mm, to either side; the film for each gap between two leaves. */
function handlingSizes(
  { offset = 0, tilt = 0, sag = 0, film = USUAL_FILM }: Handling,
  depths: readonly ChordDepth[],
  bench: Bench,
): Required<Handling> {
  const depth = meanOf(depths.map((row) => row.depth));
  const half = meanOf(depths.map(({ chord }) => chord)) / 2;
  return {
    film,
    offset: (depth * offset ** 2) / half ** 2,
    tilt: jamOfTiltedLeaf(depth, bench.gauges.leaves.width, tilt) - depth,
    sag,
  };
}

/** A go of 0 means that not even the thinnest leaf passes: no leaf stood there. */
function isNone(stack: readonly number[]): boolean {
  return stack.length === 1 && stack[0] === 0;
}

function leavesIn(stack: readonly number[]): number {
  if (isNone(stack)) return 0;
  checkStack(stack);
  const written = stack.length;
  return written > 1 ? written : Math.max(1, Math.ceil((stack[0] ?? 0) / THICKEST_LEAF - 1e-9));
}

/** What is drawn for the leaves, and the radius of each draw. */
function leafDraws(
  rows: readonly LeafRow[],
  bench: Bench,
  { handling = {} }: MethodDoubts,
): MethodDraws {
  const depths = leafDepths(rows, bench), { tolerance } = bench.gauges.leaves;
  const together = depthsTogether(depths, bench.aperture, bench.gauges.chordU, "leaf brackets");
  const { film, offset, tilt, sag } = handlingSizes(handling, depths, bench);
  const count = meanOf(depths.map((depth) => depth.count));
  const rim = bench.aperture / 2, chord = meanChord(depths) / 2;
  return {
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
      const mishandled = take(x, "mishandling"), narrower = onBevel(x, depths);
      for (let i = 0; i < out.length; i++) {
        const more = (thickness[i] ?? NaN) + (between[i] ?? NaN) + (mishandled[i] ?? NaN);
        const farther = (rest[i] ?? NaN) + narrower(i);
        const radius = radiusUnder(rim, full[i] ?? NaN, chord, farther, more);
        out[i] = (out[i] ?? NaN) + weight * radius;
      }
    },
  };
}

/** What a depth under a straight-edge is taken for. A depth is small where the radius is long: hence its power -1. */
export const DEPTH_MISCONCEPTIONS: readonly Misconception[] = [
  misconception("diameter for radius", 2, "the whole width was used where half of it belongs"),
  misconception("radius for diameter", 2, "half the width was used where the whole belongs"),
  misconception(
    "R for f",
    1,
    "the curve was made with R where f belongs, or the plan holds half the focal length",
  ),
  misconception(
    "f for R",
    1,
    "the curve was made with f where R belongs, or focal_length holds R",
  ),
  misconception("inch for mm", -1, "inches were read as mm"),
  misconception("mm for inch", -1, "mm were read as inches"),
  misconception(
    "thou for hundredths of a mm",
    -1,
    "thousandths of an inch were read as hundredths of a mm",
  ),
  misconception(
    "hundredths of a mm for thou",
    -1,
    "hundredths of a mm were read as thousandths of an inch",
  ),
  misconception(
    "decimal point",
    -1,
    "a depth ten times too small was typed, or cm were read as mm",
    { written: "too small" },
  ),
  misconception(
    "decimal point",
    -1,
    "a depth ten times too large was typed, or mm were read as cm",
    { written: "too large" },
  ),
];

/** A bracket as its two sums say, for a look at whether it goes with the others. */
function roughMiddle({ go = [], nogo = [] }: LeafRow): number {
  const sum = (leaves: readonly number[]): number =>
    leaves.reduce((total, leaf) => total + leaf, 0);
  return (sum(go) + sum(nogo)) / 2;
}

function pageLine(row: LeafRow, bench: Bench): PageLine {
  const gap = bracket(row.go ?? [], row.nogo ?? []), chord = chordOf(bench, row.chord);
  const depth = depthFromLeaves(gap.middle, chord, bench.gauges.leaves.width);
  const stack = (leaves: readonly number[] = []): string =>
    leaves.map((leaf) => leaf.toFixed(2)).join("+");
  const full = carrySagitta(depth, chord, bench.aperture).toFixed(3);
  return {
    cells: [row.afterMin, stack(row.go), stack(row.nogo), [full, gap.u.toFixed(3)]],
    row,
  };
}

/** Feeler leaves under a straight-edge. */
export const byLeaves: CurveMethod<"leaves", "sagitta", LeafRow> = {
  name: "leaves",
  title: "Leaves",
  by: "by leaves",
  table: "sagitta",
  reads: ({ go }) => go !== undefined,
  reduce: (rows, bench, { handling } = {}) => leaves(rows, bench, handling),
  draws: leafDraws,
  misconceptions: DEPTH_MISCONCEPTIONS,
  misread: (rows, _, bench) =>
    apartFromDepths(byLeaves, rows.map((row) => ({ row, depth: roughMiddle(row) })), bench),
  restsOnRim: true,
  page: {
    name: "leaves",
    usual: true,
    latestOnly: true,
    heading: "Leaves under the straight-edge",
    columns: ({ aperture }) => [
      { title: "Ground for", unit: "min" },
      { title: "Passes", unit: "mm" },
      { title: "Does not", unit: "mm" },
      { title: `Sagitta at ${aperture} mm`, unit: "mm" },
    ],
    lines: (rows, bench) => rows.map((row) => pageLine(row, bench)),
    note: "The leaf’s width and the bevel are taken into account.",
    how:
      "Lay the straight-edge across the middle, on its narrow side. Slide leaves in flat until a stack no longer passes; " +
      "write the last that passed and the first that did not into sagitta.csv. Six times, on different diameters.",
  },
  series: {
    name: "leaves",
    title: "Sagitta at the full aperture (mm)",
    digits: 3,
    readings: (rows, bench) =>
      rows.map((row) => {
        const gap = bracket(row.go ?? [], row.nogo ?? []), chord = chordOf(bench, row.chord);
        const depth = depthFromLeaves(gap.middle, chord, bench.gauges.leaves.width);
        const value = carrySagitta(depth, chord, bench.aperture);
        return { ...placeOf(row), value, step: gap.width };
      }),
    how: "Lay the straight-edge on six different diameters, and bracket the gap on each anew.",
  },
};
