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
 * Derivatives by differences over one standard uncertainty either way, which is the bend that matters.
 *
 * @param f       the function, of an object with the inputs' names
 * @param inputs  independent measured values
 * @throws {RangeError} where f is not finite within two standard uncertainties
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
  const at = stepper(f, inputs);
  const centre = at([]);
  const slope = names.map((i) =>
    (8 * (at([[i, 1]]) - at([[i, -1]])) - (at([[i, 2]]) - at([[i, -2]]))) / 12
  );
  const terms: { pair: readonly [string, string]; variance: number }[] = [];
  let shift = 0;
  names.forEach((i, a) => {
    shift += (at([[i, 1]]) - 2 * centre + at([[i, -1]])) / 2;
    names.slice(a).forEach((j, offset) => {
      const mixed = secondDifference(at, centre, i, j);
      const b = a + offset;
      const third = (slope[a] ?? 0) * thirdDifference(at, i, j) +
        (a === b ? 0 : (slope[b] ?? 0) * thirdDifference(at, j, i));
      terms.push({ pair: [i, j], variance: (a === b ? 0.5 : 1) * mixed * mixed + third });
    });
  });
  const first = slope.reduce((sum, c) => sum + c * c, 0);
  const total = first + terms.reduce((sum, t) => sum + t.variance, 0);
  return {
    firstOrder: Math.sqrt(first),
    u: Math.sqrt(Math.max(0, total)),
    shift,
    terms: terms
      .map(({ pair, variance }) => ({
        pair,
        u: Math.sign(variance) * Math.sqrt(Math.abs(variance)),
      }))
      .sort((p, q) => Math.abs(q.u) - Math.abs(p.u)),
  };
}

/** f with some inputs moved by a number of their standard uncertainties. */
type At<K extends string> = (moves: readonly (readonly [K, number])[]) => number;

function stepper<K extends string>(
  f: (x: Readonly<Record<K, number>>) => number,
  inputs: Readonly<Record<K, Measured>>,
): At<K> {
  const base = Object.fromEntries(
    (Object.keys(inputs) as K[]).map((name) => [name, inputs[name].value]),
  ) as Record<K, number>;
  return (moves) => {
    const x = { ...base };
    for (const [name, steps] of moves) x[name] += steps * inputs[name].u;
    const y = f(x);
    if (Number.isFinite(y)) return y;
    throw new RangeError(
      `secondOrder requires f finite within two standard uncertainties, got ${y} at ${
        JSON.stringify(x)
      }`,
    );
  };
}

/** f″ᵢⱼ uᵢ uⱼ */
function secondDifference<K extends string>(at: At<K>, centre: number, i: K, j: K): number {
  if (i === j) return at([[i, 1]]) - 2 * centre + at([[i, -1]]);
  return (at([[i, 1], [j, 1]]) - at([[i, 1], [j, -1]]) - at([[i, -1], [j, 1]]) +
    at([[i, -1], [j, -1]])) / 4;
}

/** f‴ᵢⱼⱼ uᵢ uⱼ² */
function thirdDifference<K extends string>(at: At<K>, i: K, j: K): number {
  if (i === j) {
    return (at([[i, 2]]) - 2 * at([[i, 1]]) + 2 * at([[i, -1]]) - at([[i, -2]])) / 2;
  }
  const bend = (side: number): number =>
    at([[i, side], [j, 1]]) - 2 * at([[i, side]]) + at([[i, side], [j, -1]]);
  return (bend(1) - bend(-1)) / 2;
}
