/** The law of propagation of uncertainty, for any function of measured values. */
import { effectiveDof } from "./coverage.ts";
import type { Measured } from "./measured.ts";

/** What one input adds to the uncertainty of a result. */
export interface BudgetLine {
  /** the input's name */
  readonly source: string;
  /** the input's estimate, in its own unit */
  readonly value: number;
  /** standard uncertainty of the input, in its own unit */
  readonly u: number;
  /** degrees of freedom of `u` */
  readonly dof: number;
  /** change of the result for a unit change of the input */
  readonly sensitivity: number;
  /** sensitivity times u, in the result's unit; signed */
  readonly contribution: number;
  /** part of the result's variance, 0 to 1; where inputs are correlated it can be negative, the sum is still 1 */
  readonly share: number;
}

/** A result with its budget. */
export interface Propagated extends Measured {
  /** a line for each input */
  readonly budget: readonly BudgetLine[];
}

/** Two inputs and their correlation coefficient, -1 to 1. */
export type Correlation<K extends string = string> = readonly [K, K, number];

/** What is known beside the inputs themselves. */
export interface PropagateOptions<K extends string = string> {
  /** default: all inputs independent */
  readonly correlations?: readonly Correlation<K>[];
  /** the result's unit; default "" */
  readonly unit?: string;
  /** known derivatives; those not given are found by central differences */
  readonly partials?: Partial<Readonly<Record<K, number>>>;
}

/**
 * Carries uncertainties through a function, to first order.
 *
 *     u² = Σ cᵢ² uᵢ² + 2 Σ cᵢ cⱼ uᵢ uⱼ rᵢⱼ,   cᵢ = ∂f/∂xᵢ
 *
 * Degrees of freedom by Welch-Satterthwaite; correlated inputs count there as one contribution with the fewest degrees
 * of freedom among them. Where the function bends within the uncertainty, compare with `monteCarlo`.
 *
 * @param f       the function, of an object with the inputs' names
 * @param inputs  measured values by name
 * @throws {RangeError} where f is not finite at or near the inputs, or correlations contradict one another
 * @see JCGM 100:2008, 5.1 and 5.2 (its examples read: tests/references/gum-h1-end-gauge.json)
 * @example radius of a curve from its depth s below a chord of half-length r, r² / 2s + s / 2
 * ```ts
 * import assert from "node:assert/strict";
 * const inputs = {
 *   r: { value: 75, u: 0.25, dof: Infinity, unit: "mm" },
 *   s: { value: 1.17, u: 0.01, dof: Infinity, unit: "mm" },
 * };
 * const radius = propagate(({ r, s }) => r * r / (2 * s) + s / 2, inputs, { unit: "mm" });
 * assert.equal(radius.value.toFixed(3) + " " + radius.u.toFixed(3), "2404.431 26.053");
 * ```
 */
export function propagate<K extends string>(
  f: (x: Readonly<Record<K, number>>) => number,
  inputs: Readonly<Record<K, Measured>>,
  options: PropagateOptions<NoInfer<K>> = {},
): Propagated {
  const names = Object.keys(inputs) as K[];
  const at = Object.fromEntries(names.map((name) => [name, inputs[name].value])) as Record<
    K,
    number
  >;
  const value = f(at);
  if (!Number.isFinite(value)) {
    throw new RangeError(`propagate requires f finite at the inputs, got ${value}`);
  }
  const terms = names.map((name) => ({
    source: name,
    ...inputs[name],
    sensitivity: options.partials?.[name] ?? partial(f, at, name, inputs[name].u),
  }));
  return combineTerms(value, terms, options.correlations, options.unit);
}

/** An input of a sum that is already linear. */
export interface Term {
  /** the input's name */
  readonly source: string;
  /** the input's estimate, in its own unit */
  readonly value: number;
  /** standard uncertainty of the input, in its own unit */
  readonly u: number;
  /** degrees of freedom of `u` */
  readonly dof: number;
  /** change of the sum for a unit change of the input */
  readonly sensitivity: number;
}

