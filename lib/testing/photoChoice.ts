/** Which shapes beside the conic a photograph gives evidence for. */
import { inversePositive, solvePositive } from "../numeric/positive.ts";
import { clusterOf } from "./photoCovariance.ts";
import { OWN } from "./photoModel.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import {
  allButDiscs,
  ownOf,
  type PhotoFit,
  residualsOf,
  type State,
  withTerms,
} from "./photoState.ts";
import type { Normal } from "./photoSteps.ts";
import { evaluator, MAY_BE_KEPT, shapesOf } from "./photoSums.ts";
import { type Term, TERMS } from "./photoTerms.ts";

/** Pixels taken to err as one at most while shapes are still being taken up. */
const MOST_CLUSTER = 4;

/** What a shape must gain beyond Bayes's criterion to be taken up: "strong" in its usual scale (COMMON PRACTICE). */
const STRONG = 6;

/** The term the evidence is least for, now that others stand beside it; none where all are needed. */
export function weakTerm(
  { terms, amounts, covariance, size, pixels, cluster }: PhotoFit,
): Term | undefined {
  const each = Math.log(Math.max(3, pixels / cluster)) + STRONG;
  let from = 1, weakest: Term | undefined, least = 0;
  for (const term of terms) {
    const n = term.shapes.length, block = new Float64Array(n * n);
    for (let a = 0; a < n; a++) {
      for (let b = 0; b < n; b++) {
        block[a * n + b] = covariance[(from + a) * size + from + b] as number;
      }
    }
    const amount = amounts.slice(from - 1, from - 1 + n), solved = solvePositive(block, amount);
    const gain = solved?.reduce((sum, v, k) => sum + v * (amount[k] as number), 0) ?? 0;
    if (term.always !== true && gain - n * each < least) [weakest, least] = [term, gain - n * each];
    from += n;
  }
  return weakest;
}

/** The terms that these photographs can tell from all else. */
export function termsToTell(photos: readonly PhotoPixels[], state: State): readonly Term[] {
  const own = photos.map((_, n) => ownOf(state, n));
  const met = { "two turns": turnsApart(own), "both sides": bothSides(own) };
  return TERMS.filter(({ needs }) => needs === undefined || met[needs]);
}

/** The term the evidence is most for, if it is for any. */
export function nextTerm(
  photos: readonly PhotoPixels[],
  state: State,
  axes: number,
): Term | undefined {
  const open = termsToTell(photos, state).filter((term) => !state.terms.includes(term));
  const wide: State = { ...withTerms(state, open), noise: state.noise };
  const every = 2; // half the pixels, each counted twice, tell as well which shape is wanted
  const noise = state.noise / Math.sqrt(every);
  const normal = evaluator(photos, wide.terms, axes, noise, { every })(wide.at, true);
  // what a missing shape leaves behind goes with its neighbours too; a shape too many is dropped at the end
  const cluster = Math.min(MOST_CLUSTER, clusterOf(photos, residualsOf(photos, state, axes)));
  const pixels = photos.reduce((sum, { weight }) => sum + weight.reduce((a, b) => a + b, 0), 0);
  const each = Math.log(Math.max(3, pixels / cluster));
  const used = 1 + shapesOf(state.terms).length;
  let from = used, best: Term | undefined, most = 0;
  const head = 1 + shapesOf(wide.terms).length;
  const fixed = allButDiscs(wide.at.length, head, photos.length).filter((i) =>
    i < used || i >= head
  );
  for (const term of open) {
    const places = term.shapes.map((_, k) => from + k);
    from += term.shapes.length;
    const evidence = gainOf(normal, wide.at.length, fixed, places) / cluster -
      places.length * (each + STRONG);
    if (evidence > most) [best, most] = [term, evidence];
  }
  return best;
}

/** By how much the sum of squares would fall if these unknowns were let free beside those already so. */
function gainOf(
  normal: Normal,
  size: number,
  fixed: readonly number[],
  places: readonly number[],
): number {
  const fall = (free: readonly number[]): number => {
    const n = free.length, a = new Float64Array(n * n), b = new Float64Array(n);
    free.forEach((i, r) => {
      b[r] = normal.right[i] as number;
      free.forEach((j, c) => a[r * n + c] = normal.square[i * size + j] as number);
    });
    const inverse = inversePositive(a, n);
    if (inverse === undefined) return 0;
    let sum = 0;
    for (let r = 0; r < n; r++) {
      for (let c = 0; c < n; c++) {
        sum += (b[r] as number) * (inverse[r * n + c] as number) * (b[c] as number);
      }
    }
    return sum;
  };
  return fall([...fixed, ...places]) - fall(fixed);
}

function turnsApart(own: readonly Float64Array[]): boolean {
  const turns = own.map((o) => o[OWN.turn] as number);
  return turns.some((a) => turns.some((b) => Math.abs(Math.sin(a - b)) > 0.35));
}

/** Two photographs from both sides of the centre, the grating not turned between: see `TURN_KEPT`. */
function bothSides(own: readonly Float64Array[]): boolean {
  return own.some((a) =>
    own.some((b) =>
      (a[OWN.offset] as number) * (b[OWN.offset] as number) < 0 &&
      Math.abs((a[OWN.turn] as number) - (b[OWN.turn] as number)) < MAY_BE_KEPT
    )
  );
}
