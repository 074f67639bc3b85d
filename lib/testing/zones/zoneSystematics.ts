/** What bends all runs alike, so that reading again does not cure it: drift, the screw's scale, the eye in a window. */
import { type Matrix, matrix } from "../../numeric/smallMatrix.ts";
import { knifePosition } from "../../optics/crossing.ts";
import { effectiveRadius, type Opening } from "./openings.ts";
import type { Tester } from "./zoneModel.ts";
import type { PooledRuns } from "./zoneRuns.ts";

/** One cause and its covariance of the departures, mm^2. */
export interface Cause {
  readonly source: string;
  readonly covariance: Matrix;
}

/** Relative standard uncertainty of the knife's scale (COMMON PRACTICE: a screw of cheap steel, a ruled slide). */
export const SCALE_U = 0.003;
/**
 * What an eye takes for even grey in a wide window: somewhere from the window's mean radius to the root of its mean
 * square (0), in shares of the way from one to the other, and beside that in shares of what the window spans.
 *
 * @see knife-edge by wave optics through four windows of a perfect 200 mm f/6 mirror, an optical engineer's message of
 * March 2005 on a public mailing list: the first window is read 0.13 of the way off, the rms over all four is 3 % of the span
 */
const TOWARD_MEAN = 0.35;
const OF_SPAN = 0.04;

/**
 * All causes that the departures of the zones carry.
 *
 * @param pooled  from `poolRuns`
 * @param tester  the bench
 * @returns the scatter first; each with what it adds, independent of the others
 */
export function causesOf(pooled: PooledRuns, tester: Tester): Cause[] {
  const { zones, drift } = pooled, n = zones.length;
  const middle = zones.reduce((sum, { mean }) => sum + mean, 0) / n;
  const scale = zones.map(({ mean }) => SCALE_U * (mean - middle));
  const eye = zones.map((zone) => TOWARD_MEAN * towardMean(zone, tester));
  const own = zones.map((zone) => OF_SPAN * spanOf(zone, tester));
  const rankOne = (v: ArrayLike<number>): Matrix =>
    matrix(n, n, (i, j) => (v[i] ?? 0) * (v[j] ?? 0));
  return [
    { source: "scatter of the readings", covariance: pooled.covariance },
    { source: "drift within a run", covariance: rankOne(drift) },
    {
      source: "what the eye balances in an opening",
      covariance: matrix(
        n,
        n,
        (i, j) => (eye[i] ?? 0) * (eye[j] ?? 0) + (i === j ? (own[i] ?? 0) ** 2 : 0),
      ),
    },
    { source: "scale of the knife's screw", covariance: rankOne(scale) },
  ];
}

const along = (r: number, { radius, source }: Tester): number =>
  knifePosition(r, { radius, conic: -1 }, source);

/** Reading by the window's mean radius less that by its effective one, mm. */
function towardMean(zone: Opening, tester: Tester): number {
  return along((zone.inner + zone.outer) / 2, tester) -
    along(effectiveRadius(zone, tester.openings), tester);
}

/** Ideal reading at the outer less that at the inner edge, mm. */
function spanOf({ inner, outer }: Opening, tester: Tester): number {
  return along(outer, tester) - along(inner, tester);
}
