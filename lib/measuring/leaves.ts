/** Feeler leaves under a straight-edge: a stack that passes, the next that does not, and the radius between them. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { radiusFromSagitta } from "../optics/sphere.ts";
import { rectangular } from "../quantity/typeB.ts";
import { type ChordDepth, depthsTogether, requireHollow } from "./depthsUnderChord.ts";
import { type Component, type Estimate, estimate, fileOf, type Placed } from "./estimate.ts";
import { type Bench, chordOf } from "./gauges.ts";
import { checkStack, thicknessOf } from "./stacks.ts";
import { jamOfTiltedLeaf, leafWidthCorrection } from "./straightEdge.ts";

/** A row of go and no-go; a record's sagitta row fits, rows without both are passed over. */
export interface LeafRow extends Placed {
  /** leaves that passed together, mm each */
  readonly go?: readonly number[];
  /** leaves of the next stack, which did not, mm each */
  readonly nogo?: readonly number[];
  /** where the straight-edge rested, mm; default the aperture less both bevels */
  readonly chord?: number;
}

/** How far wrong the handling may be, each the largest believable size; but for the film, what is absent was done right. */
export interface Handling {
  /** how far beside the centre the straight-edge may have passed, mm */
  readonly offset?: number;
  /** how much a leaf may have been tilted, rad */
  readonly tilt?: number;
  /** how much the straight-edge may sag, mm; `straightEdgeSag` knows */
  readonly sag?: number;
  /** oil or air between two leaves of a stack, mm to either side; default 0.001 (COMMON PRACTICE) */
  readonly film?: number;
}

/** What a go and a no-go stack say about the gap, mm. */
export interface Bracket {
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
 * How far off a stack's thickness may be: each leaf errs on its own, anywhere within its tolerance.
 *
 *     u = sqrt n  x  tolerance / sqrt 3
 *
 * @param leaves     of the stack, mm each; one number above 1 mm counts as the several leaves it must have been
 * @param tolerance  half-width printed on the set, mm; 0 or more
 * @throws {RangeError} as `checkStack`, or for a tolerance below 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(stackU([1, 0.1], 0.005).toFixed(5), "0.00408");
 * ```
 */
export function stackU(leaves: readonly number[], tolerance: number): number {
  return Math.sqrt(leavesIn(leaves)) * rectangular(tolerance);
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
  const { file, line } = row;
  const place = {
    ...(file === undefined ? {} : { file }),
    ...(line === undefined ? {} : { line }),
  };
  const restWritten = row.chord !== undefined;
  return [{ ...place, depth, chord, restWritten, step: width, asRead: middle, count }];
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
export function handlingSizes(
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

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
