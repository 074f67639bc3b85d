/** What the readings make of each kind and size of hidden wiggle: its share of belief, and the glass it then implies. */
import {
  addScaled,
  backward,
  dot,
  forward,
  lowerTriangle,
  type Matrix,
  product,
  scaled,
  transpose,
} from "../numeric/smallMatrix.ts";
import { fewestColumns } from "./fewestColumns.ts";
import { type Candidate, columnsOf, Places } from "./zoneGlass.ts";
import { type Kind, kindsOfWiggle } from "./zoneKinds.ts";
import type { ZoneModel } from "./zoneModel.ts";

/** Zone means, nm of wavefront, with their variances. */
export interface Means {
  readonly y: Float64Array;
  readonly variance: Float64Array;
}

/** One kind and size: how likely, and what follows from it. */
export interface Belief {
  readonly share: number;
  /** of the grid's places, and last the conic */
  readonly middle: Float64Array;
  /** what one unit normal each adds */
  readonly columns: readonly Float64Array[];
  /** middle and variance at the profile's radii */
  readonly profile: Float64Array;
  readonly profileVariance: Float64Array;
}

/** Shares below this are left out. */
export const LEAST_SHARE = 1e-3;

/**
 * All beliefs worth holding.
 *
 * The line (focus and conic) is free; a candidate's share is its prior times how likely it makes the readings, the line
 * integrated out, and its glass is the best linear guess from the readings with what that leaves open (Rasmussen and
 * Williams, Gaussian Processes, 2.7, from memory).
 *
 * @param model  from `zoneModel`
 * @param means  of the zones
 * @returns shares sum to 1
 */
export function beliefs(model: ZoneModel, means: Means): Belief[] {
  const line = transpose(model.seen.map((row) => row.subarray(0, 2)));
  const candidates = kindsOfWiggle(model).flatMap((kind) => weigh(model, kind, line, means));
  const best = candidates.reduce((most, c) => Math.max(most, c.logWeight), -Infinity);
  const weights = candidates.map((c) => Math.exp(c.logWeight - best));
  const least = LEAST_SHARE * weights.reduce((a, b) => a + b, 0);
  const kept = candidates.filter((_, i) => (weights[i] as number) > least);
  const all = kept.reduce((sum, c) => sum + Math.exp(c.logWeight - best), 0);
  const grid = new Places([...model.wavefront, model.conic]), profile = new Places(model.profile);
  return kept.map((c) => settle(c, Math.exp(c.logWeight - best) / all, grid, profile));
}

function weigh(
  { seen: rows }: ZoneModel,
  kind: Kind,
  line: Matrix,
  { y, variance }: Means,
): Candidate[] {
  const seen = transpose(columnsOf(rows, kind)), overlap = product(seen, transpose(seen));
  return kind.sizes.map((size) => {
    const spread = overlap.map((row, i) => {
      const out = scaled(row, size * size);
      out[i] = (out[i] as number) + (variance[i] as number);
      return out;
    });
    const lower = lowerTriangle(spread), t = size / kind.usual;
    const [a, b] = line.map((column) => forward(lower, column)) as [Float64Array, Float64Array];
    const level = forward(lower, y);
    const root = lowerTriangle([
      Float64Array.of(dot(a, a), 0),
      Float64Array.of(dot(a, b), dot(b, b)),
    ]);
    const middle = backward(root, forward(root, Float64Array.of(dot(a, level), dot(b, level))));
    addScaled(level, a, -(middle[0] as number));
    addScaled(level, b, -(middle[1] as number));
    const logSize = logDiagonal(lower) + logDiagonal(root);
    return {
      kind,
      size,
      lower,
      line: [a, b],
      root,
      middle,
      rest: level,
      logWeight: Math.log(kind.share * t) - t - logSize - dot(level, level) / 2,
      seen,
    };
  });
}

function logDiagonal(m: Matrix): number {
  let sum = 0;
  for (let i = 0; i < m.length; i++) sum += Math.log((m[i] as Float64Array)[i] as number);
  return sum;
}

function settle(c: Candidate, share: number, grid: Places, profile: Places): Belief {
  const wave = grid.glass(c), drawn = profile.glass(c);
  return {
    share,
    middle: wave.middle,
    columns: fewestColumns(wave.variances, wave.covariances, wave.middle.length - 1),
    profile: drawn.middle,
    profileVariance: drawn.variances,
  };
}
