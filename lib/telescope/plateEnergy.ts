/** Energies of a bent and sheared disc, between the radial functions of one harmonic. */
import { gaussLegendre, type QuadratureRule } from "../numeric/quadrature.ts";
import { radials } from "./discPolynomials.ts";

/** Rows of a square matrix. */
export type Matrix = readonly Float64Array[];

/** A function f(r) cos n angle at one radius: what its energies are made of. */
export interface Local {
  readonly n: number;
  readonly r: number;
  readonly value: number;
  readonly slope: number;
  /** second derivatives: along the radius, round the middle, and mixed */
  readonly along: number;
  readonly round: number;
  readonly mixed: number;
}

/** What two functions share at one radius. */
export type Form = (a: Local, b: Local) => number;

/** The radial functions of one harmonic at the places of a quadrature, each with the weight of its ring of area. */
export type Sampled = readonly { readonly weight: number; readonly here: readonly Local[] }[];

/**
 * Samples the first radial functions of a harmonic, closely enough for the energies of all of them.
 *
 * @param n      harmonic, 0 or more
 * @param count  how many functions
 */
export function sampled(n: number, count: number): Sampled {
  // products of two functions reach the power 2n + 4 count
  const rule = ruleOf(n + 2 * count + 4), around = n === 0 ? 2 * Math.PI : Math.PI;
  return rule.nodes.map((node, i) => {
    const r = (node + 1) / 2;
    return { weight: ((rule.weights[i] ?? 0) / 2) * r * around, here: locals(n, count, r) };
  });
}

const rules = new Map<number, QuadratureRule>();

function ruleOf(nodes: number): QuadratureRule {
  const rule = rules.get(nodes) ?? gaussLegendre(nodes);
  rules.set(nodes, rule);
  return rule;
}

/**
 * Integral over the unit disc of a form between all pairs of the functions.
 *
 * @param functions  from `sampled`
 * @param form       symmetric in its two functions
 * @returns symmetric matrix
 */
export function energy(functions: Sampled, form: Form): Matrix {
  const count = functions[0]?.here.length ?? 0;
  const out = Array.from({ length: count }, () => new Float64Array(count));
  for (const { weight, here } of functions) {
    for (let j = 0; j < count; j++) {
      const row = out[j] as Float64Array, a = here[j] as Local;
      for (let k = 0; k <= j; k++) row[k] = (row[k] as number) + weight * form(a, here[k] as Local);
    }
  }
  out.forEach((row, j) => {
    for (let k = j + 1; k < count; k++) row[k] = (out[k] as Float64Array)[j] as number;
  });
  return out;
}

function locals(n: number, count: number, r: number): Local[] {
  const [f, d, dd] = radials(n, count, r);
  return Array.from(f, (value, k) => {
    const slope = d[k] ?? 0;
    return {
      n,
      r,
      value,
      slope,
      along: dd[k] ?? 0,
      round: slope / r - (n * n * value) / (r * r),
      mixed: n * (slope / r - value / (r * r)),
    };
  });
}

/** Bending energy of the slopes grad f, for stiffness 1. */
export const bending = (poisson: number): Form => (a, b) =>
  (a.along + a.round) * (b.along + b.round) -
  (1 - poisson) * (a.along * b.round + a.round * b.along - 2 * a.mixed * b.mixed);

/** Bending energy of the slopes curl g. */
export const twisting = (poisson: number): Form => (a, b) =>
  (1 - poisson) * (2 * a.mixed * b.mixed + ((a.along - a.round) * (b.along - b.round)) / 2);

/** What the two kinds of slopes share in bending. */
export const bendingWithTwist = (poisson: number): Form => (a, b) =>
  (1 - poisson) * ((a.along - a.round) * b.mixed + a.mixed * (b.along - b.round));

/** Square of the gradient, which is that of the curl too: shear energy for stiffness 1. */
export const shearing: Form = (a, b) =>
  a.slope * b.slope + (a.n * a.n * a.value * b.value) / a.r ** 2;

/** What the gradient of one function and the curl of another share in shear: only the rim counts. */
export const shearingWithTwist: Form = (a, b) =>
  (-a.n * (a.value * b.slope + a.slope * b.value)) / a.r;
