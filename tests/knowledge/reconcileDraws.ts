/** Tests of one surface by normal draws, and what no statistics could better: for the test of reconciling and its trial. */
import assert from "node:assert/strict";
import { reconcileTests, type SurfaceReading } from "../../lib/knowledge/reconcileTests.ts";
import { tCdf } from "../../lib/numeric/quantiles.ts";
import { SURFACE_TERMS } from "../../lib/testing/surfaceTerms.ts";
import { otherDice } from "../testing/photoOther.ts";

type Test = SurfaceReading["test"];

/** Normal errors of a test in the terms that it sees, each with its u; those left out are not seen. */
export interface Sees {
  readonly test: Test;
  readonly us: readonly (number | undefined)[];
}

/** What a test says, by a rule. */
export const reading = (
  { test, us }: Sees,
  valueOf: (k: number, u: number) => number,
): SurfaceReading => {
  const seen = us.flatMap((u, k) => u === undefined ? [] : [{ u, k }]);
  return {
    test,
    again: 0.5,
    terms: seen.map(({ k }) => SURFACE_TERMS[k] ?? assert.fail()),
    values: seen.map(({ k, u }) => valueOf(k, u)),
    covariance: seen.map(({ u }, i) => seen.map((_, j) => i === j ? u * u : 0)),
  };
};

/** Readings of a surface that is nothing but what `dice` make of it. */
export const fairly = (
  sees: readonly Sees[],
  dice: { bell: () => number },
  truth: readonly number[],
): readonly SurfaceReading[] =>
  sees.map((one) => reading(one, (k, u) => (truth[k] ?? 0) + u * dice.bell()));

/** Like tests of some terms. */
export const like = (count: number, terms: number, ratio = 1): readonly Sees[] =>
  (["knife", "zones", "bands", "star"] as const).slice(0, count).map((test, k) => ({
    test,
    us: Array.from({ length: terms }, () => k === 0 ? 1 : ratio),
  }));

/**
 * DERIVED. The error e of the test with the least stated doubt u is that of the mean, c of u_c, and one independent of it, d, since the
 * mean has the least variance: e = c + d. The mean is nearer over p terms where 2 c d + d^2 > 0, that is with chance Phi(|d| / 2 u_c)
 * for a given d; over all d, whose square has p degrees of freedom, this is Student's law of p at sqrt p sqrt(u^2 / u_c^2 - 1) / 2.
 */
export const nearest = (terms: number, ratio: number): number =>
  tCdf((Math.sqrt(terms) * Math.sqrt(ratio ** 2 - 1)) / 2, terms);

/** How often the joined surface is nearer the truth than the first test, and how much of it lies in its 95 %. */
export function nearerShare(
  sees: readonly Sees[],
  terms: number,
  draws: number,
  seed: number,
): { readonly nearer: number; readonly held: number } {
  const dice = otherDice(seed);
  let nearer = 0, held = 0;
  for (let n = 0; n < draws; n++) {
    const truth = Array.from({ length: terms }, () => dice.from(-30, 30));
    const fair = fairly(sees, dice, truth), { values, covariance } = reconcileTests(fair);
    const square = (at: readonly number[]): number =>
      truth.reduce((sum, v, k) => sum + ((at[k] ?? NaN) - v) ** 2, 0);
    if (square(values) < square(fair[0]?.values ?? [])) nearer++;
    held += truth.filter((v, k) =>
      Math.abs((values[k] ?? NaN) - v) < 1.96 * Math.sqrt(covariance[k]?.[k] ?? NaN)
    ).length / terms;
  }
  return { nearer: nearer / draws, held: held / draws };
}

/** INVENTED what each test sees and how well, nm: a bench with two seats, two knives and a star; all as a class's trials left them. */
export const BENCH: readonly Sees[] = [
  { test: "zones", us: [3.3, 3, 3, 3, 4, 4] },
  { test: "bands", us: [4, 3, 3, 3] },
  { test: "star", us: [8, , , , 8, , 8] },
  { test: "knife", us: [2.5, 2, 2, 2, 3, 3, 2, 2] },
];

/** The same with bands from both sides and two turns, so that all three see everything but the star. */
export const WHOLE: readonly Sees[] = [
  { test: "zones", us: [3.3, 3, 3, 3, 4, 4] },
  { test: "bands", us: [4, 3, 3, 3, 4, 4, 3, 3] },
  { test: "knife", us: [2.5, 2, 2, 2, 3, 3, 2, 2] },
];

/** ln of how likely a reading is, but for what all hypotheses share: with one test moved by `by` of its u in all that it sees. */
function likelihood(all: readonly SurfaceReading[], moved: number, by: number): number {
  const plain = all.map((one, n) =>
    n === moved
      ? {
        ...one,
        values: one.values.map((v, k) => v - by * Math.sqrt(one.covariance[k]?.[k] ?? 0)),
      }
      : one
  );
  // independent terms: chi-square of each about its own mean
  return -0.5 * SURFACE_TERMS.reduce((sum, term) => {
    const seen = plain.flatMap((one) => {
      const k = one.terms.indexOf(term);
      return k < 0 ? [] : [{ v: one.values[k] ?? 0, w: 1 / (one.covariance[k]?.[k] ?? 1) }];
    });
    const weight = seen.reduce((a, { w }) => a + w, 0);
    const mean = seen.reduce((a, { v, w }) => a + v * w, 0) / weight;
    return sum + seen.reduce((a, { v, w }) => a + w * (v - mean) ** 2, 0);
  }, 0);
}

/** What becomes of a test that is off by some of its own u in all that it sees, as shares of the draws. */
export interface OddShares {
  readonly doubted: number;
  readonly named: number;
  readonly wrongly: number;
  /** doubted where none is wrong */
  readonly falsely: number;
  /** named by a judge who knows how far off it is and which way */
  readonly most: number;
}

/** Each test in its turn is off by `by` of its u. */
export function oddShares(sees: readonly Sees[], draws: number, seed: number, by = 3): OddShares {
  const dice = otherDice(seed);
  let doubted = 0, named = 0, wrongly = 0, falsely = 0, best = 0;
  for (let n = 0; n < draws; n++) {
    const fair = fairly(sees, dice, []), odd = n % sees.length;
    if (!reconcileTests(fair).consistent) falsely++;
    const spoilt = fair.map((one, k) =>
      k === odd
        ? {
          ...one,
          values: one.values.map((v, i) => v + by * Math.sqrt(one.covariance[i]?.[i] ?? 0)),
        }
        : one
    );
    const { oddOne, consistent } = reconcileTests(spoilt);
    if (!consistent) doubted++;
    if (oddOne === sees[odd]?.test) named++;
    else if (oddOne !== undefined) wrongly++;
    // DERIVED (Neyman and Pearson): no rule that is asked only which names more rightly than the likeliest
    const likely = sees.map((_, k) => likelihood(spoilt, k, by));
    if (likely.indexOf(Math.max(...likely)) === odd) best++;
  }
  return {
    doubted: doubted / draws,
    named: named / draws,
    wrongly: wrongly / draws,
    falsely: falsely / draws,
    most: best / draws,
  };
}
