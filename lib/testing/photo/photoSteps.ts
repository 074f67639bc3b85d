/** Least squares by Marquardt's damped steps on normal equations that are added up pixel by pixel, never stored. */
import { solveTriangle, triangle } from "../../numeric/positive.ts";

/** What unknowns are likely to be before anything is looked at: middle and standard deviation of each. */
export interface Prior {
  readonly start: Float64Array;
  readonly spread: Float64Array;
}

/**
 * What the prior by itself adds to a fit: how far the unknowns lie from their middles, and, where slopes are wanted, its part of the
 * normal equations; arrays to be added to.
 */
export function fromPrior(
  { start, spread }: Prior,
  at: Float64Array,
  wantsSlopes: boolean,
): Normal {
  const size = start.length, right = new Float64Array(wantsSlopes ? size : 0);
  const square = new Float64Array(wantsSlopes ? size * size : 0);
  let cost = 0;
  for (let k = 0; k < size; k++) {
    const u = spread[k] as number, off = ((start[k] as number) - (at[k] as number)) / u;
    cost += off * off;
    if (!wantsSlopes) continue;
    right[k] = off / u;
    square[k * size + k] = 1 / (u * u);
  }
  return { cost, right, square };
}

/** Sum of squares at a place, with half its slopes and curvature where they are wanted. */
export interface Normal {
  readonly cost: number;
  /** J^T r */
  readonly right: Float64Array;
  /** J^T J, row after row */
  readonly square: Float64Array;
}

/** A step is the last that moves what is asked for by less, in standard deviations. */
const STILL = 0.05;

/**
 * Goes downhill from a start.
 *
 * @param start     unknowns to begin with
 * @param evaluate  sum of squares, and its slopes where `slopes` is true; Infinity where a state is impossible
 * @param free      which unknowns may move
 * @param most      steps at most
 * @param enough    what a step must lower the sum by, or promise to by its slopes, to be worth it: of squares in units of the noise, 1 is
 *   a standard deviation in one direction; default a twentieth
 * @param share     and so much of the sum more; default none
 * @param asked     how many of the first unknowns are asked for, the others only being in the way: a step that moves no mixture of them
 *   by a share `STILL` of its standard deviation is the last; default all are
 * @returns the lowest state found, its sum of squares, and the curvature there
 * @see Marquardt 1963, J. SIAM 11, 431 (beside scipy in tests/bench/peer_ronchi.py)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const well = (p: Float64Array) => ({
 *   cost: (p[0] as number - 3) ** 2, right: Float64Array.of(3 - (p[0] as number)), square: Float64Array.of(1),
 * });
 * assert.equal(descend(Float64Array.of(0), well, [0], 20, 1e-12).at[0]?.toFixed(4), "3.0000");
 * ```
 */
export function descend(
  start: Float64Array,
  evaluate: (at: Float64Array, slopes: boolean) => Normal,
  free: readonly number[],
  most: number,
  enough = 0.05,
  share = 0,
  asked = 0,
): { readonly at: Float64Array } & Pick<Normal, "cost" | "square"> {
  let at = start, here = evaluate(at, true), damping = 1e-3, isEasy = true;
  const size = start.length, order = free.toReversed();
  // what is only in the way lies along a bent valley: a bolder step that has just failed there mostly fails again
  const isBent = asked > 0;
  for (let step = 0; step < most; step++) {
    const least = enough + share * here.cost;
    let next: Float64Array | undefined, there = here, foreseen = 0, moved = Infinity;
    for (let tries = 0; tries < 8 && next === undefined; tries++) {
      const way = damped(here, order, size, damping);
      if (way !== undefined) {
        const { move } = way;
        foreseen = promised(here, order, move);
        if (here.cost < Infinity && foreseen < least) break;
        const trial = at.slice();
        order.forEach((i, a) => trial[i] = (trial[i] as number) + (move[a] as number));
        // where the last step's first try was taken, this one's mostly is too: its slopes are worked out at once
        there = evaluate(trial, tries === 0 && isEasy);
        if (there.cost < here.cost) next = trial;
        if (tries === 0) isEasy = next !== undefined;
        if (next !== undefined && asked > 0) moved = movedBy(way, asked);
      }
      if (next === undefined) damping *= tries === 0 && isBent ? 3 : 6;
    }
    if (next === undefined) break;
    const gain = here.cost - there.cost;
    // a step that gave what it promised may be followed by a bolder one, one that fell far short by none
    damping *= gain > 0.75 * foreseen
      ? (isEasy || !isBent ? 0.2 : 1)
      : gain > 0.25 * foreseen
      ? 1
      : 3;
    at = next;
    here = there.right.length === size ? there : evaluate(at, true);
    if (gain < least || moved < STILL) break;
  }
  return { at, cost: here.cost, square: here.square };
}

/** What a damped step lowers the sum of squares by, at the least, were slopes all: twice the slope along it, less its own curvature. */
function promised({ right }: Normal, free: readonly number[], move: Float64Array): number {
  return free.reduce((sum, i, a) => sum + (right[i] as number) * (move[a] as number), 0);
}

/** The step to the lowest place as far as slopes tell, every unknown held back by its share of damping. */
function damped(
  { square, right }: Normal,
  free: readonly number[],
  size: number,
  damping: number,
): { readonly move: Float64Array; readonly lower: Float64Array } | undefined {
  const count = free.length, part = new Float64Array(count * count);
  for (let a = 0; a < count; a++) {
    const row = (free[a] as number) * size;
    for (let b = 0; b < count; b++) {
      part[a * count + b] = square[row + (free[b] as number)] as number;
    }
    const own = part[a * count + a] as number;
    part[a * count + a] = own * (1 + damping) || 1;
  }
  const lower = triangle(part, count);
  return lower &&
    { lower, move: solveTriangle(lower, Float64Array.from(free, (i) => right[i] as number)) };
}

/** By how many standard deviations a step moves the last so many of its unknowns: of the mixture of them that it moves most. */
function movedBy(
  { move, lower }: { readonly move: Float64Array; readonly lower: Float64Array },
  last: number,
): number {
  // the triangle's last corner is that of these unknowns alone, whatever the others may do
  const count = move.length, from = count - last;
  let square = 0;
  for (let j = from; j < count; j++) {
    let sum = 0;
    for (let i = j; i < count; i++) sum += (lower[i * count + j] as number) * (move[i] as number);
    square += sum * sum;
  }
  return Math.sqrt(square);
}
