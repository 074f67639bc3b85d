/** A fit on its way: which shapes it has, where its unknowns stand, and what it leaves of the photographs. */
import { pixelModel } from "./photoCamera.ts";
import type { WeightedModel } from "./photoWeights.ts";
import { type Mirror, OWN_COUNT } from "./photoModel.ts";
import { BLOCK } from "./photoPhase.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import { shapesOf } from "./photoSums.ts";
import type { Term } from "./photoTerms.ts";

/** A fitted mirror with the photographs it was fitted to. */
export interface PhotoFit {
  /** conic constant K */
  readonly conic: number;
  /** shapes that were fitted beside the conic */
  readonly terms: readonly Term[];
  /** nm, for each shape of the terms in turn */
  readonly amounts: Float64Array;
  /** turn of the axes the shapes are given in, rad */
  readonly axes: number;
  /** unknowns of each photograph, by `OWN` */
  readonly own: readonly Float64Array[];
  /** each set of kinds of shape with its share; all numbers here are their mean */
  readonly weightedModels: readonly WeightedModel[];
  /** of conic, amounts and all photographs' own unknowns, row after row */
  readonly covariance: Float64Array;
  /** number of unknowns: the covariance has size x size numbers */
  readonly size: number;
  /** scatter of one pixel about the fit, in the picture's scale 0 to 1 */
  readonly scatter: number;
  /** pixels that go with one another as one */
  readonly cluster: number;
  /** pixels looked at and not set aside */
  readonly pixels: number;
  /** of each photograph, pixel by pixel, in the picture's scale 0 to 1 */
  readonly residuals: readonly Float64Array[];
}

export interface State {
  readonly terms: readonly Term[];
  readonly at: Float64Array;
  readonly noise: number;
}

export function withTerms(state: State, added: readonly Term[]): State {
  const head = 1 + shapesOf(state.terms).length;
  const at = Float64Array.from([
    ...state.at.subarray(0, head),
    ...shapesOf(added).map(() => 0),
    ...state.at.subarray(head),
  ]);
  return { ...state, terms: [...state.terms, ...added], at };
}

export function mirrorOf({ terms, at }: State, axes: number): Mirror {
  const shapes = shapesOf(terms);
  return { conic: at[0] as number, shapes, amounts: at.subarray(1, 1 + shapes.length), axes };
}

export function ownOf(state: State, n: number): Float64Array {
  const from = 1 + shapesOf(state.terms).length + n * OWN_COUNT;
  return state.at.slice(from, from + OWN_COUNT);
}

export function residualsOf(
  photos: readonly PhotoPixels[],
  state: State,
  axes: number,
): Float64Array[] {
  const mirror = mirrorOf(state, axes);
  return photos.map((photo, n) => {
    const seen = pixelModel(photo, ownOf(state, n), mirror, false);
    const { value, x, y } = photo, left = new Float64Array(value.length);
    for (let from = 0; from < left.length; from += BLOCK) {
      const to = Math.min(left.length, from + BLOCK);
      seen.look(x.subarray(from, to), y.subarray(from, to), to - from);
      for (let i = from; i < to; i++) {
        left[i] = (value[i] as number) - (seen.value[i - from] as number);
      }
    }
    return left;
  });
}

export function scatterOf(
  photos: readonly PhotoPixels[],
  residuals: readonly Float64Array[],
): number {
  let sum = 0, count = 0;
  photos.forEach(({ weight }, n) =>
    residuals[n]?.forEach((r, i) => {
      if (weight[i] === 0) return;
      sum += r * r;
      count++;
    })
  );
  return Math.sqrt(sum / Math.max(1, count));
}
