/** What a bend in the formula adds to an uncertainty, beyond the first-order law. */
import type { Measured } from "./measured.ts";

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
 * @see JCGM 100:2008, 5.1.2 NOTE (from memory)
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
