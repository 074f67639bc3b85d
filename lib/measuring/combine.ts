/** Several estimates of one radius made into one, honestly: shared errors, disagreement, the odd one. */
import { effectiveDof } from "../quantity/coverage.ts";
import { type Measured, measured } from "../quantity/measured.ts";
import { covarianceOf } from "./covariance.ts";
import type { Component } from "./estimate.ts";
import {
  betweenMethods,
  dot,
  type Matrix,
  type Value,
  weigh,
  welchP,
  widened,
} from "./weighing.ts";

export type { Value };

/** What is needed of an estimate to weigh it; `Estimate` fits. */
export interface Weighable {
  /** its name in the registry of methods */
  readonly method: string;
  /** radius of curvature R, mm */
  readonly radius: Measured;
  /** of its uncertainty */
  readonly components: readonly Component[];
}

/** Estimates put together. */
export interface Combined {
  /** mm; what to report */
  readonly radius: Measured;
  /** the weighted mean and what its u would be if nothing but the known errors were at work */
  readonly weightedMean: Value;
  /** how much farther apart the estimates are than they should be; absent for a single one */
  readonly birgeRatio?: number;
  /** squares of the differences over their variances, summed */
  readonly chiSquare: number;
  /** chance of differences this large or larger; absent for a single estimate */
  readonly p?: number;
  /** p is 0.05 or more */
  readonly consistent: boolean;
  /** the weighted mean with u widened by the Birge ratio, never shrunk */
  readonly birge: Value;
  /** where they disagree: an unknown error of size tau given to each alike */
  readonly mandelPaule?: Value & { readonly tau: number };
  /** where they disagree and there are three or more: the one farthest from the others together */
  readonly oddOne?: string;
  /** in the order given; they sum to 1, and may be negative where two estimates share most of their error */
  readonly weights: readonly number[];
  /** share of each source in the variance of `radius`, largest first; they sum to 1 */
  readonly budget: readonly { readonly source: string; readonly share: number }[];
}

/** Below this chance the differences want a cause, not an average. COMMON PRACTICE */
const SUSPICIOUS = 0.05;

/**
 * The best single value from several estimates of one radius.
 *
 * Weights are those of least variance, C^-1 1 / (1' C^-1 1), which without shared errors are 1 / u^2; components with the
 * same `shared` name are one error, and their covariance is u_i u_j.
 *
 *     chi^2 = d' C^-1 d        Birge ratio = sqrt(chi^2 / (n - 1))
 *
 * While the estimates agree (p >= 0.05) u is multiplied by the Birge ratio where that is above 1, never shrunk. Where they
 * do not, Mandel and Paule's between-method error tau is found so that chi^2 = n - 1, and the odd one is named.
 * p is Welch's: an estimate whose own u rests on few readings is allowed to be farther off.
 *
 * @param estimates  at least one; `radius.u` above 0
 * @throws {RangeError} for none, or one without uncertainty
 * @see Birge 1932, Phys. Rev. 40, 207; Mandel and Paule 1970; Welch 1951 (tests/references/combine-estimates.json, and tests/measuring/secondRoute.py)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const of = (method: "leaves" | "spherometer", value: number, u: number) =>
 *   ({ method, radius: { value, u, dof: Infinity, unit: "mm" }, components: [{ source: method, u, dof: Infinity }] });
 * const both = combine([of("leaves", 2390, 30), of("spherometer", 2402, 6)]);
 * assert.equal(both.radius.value.toFixed(1), "2401.5");
 * ```
 */
export function combine(estimates: readonly Weighable[]): Combined {
  check(estimates);
  const values = estimates.map(({ radius }) => radius.value);
  const covariance = covarianceOf(estimates.map(({ components }) => components));
  const plain = weigh(values, covariance);
  const free = estimates.length - 1;
  const dofs = estimates.map(({ radius }) => radius.dof);
  const birgeRatio = Math.sqrt(plain.chiSquare / Math.max(1, free));
  const birge = { value: plain.value, u: plain.u * Math.max(1, birgeRatio) };
  const p = free === 0 ? 1 : welchP(plain, dofs);
  const consistent = p >= SUSPICIOUS;
  const tau = consistent ? 0 : betweenMethods(values, covariance);
  const chosen = consistent ? plain : weigh(values, widened(covariance, tau));
  const u = consistent ? birge.u : Math.max(chosen.u, plain.u);
  const parts = sources(estimates, chosen.weights);
  const odd = consistent ? undefined : oddOne(estimates, covariance);
  return {
    radius: measured(chosen.value, u, "mm", dofOf(parts, chosen.weights, tau, free)),
    weightedMean: { value: plain.value, u: plain.u },
    chiSquare: plain.chiSquare,
    consistent,
    birge,
    ...(free === 0 ? {} : { birgeRatio, p }),
    ...(consistent ? {} : { mandelPaule: { value: chosen.value, u: chosen.u, tau } }),
    ...(odd === undefined ? {} : { oddOne: odd }),
    weights: chosen.weights,
    budget: shares(parts, u),
  };
}

