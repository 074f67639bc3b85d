/** Fits one mirror to the whole of one or more Ronchi photographs. */
import { clusterOf, finish } from "./photoCovariance.ts";
import { OWN } from "./photoModel.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import { firstStates } from "./photoStarts.ts";
import {
  ownOf,
  type PhotoFit,
  residualsOf,
  scatterOf,
  type State,
  withTerms,
} from "./photoState.ts";
import { descend } from "./photoSteps.ts";
import { evaluator } from "./photoSums.ts";
import { type Term, TERMS } from "./photoTerms.ts";
import { bothSides, bothSidesTwice } from "./photoViews.ts";

export type { PhotoFit } from "./photoState.ts";

/** Pixels enough to tell a good start from a bad one. */
const COARSE = 500;

/**
 * Sum of squares that a step on the way must be worth, a fifth of it before pixels are judged by what is left of them: the last
 * descent, whose noise is larger, goes on to far less.
 */
const ROUGH = 1;

/** Pixels taken to err as one at most: more is a picture that the model does not explain. */
const MOST_CLUSTER = 40;

/**
 * Fits a mirror to photographs: a few starts, the best one refined, bad pixels set aside, then every shape the photographs can
 * tell beside the conic, each with what is likely of it beforehand, and every set of kinds of them weighed (`weightedModelsOf`).
 *
 * @param photos  from `pixelsOf`; of one mirror
 * @throws {RangeError} where nothing fits
 */
export function fitPixels(photos: readonly PhotoPixels[]): PhotoFit {
  const first = firstStates(photos);
  const axes = first[0]?.own[0]?.[OWN.turn] ?? 0;
  const tries = first.map(({ conic, own }) => {
    const at = Float64Array.from([conic, ...own.flatMap((o) => [...o])]);
    const every = Math.ceil((photos[0]?.x.length ?? 0) / COARSE);
    return descend(at, evaluator(photos, [], axes, 0.05, { every }), everyOne(at.length), 6, ROUGH);
  });
  const best = tries.reduce((a, b) => b.cost < a.cost ? b : a);
  let { state } = refine(photos, { terms: [], at: best.at, noise: 0.05 }, axes, 4, ROUGH);
  ({ state } = refine(photos, withTerms(state, termsToTell(photos, state)), axes, 4, ROUGH));
  for (const every of [4, 1]) {
    const refined = refine(photos, state, axes, every, ROUGH);
    state = refined.state;
    setAside(photos, refined.left);
  }
  const refined = refine(photos, state, axes, 1, ROUGH / 5), { left } = refined;
  state = refined.state;
  const cluster = Math.min(MOST_CLUSTER, clusterOf(photos, left));
  const noise = Math.max(scatterOf(photos, left), LEAST_NOISE) * Math.sqrt(cluster) * MODEL;
  const { at } = descend(
    state.at,
    evaluator(photos, state.terms, axes, noise),
    everyOne(state.at.length),
    10,
  );
  return finish(photos, { ...state, at, noise }, axes, cluster);
}

const everyOne = (size: number): number[] => Array.from({ length: size }, (_, i) => i);

/** What is left of a picture by a model that is nearly right leans more to one side than its neighbours tell (from the trial). */
const MODEL = 2.3;

/** Least scatter a camera has: a step of eight bits is four in a thousand. */
const LEAST_NOISE = 1e-3;

/** Lowest place near a state from one pixel in `every`, the noise that goes with it, and what is left of all pixels. */
function refine(
  photos: readonly PhotoPixels[],
  state: State,
  axes: number,
  every: number,
  enough?: number,
): { readonly state: State; readonly left: readonly Float64Array[] } {
  const evaluate = evaluator(photos, state.terms, axes, state.noise, { every });
  const { at } = descend(state.at, evaluate, everyOne(state.at.length), 12, enough);
  const left = residualsOf(photos, { ...state, at }, axes);
  const noise = Math.max(scatterOf(photos, left), LEAST_NOISE);
  return { state: { ...state, at, noise }, left };
}

/** Hot pixels, fingers and stands: what lies over 4.5 times the usual scatter from the fit counts for nothing. */
function setAside(photos: readonly PhotoPixels[], residuals: readonly Float64Array[]): void {
  photos.forEach(({ weight, value }, n) => {
    const off = residuals[n] ?? new Float64Array(0);
    const middle = Float64Array.from(off, Math.abs).sort()[Math.floor(off.length / 2)] ?? 0;
    const limit = Math.max(4.5 * 1.4826 * middle, 0.02);
    off.forEach((r, i) => weight[i] = Math.abs(r) > limit || (value[i] as number) > BURNT ? 0 : 1);
  });
}

/** From this value on a camera may have cut the light off. */
const BURNT = 0.985;

/** The terms that these photographs can tell from all else. */
function termsToTell(photos: readonly PhotoPixels[], state: State): readonly Term[] {
  const views = photos.map((_, n) => {
    const own = ownOf(state, n);
    return { offset: own[OWN.offset] as number, turn: own[OWN.turn] as number };
  });
  const met = { "two turns": bothSidesTwice(views), "both sides": bothSides(views) };
  return TERMS.filter(({ needs }) => needs === undefined || met[needs]);
}
