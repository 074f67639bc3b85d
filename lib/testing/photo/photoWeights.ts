/** Which kinds of shape the mirror has: every set of kinds is weighed by what the photographs say of it. */
import { solveTriangle, triangle } from "../../numeric/positive.ts";
import { random } from "../../numeric/random.ts";
import type { Kind, Term } from "./photoTerms.ts";

/** How likely a mirror has shapes of a kind, before any picture (INVENTED, even odds where nothing is known). */
const LIKELY: Readonly<Record<Kind, number>> = {
  smooth: 0.5,
  edge: 0.5,
  rings: 0.3,
  skew: 0.1,
  astigmatism: 1,
};

/** The mirror where it has shapes of some kinds and none of the others. */
export interface WeightedModel {
  /** kinds of shape that this mirror has */
  readonly kinds: ReadonlySet<Kind>;
  /** how likely that is; all together 1 */
  readonly share: number;
  /** all unknowns */
  readonly mean: Float64Array;
  /** of all unknowns, row after row */
  readonly covariance: Float64Array;
}

/**
 * Every set of kinds beside the others.
 *
 * From the fit with all shapes, of which each amount is normal beforehand: an amount held at nothing moves the others by their
 * covariance with it, and is as likely as its density there has grown by the picture (the ratio of densities at nothing,
 * after over before).
 *
 * @param terms       all shapes of the fit
 * @param mean        unknowns of the fit: conic, amounts, those of the photographs
 * @param covariance  of them, row after row
 * @see Dickey 1971, Ann. Math. Stat. 42, 204 (derived in its test)
 */
export function weightedModelsOf(
  terms: readonly Term[],
  mean: Float64Array,
  covariance: Float64Array,
): readonly WeightedModel[] {
  const optional = [...new Set(terms.map(({ kind }) => kind))].filter((kind) => LIKELY[kind] < 1);
  const sets = Array.from(
    { length: 2 ** optional.length },
    (_, bits) => optional.filter((_, k) => (bits >> k) % 2 === 1),
  );
  const found = sets.map((left) => ({ left, ...without(new Set(left), terms, mean, covariance) }));
  const most = Math.max(...found.map(({ log }) => log));
  const weights = found.map(({ log }) => Math.exp(log - most)),
    sum = weights.reduce((a, b) => a + b, 0);
  return found.map(({ left, mean, covariance }, n) => ({
    kinds: new Set(terms.map(({ kind }) => kind).filter((kind) => !left.includes(kind))),
    share: (weights[n] as number) / sum,
    mean,
    covariance,
  }));
}

/** The fit with some kinds' amounts held at nothing, and the logarithm of how likely that is. */
function without(
  left: ReadonlySet<Kind>,
  terms: readonly Term[],
  mean: Float64Array,
  covariance: Float64Array,
): Pick<WeightedModel, "mean" | "covariance"> & { readonly log: number } {
  const size = mean.length, held: number[] = [];
  let log = 0, at = 1;
  for (const kind of new Set(terms.map((term) => term.kind))) {
    if (LIKELY[kind] < 1) log += Math.log(left.has(kind) ? 1 - LIKELY[kind] : LIKELY[kind]);
  }
  for (const { kind, shapes, usual } of terms) {
    for (let k = 0; k < shapes.length; k++, at++) {
      if (!left.has(kind)) continue;
      held.push(at);
      log += Math.log(usual);
    }
  }
  const n = held.length;
  if (n === 0) return { mean, covariance, log };
  const block = new Float64Array(n * n);
  held.forEach((i, a) =>
    held.forEach((j, b) => block[a * n + b] = covariance[i * size + j] as number)
  );
  const lower = triangle(block, n);
  if (lower === undefined) return { mean, covariance, log: -Infinity };
  for (let a = 0; a < n; a++) log -= Math.log(lower[a * n + a] as number);
  const off = Float64Array.from(held, (i) => mean[i] as number), pull = solveTriangle(lower, off);
  log -= 0.5 * off.reduce((sum, v, a) => sum + v * (pull[a] as number), 0);
  const moved = mean.slice(), narrowed = covariance.slice();
  const own = new Float64Array(n);
  for (let i = 0; i < size; i++) {
    for (let a = 0; a < n; a++) own[a] = covariance[i * size + (held[a] as number)] as number;
    const by = solveTriangle(lower, own);
    for (let a = 0; a < n; a++) {
      moved[i] = (moved[i] as number) - (own[a] as number) * (pull[a] as number);
    }
    for (let k = 0; k <= i; k++) {
      let share = 0;
      for (let a = 0; a < n; a++) {
        share += (by[a] as number) * (covariance[k * size + (held[a] as number)] as number);
      }
      narrowed[i * size + k] = narrowed[k * size + i] = (narrowed[i * size + k] as number) - share;
    }
  }
  for (const i of held) moved[i] = 0;
  return { mean: moved, covariance: narrowed, log };
}

