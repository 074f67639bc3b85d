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
  return found.map(({ left, mean, narrowed }, n) => {
    let known: Float64Array | undefined;
    return {
      kinds: new Set(terms.map(({ kind }) => kind).filter((kind) => !left.includes(kind))),
      share: (weights[n] as number) / sum,
      mean,
      /** of unlikely sets nobody asks for it */
      get covariance(): Float64Array {
        return known ??= narrowed();
      },
    };
  });
}

/** The fit with some kinds' amounts held at nothing, and the logarithm of how likely that is. */
function without(
  left: ReadonlySet<Kind>,
  terms: readonly Term[],
  mean: Float64Array,
  covariance: Float64Array,
): Pick<WeightedModel, "mean"> & { readonly log: number; readonly narrowed: () => Float64Array } {
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
  if (n === 0) return { mean, narrowed: () => covariance, log };
  const block = new Float64Array(n * n);
  held.forEach((i, a) =>
    held.forEach((j, b) => block[a * n + b] = covariance[i * size + j] as number)
  );
  const lower = triangle(block, n);
  if (lower === undefined) return { mean, narrowed: () => covariance, log: -Infinity };
  for (let a = 0; a < n; a++) log -= Math.log(lower[a * n + a] as number);
  const off = Float64Array.from(held, (i) => mean[i] as number), pull = solveTriangle(lower, off);
  log -= 0.5 * off.reduce((sum, v, a) => sum + v * (pull[a] as number), 0);
  // each unknown's covariances with what is held, row after row
  const beside = new Float64Array(size * n), moved = mean.slice();
  for (let i = 0; i < size; i++) {
    for (let a = 0; a < n; a++) {
      const both = covariance[i * size + (held[a] as number)] as number;
      beside[i * n + a] = both;
      moved[i] = (moved[i] as number) - both * (pull[a] as number);
    }
  }
  for (const i of held) moved[i] = 0;
  return { mean: moved, narrowed: () => lessened(covariance, size, beside, lower), log };
}

/** A covariance less what is known by unknowns that are held: `beside` has everyone's covariances with them, `lower` is their own root. */
function lessened(
  covariance: Float64Array,
  size: number,
  beside: Float64Array,
  lower: Float64Array,
): Float64Array {
  const out = covariance.slice(), n = beside.length / size;
  for (let i = 0; i < size; i++) {
    const by = solveTriangle(lower, beside.subarray(i * n, (i + 1) * n));
    for (let k = 0; k <= i; k++) {
      let share = 0;
      for (let a = 0; a < n; a++) share += (by[a] as number) * (beside[k * n + a] as number);
      out[i * size + k] = out[k * size + i] = (out[i * size + k] as number) - share;
    }
  }
  return out;
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
  for (const model of weightedModels) {
    const { share, mean: own } = model;
    if (share < 1e-9) continue;
    const spread = model.covariance, off = own.map((v, i) => v - (mean[i] as number));
    for (let i = 0; i < size; i++) {
      const one = off[i] as number;
      for (let k = 0, at = i * size; k < size; k++, at++) {
        covariance[at] = (covariance[at] as number) +
          share * ((spread[at] as number) + one * (off[k] as number));
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
    likely = weightedModels.filter(({ share }) => share > 1e-4)
      .map(({ share, mean, covariance }) => ({ share, mean, covariance }));
  const whole = likely.reduce((sum, { share }) => sum + share, 0);
  const draws = new Float64Array(head);
  const lowers = likely.map(({ covariance, mean }) => rootOf(covariance, mean.length, head));
  return Array.from({ length: count }, () => {
    let at = 0, left = uniform() * whole;
    while (at < likely.length - 1 && (left -= likely[at]?.share ?? 0) > 0) at++;
    const mean = likely[at]?.mean as Float64Array, lower = lowers[at] as Float64Array;
    fillNormal(draws);
    return drawnAbout(mean, lower, draws);
  });
}

/** One draw: the mean, and the root's columns by so many standard deviations each. */
function drawnAbout(mean: Float64Array, lower: Float64Array, normals: Float64Array): Float64Array {
  const head = normals.length, drawn = new Float64Array(head);
  for (let a = 0; a < head; a++) {
    let value = mean[a] as number;
    for (let b = 0; b <= a; b++) value += (lower[a * head + b] as number) * (normals[b] as number);
    drawn[a] = value;
  }
  return drawn;
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
