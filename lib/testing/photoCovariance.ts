/** How surely a fit knows its unknowns. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { inversePositive } from "../numeric/positive.ts";
import { departureFromParaboloid } from "../optics/conic.ts";
import { OWN, OWN_COUNT } from "./photoModel.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import {
  allButDiscs,
  mirrorOf,
  ownOf,
  type PhotoFit,
  residualsOf,
  scatterOf,
  type State,
} from "./photoState.ts";
import { evaluator, shapesOf } from "./photoSums.ts";

/** The glass is not exactly of the shape that stands for it: share of its amount (from the trial of photographs). */
const SHAPE_UNSURE = 0.05;

/** What averaged pixels and light the model leaves out are worth in the conic, nm of glass at the rim (from the same trial). */
const CONIC_UNSURE = 2.5;

/** How many neighbouring pixels err together, from their correlation along rows and columns. */
export function clusterOf(
  photos: readonly PhotoPixels[],
  residuals: readonly Float64Array[],
): number {
  let most = 1;
  photos.forEach((photo, n) => {
    const off = residuals[n] ?? new Float64Array(0), { place, weight, across } = photo;
    const at = new Float64Array((place.at(-1) ?? 0) + 7 * across).fill(NaN);
    for (let i = 0; i < place.length; i++) {
      if (weight[i] === 1) at[place[i] as number] = off[i] as number;
    }
    const along = (step: number): number => {
      let total = 1;
      for (let lag = 1; lag <= 6; lag++) {
        let product = 0, square = 0;
        for (let i = 0; i < place.length; i++) {
          const p = place[i] as number, a = at[p] as number, b = at[p + lag * step] as number;
          if (a !== a || b !== b) continue; // one of the two is not looked at
          product += a * b;
          square += a * a;
        }
        const share = product / Math.max(square, 1e-30);
        if (share < 0.03) break;
        total += 2 * share;
      }
      return total;
    };
    most = Math.max(most, along(1) * along(photo.across));
  });
  return most;
}

export function finish(photos: readonly PhotoPixels[], state: State, axes: number): PhotoFit {
  const residuals = residualsOf(photos, state, axes), cluster = clusterOf(photos, residuals);
  const size = state.at.length, scatter = scatterOf(photos, residuals);
  const covariance = covarianceOf(photos, state, axes, scatter * Math.sqrt(cluster));
  const mirror = mirrorOf(state, axes), { radius, half } = (photos[0] as PhotoPixels).bench;
  const unit = departureFromParaboloid(half, { radius, conic: 0 }); // nm at the rim for a K of 1
  covariance[0] = (covariance[0] as number) + (CONIC_UNSURE / unit) ** 2;
  state.terms.flatMap(({ shapes, unsure = 0 }) => shapes.map(() => unsure)).forEach((unsure, j) => {
    const own = (j + 1) * (size + 1), share = SHAPE_UNSURE * (mirror.amounts[j] as number);
    covariance[own] = (covariance[own] as number) + unsure * unsure + share * share;
  });
  return {
    conic: mirror.conic,
    terms: state.terms,
    amounts: Float64Array.from(mirror.amounts),
    axes,
    own: photos.map((_, n) => ownOf(state, n)),
    covariance,
    size,
    scatter,
    cluster,
    pixels: photos.reduce((sum, { weight }) => sum + weight.reduce((a, b) => a + b, 0), 0),
    residuals,
  };
}

/**
 * Covariance of all unknowns. Neighbours that err together bring less, as if the scatter were larger by the root of their
 * number. Place and size of the discs are not fitted; how surely they are known goes through to all else.
 */
function covarianceOf(
  photos: readonly PhotoPixels[],
  state: State,
  axes: number,
  noise: number,
): Float64Array {
  const { square } = evaluator(photos, state.terms, axes, noise, { discs: true })(state.at, true);
  const size = state.at.length, head = 1 + shapesOf(state.terms).length;
  const free = allButDiscs(size, head, photos.length),
    n = free.length,
    open = new Float64Array(n * n);
  free.forEach((i, a) => free.forEach((j, b) => open[a * n + b] = square[i * size + j] as number));
  const inner = inversePositive(open, n), out = new Float64Array(size * size);
  if (inner === undefined) {
    throw new CannotTell(
      "this photograph does not hold the mirror fast: its fit has no single lowest place",
    );
  }
  free.forEach((i, a) => free.forEach((j, b) => out[i * size + j] = inner[a * n + b] as number));
  photos.forEach(({ outline }, at) => {
    for (const k of [OWN.x, OWN.y, OWN.radius]) {
      const held = head + at * OWN_COUNT + k;
      const pull = free.map((_, a) =>
        free.reduce(
          (sum, j, b) => sum + (inner[a * n + b] as number) * (square[j * size + held] as number),
          0,
        ) *
        outline.u
      );
      free.forEach((i, a) =>
        free.forEach((j, b) =>
          out[i * size + j] = (out[i * size + j] as number) +
            (pull[a] as number) * (pull[b] as number)
        )
      );
      out[held * size + held] = outline.u * outline.u;
    }
  });
  return out;
}
