/** How surely a fit knows its unknowns. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import { inversePositive } from "../../numeric/positive.ts";
import { mixed, weightedModelsOf } from "./photoWeights.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import { ownOf, type PhotoFit, residualsOf, scatterOf, type State } from "./photoState.ts";
import type { Normal } from "./photoSteps.ts";
import { shapesOf } from "./photoSums.ts";

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

/**
 * The fit with its doubts, from the lowest place of all shapes together: each set of kinds of shape beside the others, and the
 * mean over them.
 *
 * @param state  its noise is that of pixels that err each on its own
 * @param known   turn of the shapes' axes, pixels that go as one, and the sum's curvature at the state
 */
export function finish(
  photos: readonly PhotoPixels[],
  state: State,
  { axes, cluster, square }: Pick<PhotoFit, "axes" | "cluster"> & Pick<Normal, "square">,
): PhotoFit {
  const size = state.at.length, head = 1 + shapesOf(state.terms).length;
  const inverse = inversePositive(square, size);
  if (inverse === undefined) {
    throw new CannotTell(
      "this photograph does not hold the mirror fast: its fit has no single lowest place",
    );
  }
  const weightedModels = weightedModelsOf(state.terms, state.at, inverse),
    { mean, covariance } = mixed(weightedModels);
  const residuals = residualsOf(photos, state, axes);
  return {
    conic: mean[0] as number,
    terms: state.terms,
    amounts: mean.slice(1, head),
    axes,
    own: photos.map((_, n) => ownOf({ ...state, at: mean }, n)),
    weightedModels,
    covariance,
    size,
    scatter: scatterOf(photos, residuals),
    cluster,
    pixels: photos.reduce((sum, { weight }) => sum + weight.reduce((a, b) => a + b, 0), 0),
    residuals,
  };
}