/**
 * The law of propagation with known sensitivities: the last step of `propagate`, of use where the derivatives come
 * from elsewhere.
 *
 * @param value         the result
 * @param terms         inputs with their sensitivities
 * @param correlations  pairs of sources and their coefficients
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const one = { value: 0, u: 3, dof: Infinity, sensitivity: 1 };
 * const sum = combineTerms(0, [{ source: "a", ...one }, { source: "b", ...one, u: 4 }]);
 * assert.equal(sum.u, 5);
 * ```
 */
export function combineTerms(
  value: number,
  terms: readonly Term[],
  correlations: readonly Correlation[] = [],
  unit = "",
): Propagated {
  const r = correlationMatrix(terms.map((t) => t.source), correlations);
  const contributions = terms.map((t) => t.u === 0 ? 0 : t.sensitivity * t.u);
  const parts = contributions.map((ci, i) =>
    ci * contributions.reduce((sum, cj, j) => sum + cj * (r[i]?.[j] ?? 0), 0)
  );
  const largest = Math.max(...contributions.map(Math.abs), 0);
  const variance = parts.reduce((sum, part) => sum + part, 0);
  if (variance < -1e-9 * largest * largest) {
    throw new RangeError(
      `propagate requires correlations that can hold together, got a variance of ${variance}`,
    );
  }
  const u = Math.sqrt(Math.max(0, variance));
  const budget = terms.map((t, i) => ({
    ...pick(t),
    contribution: contributions[i] ?? 0,
    share: variance > 0 ? (parts[i] ?? 0) / variance : 0,
  }));
  return { value, u, dof: effectiveDof(grouped(terms, contributions, r)), unit, budget };
}

/**
 * Correlation coefficients as a full matrix, ones on its diagonal.
 *
 * @throws {RangeError} for an unknown name, an input paired with itself, or a coefficient outside -1..1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(correlationMatrix(["a", "b"], [["a", "b", 0.5]]), [[1, 0.5], [0.5, 1]]);
 * ```
 */
export function correlationMatrix(
  names: readonly string[],
  correlations: readonly Correlation[],
): number[][] {
  const matrix = names.map((_, i) => names.map((__, j): number => (i === j ? 1 : 0)));
  for (const [a, b, r] of correlations) {
    const i = names.indexOf(a), j = names.indexOf(b);
    if (i < 0 || j < 0 || i === j) {
      throw new RangeError(
        `a correlation requires two different inputs of ${names.join(", ")}, got ${a} and ${b}`,
      );
    }
    if (!(r >= -1 && r <= 1)) {
      throw new RangeError(`a correlation requires -1 <= r <= 1, got r=${r} for ${a} and ${b}`);
    }
    (matrix[i] ?? [])[j] = r;
    (matrix[j] ?? [])[i] = r;
  }
  return matrix;
}

/**
 * Derivative by five-point central differences.
 *
 *     f' = [8 (f₊₁ - f₋₁) - (f₊₂ - f₋₂)] / 12h
 *
 * The step is halved and halved again; of all steps that one is kept whose change from the step before, together with
 * the rounding of f, is least.
 */
function partial<K extends string>(
  f: (x: Readonly<Record<K, number>>) => number,
  at: Readonly<Record<K, number>>,
  name: K,
  u: number,
): number {
  const value = (offset: number): number => f({ ...at, [name]: at[name] + offset });
  const size = Math.max(Math.abs(at[name]) / 4, u) || 1;
  let best: number | undefined, doubt = Infinity, before = NaN, found = 0;
  for (let halvings = 0; halvings < 40 && found < 12; halvings++) {
    const h = size / 2 ** halvings,
      near = [value(-h), value(h)],
      far = [value(-2 * h), value(2 * h)];
    const [a = NaN, b = NaN, c = NaN, d = NaN] = [...near, ...far];
    const slope = (8 * (b - a) - (d - c)) / (12 * h);
    const rounding = Number.EPSILON * Math.max(Math.abs(a), Math.abs(b)) / h;
    const change = Math.abs(slope - before) + rounding;
    if (change < doubt) [best, doubt] = [slope, change];
    before = slope;
    if (Number.isFinite(slope)) found++;
  }
  if (best !== undefined && Number.isFinite(best)) return best;
  throw new RangeError(
    `propagate requires f finite on both sides of ${name}=${at[name]}; it is not`,
  );
}

