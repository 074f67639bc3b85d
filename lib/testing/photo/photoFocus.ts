/** Where the centre of curvature lies of the conic that fits a whole figure best: an offset is measured from there. */
import { radialGrid } from "../../optics/quality.ts";
import { type Bench, OWN, OWN_COUNT } from "./photoModel.ts";
import type { PhotoFit } from "./photoState.ts";
import type { Shape } from "./photoTerms.ts";
import { travelFactor } from "../bands/ronchi.ts";

const AROUND = 16;

/** Share of q = (r/a)^2 in a shape beside piston and q^2, which are a conic's: by area-weighted least squares. */
function focusShare(shape: Shape): number {
  const { q, weights } = radialGrid(20);
  // q freed of 1 and q^2 over the disc, 0 to 1: q^2's share is 15/16 (q^2 - 1/3) at a mean of 1/2
  const pure = q.map((v) => v - 0.5 - (15 / 16) * (v * v - 1 / 3));
  let sum = 0, size = 0;
  q.forEach((v, i) => {
    let mean = 0;
    for (let k = 0; k < AROUND; k++) {
      const t = (2 * Math.PI * (k + 0.5)) / AROUND, rho = Math.sqrt(v);
      mean += shape(rho * Math.cos(t), rho * Math.sin(t)) / AROUND;
    }
    sum += (weights[i] ?? 0) * (pure[i] ?? 0) * mean;
    size += (weights[i] ?? 0) * (pure[i] ?? 0) * v;
  });
  return sum / size;
}

/**
 * Offset of one photograph's grating, mm, and its standard uncertainty, from the centre of curvature of the best single conic.
 *
 * Shapes beside the conic may hold some focus of their own, which is only another offset: d + k R^2 c / a^2 for c mm of
 * glass at the rim, k = 2 where the lamp moves along, 4 where it stays.
 *
 * @param fit    a fitted mirror
 * @param n      which photograph
 * @param bench  of that photograph
 */
export function offsetOf(
  fit: PhotoFit,
  n: number,
  { radius, half, setUp }: Bench,
): { readonly value: number; readonly u: number } {
  const scale = (4e-6 * radius * radius) / (travelFactor(setUp) * half * half);
  const shares = fit.terms.flatMap(({ shapes }) => shapes.map((f) => scale * focusShare(f)));
  const at = fit.size - (fit.own.length - n) * OWN_COUNT + OWN.offset;
  const places = [at, ...shares.map((_, j) => j + 1)], slopes = [1, ...shares];
  let variance = 0;
  places.forEach((p, i) =>
    places.forEach((q, j) =>
      variance += (slopes[i] ?? 0) * (slopes[j] ?? 0) * (fit.covariance[p * fit.size + q] ?? 0)
    )
  );
  const own = fit.own[n]?.[OWN.offset] ?? NaN;
  const value = shares.reduce((sum, share, j) => sum + share * (fit.amounts[j] ?? 0), own);
  return { value, u: Math.sqrt(Math.max(0, variance)) };
}