/**
 * Do two results agree? E_n = (x1 - x2) / sqrt(U1^2 + U2^2), U at 95 % (twice u); beyond 1 either way they do not.
 *
 * @param first   value and standard uncertainty
 * @param second  value and standard uncertainty
 * @throws {RangeError} when both are without uncertainty
 * @see ISO 13528 (tests/references/combine-estimates.json, and tests/measuring/secondRoute.py)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(agreement({ value: 2350, u: 12 }, { value: 2402, u: 6 }).toFixed(2), "-1.94");
 * ```
 */
export function agreement(first: Value, second: Value): number {
  const joint = 2 * Math.hypot(first.u, second.u);
  if (!(joint > 0 && Number.isFinite(first.value - second.value))) {
    throw new RangeError(
      `agreement requires finite values with u above 0, got u=${first.u} and u=${second.u}`,
    );
  }
  return (first.value - second.value) / joint;
}

/** The estimate that lies farthest, in joint u, from the others taken together. */
function oddOne(estimates: readonly Weighable[], covariance: Matrix): string | undefined {
  if (estimates.length < 3) return undefined;
  const distances = estimates.map((estimate, odd) => {
    const others = estimates.map((_, at) => at).filter((at) => at !== odd);
    const inner = others.map((i) => others.map((j) => covariance[i]?.[j] ?? 0));
    const rest = weigh(others.map((at) => estimates[at]?.radius.value ?? 0), inner);
    const common = dot(rest.weights, others.map((at) => covariance[odd]?.[at] ?? 0));
    const variance = (covariance[odd]?.[odd] ?? 0) + rest.u ** 2 - 2 * common;
    return Math.abs(estimate.radius.value - rest.value) / Math.sqrt(variance);
  });
  return estimates[distances.indexOf(Math.max(...distances))]?.method;
}

interface Part {
  readonly source: string;
  readonly u: number;
  readonly dof: number;
}

/** Each source's contribution to the weighted mean; a shared one is summed before it is squared. */
function sources(estimates: readonly Weighable[], weights: readonly number[]): readonly Part[] {
  const parts = new Map<string, Part>();
  estimates.forEach(({ method, components }, at) => {
    components.forEach((component, index) => {
      const key = component.shared ?? `${method} ${at} ${index}`;
      const u = (parts.get(key)?.u ?? 0) + (weights[at] ?? 0) * component.u;
      parts.set(key, { source: component.source, u, dof: component.dof });
    });
  });
  return [...parts.values()];
}

function dofOf(
  parts: readonly Part[],
  weights: readonly number[],
  tau: number,
  free: number,
): number {
  const between = tau * Math.hypot(...weights);
  return effectiveDof(between > 0 ? [...parts, { u: between, dof: free }] : parts);
}

function shares(parts: readonly Part[], u: number): Combined["budget"] {
  const bySource = new Map<string, number>();
  for (const part of parts) {
    bySource.set(part.source, (bySource.get(part.source) ?? 0) + (part.u / u) ** 2);
  }
  const known = [...bySource.values()].reduce((sum, share) => sum + share, 0);
  if (known < 1 - 1e-9) bySource.set("disagreement between the methods", 1 - known);
  return [...bySource].map(([source, share]) => ({ source, share: Math.min(1, share) })).sort((
    a,
    b,
  ) => b.share - a.share);
}

function check(estimates: readonly Weighable[]): void {
  const bad = estimates.find(({ radius }) => !(radius.u > 0));
  if (estimates.length === 0 || bad !== undefined) {
    throw new RangeError(
      `combine requires one estimate or more, each with u above 0, got ` +
        (bad === undefined ? "none" : `u=${bad.radius.u} for ${bad.method}`),
    );
  }
}