function pick(t: Term): Term {
  return { source: t.source, value: t.value, u: t.u, dof: t.dof, sensitivity: t.sensitivity };
}

/** Independent contributions: correlated inputs joined into one, with the fewest degrees of freedom among them. */
function grouped(
  terms: readonly Term[],
  contributions: readonly number[],
  r: readonly (readonly number[])[],
): { u: number; dof: number }[] {
  const seen = new Set<number>();
  const groups: { u: number; dof: number }[] = [];
  for (let start = 0; start < terms.length; start++) {
    if (seen.has(start)) continue;
    const members = connected(start, r, seen);
    let variance = 0, dof = Infinity;
    for (const i of members) {
      if (contributions[i] !== 0) dof = Math.min(dof, terms[i]?.dof ?? Infinity);
      for (const j of members) {
        variance += (contributions[i] ?? 0) * (contributions[j] ?? 0) * (r[i]?.[j] ?? 0);
      }
    }
    groups.push({ u: Math.sqrt(Math.max(0, variance)), dof });
  }
  return groups;
}

/** All inputs tied to one by a chain of correlations, itself among them. */
function connected(start: number, r: readonly (readonly number[])[], seen: Set<number>): number[] {
  const members = [start];
  seen.add(start);
  for (const i of members) {
    (r[i] ?? []).forEach((coefficient, j) => {
      if (coefficient !== 0 && !seen.has(j)) {
        seen.add(j);
        members.push(j);
      }
    });
  }
  return members;
}

// What a bend in the formula adds to an uncertainty, beyond the first-order law.

/** The law of propagation carried to its second order: what a bent formula adds. */
export interface SecondOrder {
  /** first-order standard uncertainty */
  readonly firstOrder: number;
  /** with the second-order terms */
  readonly u: number;
  /** what the bend moves the mean by: ½ Σ f″ᵢᵢ uᵢ² */
  readonly shift: number;
  /** square root of each pair's addition, largest first; negative where the pair lowers the variance */
  readonly terms: readonly { readonly pair: readonly [string, string]; readonly u: number }[];
}

/**
 * Second-order uncertainty of a function of independent, symmetric (near normal) inputs.
 *
 *     u² = Σ cᵢ² uᵢ² + ΣΣ [½ f″ᵢⱼ² + cᵢ f‴ᵢⱼⱼ] uᵢ² uⱼ²
 *
 * Derivatives by differences over a quarter and an eighth of a standard uncertainty.
 *
 * @param f       the function, of an object with the inputs' names
 * @param inputs  independent measured values
 * @throws {RangeError} where f is not finite within half a standard uncertainty
 * @see JCGM 100:2008, 5.1.2 NOTE (its examples read: tests/references/gum-h1-end-gauge.json)
 * @example the square of a number that is zero but for its uncertainty
 * ```ts
 * import assert from "node:assert/strict";
 * const x = { value: 0, u: 0.1, dof: Infinity, unit: "" };
 * const { firstOrder, u, shift } = secondOrder(({ x }) => x * x, { x });
 * assert.equal(firstOrder, 0);
 * assert.equal(u.toFixed(6) + " " + shift.toFixed(3), "0.014142 0.010");
 * ```
 */