/** Mean and covariance over all sets of kinds. */
export function mixed(
  weightedModels: readonly WeightedModel[],
): Pick<WeightedModel, "mean" | "covariance"> {
  const size = weightedModels[0]?.mean.length ?? 0;
  const mean = new Float64Array(size), covariance = new Float64Array(size * size);
  for (const { share, mean: own } of weightedModels) {
    own.forEach((v, i) => mean[i] = (mean[i] as number) + share * v);
  }
  for (const { share, mean: own, covariance: spread } of weightedModels) {
    if (share < 1e-9) continue;
    const off = own.map((v, i) => v - (mean[i] as number));
    for (let i = 0; i < size; i++) {
      for (let k = 0; k < size; k++) {
        covariance[i * size + k] = (covariance[i * size + k] as number) +
          share * ((spread[i * size + k] as number) + (off[i] as number) * (off[k] as number));
      }
    }
  }
  return { mean, covariance };
}

/** How likely the mirror has shapes of a kind. */
export function shareOf(weightedModels: readonly WeightedModel[], kind: Kind): number {
  return weightedModels.reduce((sum, { kinds, share }) => sum + (kinds.has(kind) ? share : 0), 0);
}

/**
 * Mirrors as likely as the weightedModels allow: conic and amounts.
 *
 * @param head   how many unknowns are the mirror's
 * @param count  draws
 * @param seed   of the random numbers
 */
export function drawMirrors(
  weightedModels: readonly WeightedModel[],
  head: number,
  count: number,
  seed: number,
): Float64Array[] {
  const { fillNormal, uniform } = random(seed),
    likely = weightedModels.filter(({ share }) => share > 1e-4);
  const whole = likely.reduce((sum, { share }) => sum + share, 0);
  const draws = new Float64Array(head);
  const lowers = likely.map(({ covariance, mean }) => rootOf(covariance, mean.length, head));
  return Array.from({ length: count }, () => {
    let at = 0, left = uniform() * whole;
    while (at < likely.length - 1 && (left -= (likely[at] as WeightedModel).share) > 0) at++;
    const { mean } = likely[at] as WeightedModel, lower = lowers[at] as Float64Array;
    fillNormal(draws);
    const drawn = new Float64Array(head);
    for (let a = 0; a < head; a++) {
      let value = mean[a] as number;
      for (let b = 0; b <= a; b++) value += (lower[a * head + b] as number) * (draws[b] as number);
      drawn[a] = value;
    }
    return drawn;
  });
}

/** Lower triangle of the mirror's block; what is held at nothing has rows of noughts. */
function rootOf(covariance: Float64Array, size: number, head: number): Float64Array {
  const lower = new Float64Array(head * head);
  for (let i = 0; i < head; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = covariance[i * size + j] as number;
      for (let k = 0; k < j; k++) {
        rest -= (lower[i * head + k] as number) * (lower[j * head + k] as number);
      }
      const pivot = lower[j * head + j] as number;
      if (i !== j) lower[i * head + j] = pivot > 0 ? rest / pivot : 0;
      else {lower[i * head + i] = rest > 1e-7 * (covariance[i * size + i] as number) + 1e-12
          ? Math.sqrt(rest)
          : 0;}
    }
  }
  return lower;
}
