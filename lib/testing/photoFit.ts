/** Fits one mirror to the whole of one or more Ronchi photographs, and lets the evidence say how much shape it has. */
import { nextTerm, termsToTell, weakTerm } from "./photoChoice.ts";
import { finish } from "./photoCovariance.ts";
import { OWN } from "./photoModel.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import { firstStates } from "./photoStarts.ts";
import {
  allButDiscs,
  type PhotoFit,
  residualsOf,
  scatterOf,
  type State,
  stateOf,
  without,
  withTerm,
} from "./photoState.ts";
import { descend } from "./photoSteps.ts";
import { evaluator, shapesOf } from "./photoSums.ts";

export type { PhotoFit } from "./photoState.ts";

/** Pixels enough to tell a good start from a bad one. */
const COARSE = 500;

/**
 * Fits a mirror to photographs: a few starts, the best one refined, bad pixels set aside, shapes taken up while the
 * evidence (Bayes's information criterion, clustered pixels counted once) is for them.
 *
 * @param photos  from `pixelsOf`; of one mirror
 * @param most    terms taken up at most; default 5
 * @throws {RangeError} where nothing fits
 */
export function fitPixels(photos: readonly PhotoPixels[], most = 5): PhotoFit {
  const first = firstStates(photos);
  const axes = first[0]?.own[0]?.[OWN.turn] ?? 0;
  const tries = first.map(({ conic, own }) => {
    const at = Float64Array.from([conic, ...own.flatMap((o) => [...o])]);
    const every = Math.ceil((photos[0]?.x.length ?? 0) / COARSE);
    const coarse = evaluator(photos, [], axes, 0.05, { every });
    return descend(at, coarse, allButDiscs(at.length, 1, photos.length), 15);
  });
  const best = tries.reduce((a, b) => b.cost < a.cost ? b : a);
  let state: State = { terms: [], at: best.at, noise: 0.05 };
  for (let turn = 0; turn < 3; turn++) {
    state = refine(photos, state, axes, true);
    setAside(photos, residualsOf(photos, state, axes));
  }
  for (const term of termsToTell(photos, state)) {
    if (term.always === true) state = withTerm(state, term);
  }
  state = refine(photos, state, axes, true);
  for (let turn = 0; turn < most; turn++) {
    const next = nextTerm(photos, state, axes);
    if (next === undefined) break;
    const richer = refine(photos, withTerm(state, next), axes, true);
    if (!(richer.noise < state.noise)) break; // shapes so alike that their amounts run away
    state = richer;
    setAside(photos, residualsOf(photos, state, axes));
  }
  let fit = finish(photos, refine(photos, state, axes), axes);
  for (let weak = weakTerm(fit); weak !== undefined; weak = weakTerm(fit)) {
    state = refine(photos, without({ ...state, at: stateOf(fit) }, weak), axes);
    fit = finish(photos, state, axes);
  }
  return fit;
}

/** Lowest place near a state, and the noise that goes with it; a rough one looks at every fourth pixel only. */
function refine(photos: readonly PhotoPixels[], state: State, axes: number, rough = false): State {
  const free = allButDiscs(state.at.length, 1 + shapesOf(state.terms).length, photos.length);
  let { at, noise } = state;
  for (let turn = 0; turn < (rough ? 1 : 2); turn++) {
    const every = rough ? 4 : 1;
    at = descend(at, evaluator(photos, state.terms, axes, noise, { every }), free, 8).at;
    const left = residualsOf(photos, { ...state, at }, axes);
    const before = noise;
    noise = Math.max(scatterOf(photos, left), 1e-3);
    if (Math.abs(noise / before - 1) < 0.02) break;
  }
  return { ...state, at, noise };
}

/** Hot pixels, fingers and stands: what lies over 4.5 times the usual scatter from the fit counts for nothing. */
function setAside(photos: readonly PhotoPixels[], residuals: readonly Float64Array[]): void {
  photos.forEach(({ weight }, n) => {
    const off = residuals[n] ?? new Float64Array(0);
    const middle = Float64Array.from(off, Math.abs).sort()[Math.floor(off.length / 2)] ?? 0;
    const limit = Math.max(4.5 * 1.4826 * middle, 0.02);
    off.forEach((r, i) => weight[i] = Math.abs(r) > limit ? 0 : 1);
  });
}