export function secondOrder<K extends string>(
  f: (x: Readonly<Record<K, number>>) => number,
  inputs: Readonly<Record<K, Measured>>,
): SecondOrder {
  const names = (Object.keys(inputs) as K[]).filter((name) => inputs[name].u > 0);
  const base = Object.fromEntries(
    (Object.keys(inputs) as K[]).map((name) => [name, inputs[name].value]),
  ) as Record<K, number>;
  const at: At<K> = (moves) => {
    const x = { ...base };
    for (const [name, steps] of moves) x[name] += steps * inputs[name].u;
    const y = f(x);
    if (Number.isFinite(y)) return y;
    throw new RangeError(
      `secondOrder requires f finite within half a standard uncertainty, got ${y} at ${
        JSON.stringify(x)
      }`,
    );
  };
  return combineSecondOrder(
    names,
    (i) => sharpened((h) => (at([[i, h]]) - at([[i, -h]])) / (2 * h)),
    (i, j) => sharpened((h) => secondDifference(at, i, j, h)),
    (i, j) => sharpened((h) => thirdDifference(at, i, j, h)),
  );
}

/** Adds up first, second and third derivatives (f′ᵢ uᵢ, f″ᵢⱼ uᵢ uⱼ, f‴ᵢⱼⱼ uᵢ uⱼ²), each already times the uncertainties that belong to it. */
function combineSecondOrder<K extends string>(
  names: readonly K[],
  first: (i: K) => number,
  second: (i: K, j: K) => number,
  third: (i: K, j: K) => number,
): SecondOrder {
  const slopes = new Map(names.map((name) => [name, first(name)]));
  const slope = (name: K): number => slopes.get(name) ?? 0;
  const terms: { pair: readonly [string, string]; variance: number }[] = [];
  let shift = 0;
  names.forEach((i, a) => {
    for (const j of names.slice(a)) {
      const bend = second(i, j);
      if (i === j) shift += bend / 2;
      const mixed = i === j
        ? bend * bend / 2 + slope(i) * third(i, i)
        : bend * bend + slope(i) * third(i, j) + slope(j) * third(j, i);
      terms.push({ pair: [i, j], variance: mixed });
    }
  });
  const firstOrder = [...slopes.values()].reduce((sum, c) => sum + c * c, 0);
  const total = firstOrder + terms.reduce((sum, t) => sum + t.variance, 0);
  return {
    firstOrder: Math.sqrt(firstOrder),
    u: Math.sqrt(Math.max(0, total)),
    shift,
    terms: terms.map(({ pair, variance }) => ({ pair, u: signedRoot(variance) }))
      .sort((p, q) => Math.abs(q.u) - Math.abs(p.u)),
  };
}

function signedRoot(variance: number): number {
  return Math.sign(variance) * Math.sqrt(Math.abs(variance));
}

/** f with some inputs moved by a number of their standard uncertainties. */
type At<K extends string> = (moves: readonly (readonly [K, number])[]) => number;

/** A difference whose error goes as h², at two steps, the error taken out. */
function sharpened(difference: (h: number) => number): number {
  return (4 * difference(1 / 8) - difference(1 / 4)) / 3;
}

function secondDifference<K extends string>(at: At<K>, i: K, j: K, h: number): number {
  if (i === j) return (at([[i, h]]) - 2 * at([]) + at([[i, -h]])) / (h * h);
  return (at([[i, h], [j, h]]) - at([[i, h], [j, -h]]) - at([[i, -h], [j, h]]) +
    at([[i, -h], [j, -h]])) / (4 * h * h);
}

function thirdDifference<K extends string>(at: At<K>, i: K, j: K, h: number): number {
  if (i === j) {
    return (at([[i, 2 * h]]) - 2 * at([[i, h]]) + 2 * at([[i, -h]]) - at([[i, -2 * h]])) /
      (2 * h ** 3);
  }
  const bend = (side: number): number =>
    at([[i, side], [j, h]]) - 2 * at([[i, side]]) + at([[i, side], [j, -h]]);
  return (bend(h) - bend(-h)) / (2 * h ** 3);
}
