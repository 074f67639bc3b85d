/** Fits one mirror to the whole of one or more Ronchi photographs. */
import { clusterOf, finish } from "./photoCovariance.ts";
import { OWN, OWN_COUNT, TONE_KNOTS } from "./photoModel.ts";
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
import { evaluator, NONE, shapesOf } from "./photoSums.ts";
import { type Term, TERMS } from "./photoTerms.ts";
import { bothSides, bothSidesTwice } from "./photoViews.ts";

export type { PhotoFit } from "./photoState.ts";

/** Pixels enough to tell a good start from a bad one, and steps enough. */
const COARSE = 500, FIRST_STEPS = 3;

/** Share of the sum of squares that a step on the way must be worth: noise is judged by it, to half a percent. */
const ROUGH = 0.01;

/**
 * Unknowns of a photograph that stay at their first guess until the whole mirror is looked for. The camera's curve beside a power
 * trades with light, fog and power; freed before the bad pixels are known, it runs to where brighter light would give a darker
 * value, and no way leads back.
 */
const LATER: ReadonlySet<number> = new Set([
  ...Array.from({ length: TONE_KNOTS }, (_, k) => OWN.tone + k),
  OWN.duty,
]);

/** Pixels taken to err as one at most: more is a picture that the model does not explain. */
const MOST_CLUSTER = 40;

/**
 * Fits a mirror to photographs: a few starts, the best one refined, then every shape the photographs can tell beside the conic, each with
 * what is likely of it beforehand, and every set of kinds of them weighed (`weightedModelsOf`). Bad pixels are set aside anew after
 * each stage, so that none is led by them.
 *
 * @param photos  from `pixelsOf`; of one mirror
 * @throws {RangeError} where nothing fits
 */
export function fitPixels(photos: readonly PhotoPixels[]): PhotoFit {
  const first = firstStates(photos);
  const axes = first[0]?.own[0]?.[OWN.turn] ?? 0;
  const every = Math.ceil((photos[0]?.x.length ?? 0) / COARSE);
  const tries = first.map(({ conic, own }) => {
    const at = Float64Array.from([conic, ...own.flatMap((o) => [...o])]);
    const state = { terms: [], at, noise: FIRST_NOISE };
    return lowest(photos, state, axes, { every, held: LATER, most: FIRST_STEPS });
  });
  const best = tries.reduce((a, b) => b.cost < a.cost ? b : a);
  let { state } = judged(photos, { terms: [], at: best.at, noise: FIRST_NOISE }, axes);
  ({ state } = refined(photos, state, axes, { every: 4, held: LATER }));
  ({ state } = refined(photos, withTerms(state, termsToTell(photos, state)), axes, { every: 4 }));
  let left: readonly Float64Array[] = [];
  for (let turn = 0, before = Infinity; turn < 3 && state.noise < STILL * before; turn++) {
    before = state.noise;
    ({ state, left } = refined(photos, state, axes));
  }
  const cluster = Math.min(MOST_CLUSTER, clusterOf(photos, left));
  const noise = state.noise * Math.sqrt(cluster) * MODEL;
  const { at, square } = descend(
    state.at,
    evaluator(photos, state.terms, axes, noise),
    freeOf(state.at.length, photos.length),
    10,
    0.05,
    0,
    1 + shapesOf(state.terms).length,
  );
  return finish(photos, { ...state, at, noise }, { axes, cluster, square });
}

/** Scatter of a pixel as long as nothing is known of it. */
const FIRST_NOISE = 0.05;

/** Noise that fell below this share of what it was is still led by bad pixels: they are looked for once more. */
const STILL = 0.8;

/** What is left of a picture by a model that is nearly right leans more to one side than its neighbours tell (from the trial). */
const MODEL = 2.3;

/** Least scatter a camera has: a step of eight bits is four in a thousand. */
const LEAST_NOISE = 1e-3;

/** How a descent goes: one pixel in `every`, some of each photograph's unknowns held, steps at most. */
interface Way {
  readonly every?: number;
  readonly held?: ReadonlySet<number>;
  readonly most?: number;
}

/** Lowest place near a state, roughly. */
function lowest(
  photos: readonly PhotoPixels[],
  { terms, at, noise }: State,
  axes: number,
  { every = 1, held = NONE, most = 12 }: Way,
): { readonly at: Float64Array; readonly cost: number } {
  const evaluate = evaluator(photos, terms, axes, noise, { every, held });
  return descend(at, evaluate, freeOf(at.length, photos.length, held), most, 0, ROUGH);
}

/** Lowest place near a state, the noise that goes with it, and what is left of all pixels; bad ones are set aside. */
function refined(
  photos: readonly PhotoPixels[],
  state: State,
  axes: number,
  way: Way = {},
): { readonly state: State; readonly left: readonly Float64Array[] } {
  return judged(photos, { ...state, at: lowest(photos, state, axes, way).at }, axes);
}

/** A state with the noise that goes with it, and what it leaves of all pixels; bad ones are set aside. */
function judged(
  photos: readonly PhotoPixels[],
  state: State,
  axes: number,
): { readonly state: State; readonly left: readonly Float64Array[] } {
  const left = residualsOf(photos, state, axes);
  setAside(photos, left);
  return { state: { ...state, noise: Math.max(scatterOf(photos, left), LEAST_NOISE) }, left };
}

/** Places of the unknowns that may move. */
function freeOf(size: number, photos: number, held: ReadonlySet<number> = NONE): number[] {
  const head = size - photos * OWN_COUNT, all = Array.from({ length: size }, (_, i) => i);
  return all.filter((i) => i < head || !held.has((i - head) % OWN_COUNT));
}

/** Hot pixels, fingers and stands: what lies over 4.5 times the usual scatter from the fit counts for nothing. */
function setAside(photos: readonly PhotoPixels[], residuals: readonly Float64Array[]): void {
  photos.forEach(({ weight, value }, n) => {
    const off = residuals[n] ?? new Float64Array(0);
    const middle = Float64Array.from(off, Math.abs).sort()[Math.floor(off.length / 2)] ?? 0;
    const limit = Math.max(4.5 * 1.4826 * middle, 0.02);
    for (let i = 0; i < off.length; i++) {
      const isOff = Math.abs(off[i] as number) > limit || (value[i] as number) > BURNT;
      weight[i] = isOff ? 0 : 1;
    }
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
