/** From a standard uncertainty to an interval, with its degrees of freedom respected. */
import { tQuantile } from "../numeric/quantiles.ts";
import type { Measured } from "./measured.ts";

/**
 * How many standard uncertainties make an interval of probability p: Student's t, with the degrees of freedom cut
 * down to a whole number (the cautious reading; below 1 they are taken as they are).
 *
 * @param p    probability of the interval, between 0 and 1; usually 0.95
 * @param dof  degrees of freedom, above 0; `Infinity` gives 1.96 for 0.95
 * @throws {RangeError} outside those ranges
 * @see JCGM 100:2008, G.4.1 (its example: tests/references/gum-g4-welch-satterthwaite.json)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(coverageFactor(0.95, 5).toFixed(2), "2.57");
 * assert.equal(coverageFactor(0.95, Infinity).toFixed(2), "1.96");
 * ```
 */
export function coverageFactor(p: number, dof: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`coverageFactor requires 0 < p < 1, got p=${p}`);
  return tQuantile((1 + p) / 2, dof >= 1 && dof < Infinity ? Math.floor(dof + 1e-9) : dof);
}

/**
 * The interval that holds the true value with probability p.
 *
 * @param m  a measured value
 * @param p  between 0 and 1, default 0.95
 * @returns [low, high], in the value's unit
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const [low, high] = interval({ value: 100, u: 1, dof: 5, unit: "mm" });
 * assert.equal(low.toFixed(2) + " " + high.toFixed(2), "97.43 102.57");
 * ```
 */
export function interval(m: Measured, p = 0.95): readonly [number, number] {
  const half = m.u === 0 ? 0 : coverageFactor(p, m.dof) * m.u;
  return [m.value - half, m.value + half];
}

/**
 * Effective degrees of freedom of a sum of independent contributions (Welch-Satterthwaite).
 *
 *     dof = u⁴ / Σ (uᵢ⁴ / dofᵢ),   u² = Σ uᵢ²
 *
 * Not valid for correlated contributions.
 *
 * @param contributions  each with `u`, already in the result's unit (sign does not matter), and `dof`
 * @returns above 0; `Infinity` where no contribution has finite degrees of freedom
 * @see JCGM 100:2008, G.4.1, equation G.2b (its example: tests/references/gum-g4-welch-satterthwaite.json)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(effectiveDof([{ u: 0.57, dof: 9 }, { u: 0.25, dof: Infinity }]).toFixed(1), "12.8");
 * ```
 */
export function effectiveDof(
  contributions: readonly { readonly u: number; readonly dof: number }[],
): number {
  let variance = 0;
  for (const { u, dof } of contributions) {
    if (!(Number.isFinite(u) && dof > 0)) {
      throw new RangeError(
        `effectiveDof requires finite u and dof above 0, got u=${u}, dof=${dof}`,
      );
    }
    variance += u * u;
  }
  if (variance === 0) return Infinity;
  let sum = 0;
  for (const { u, dof } of contributions) sum += (u * u / variance) ** 2 / dof;
  return sum === 0 ? Infinity : 1 / sum;
}
