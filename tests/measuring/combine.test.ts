import assert from "node:assert/strict";
import fc from "fast-check";
import { agreement, combine, type Weighable } from "../../lib/measuring/combine.ts";
import type { Component } from "../../lib/measuring/estimate.ts";
import type { Method } from "../../lib/measuring/methods/methods.ts";
import { measured } from "../../lib/quantity/measured.ts";
import { Agreement, readReference } from "./reference.ts";

interface Expected {
  weighted_mean: number;
  u_internal: number;
  chi2: number;
  birge: number;
  u_reported_max: number;
  mandel_paule: { tau: number; mean: number; u: number };
  p_value: number;
}

interface Reference {
  inputs: {
    consistent: { R: number[]; u: number[] };
    disagree: { R: number[]; u: number[] };
    generic: { x: number[]; u: number[] };
  };
  expected: {
    consistent: Expected;
    disagree: Expected;
    generic: Expected;
    En: { x1: number; U1: number; x2: number; U2: number; E_n: number }[];
    correlated: { mean: number; u: number };
  };
  tolerance: { rel: number; mandel_paule_rel: number };
}

// CROSS-CHECK scipy 1.10.1: tests/references/combine-estimates.json
const { inputs, expected, tolerance } = readReference<Reference>("combine-estimates");
const METHODS: readonly Method[] = [
  "leaves",
  "spherometer",
  "sun distance",
  "depth gauge",
  "sun image",
];

function estimates(
  values: readonly number[],
  us: readonly number[],
  dof = Infinity,
): readonly Weighable[] {
  return values.map((value, at) => {
    const u = us[at] ?? NaN;
    const method = METHODS[at] ?? "leaves";
    const radius = measured(value, u, "mm", dof);
    return { method, radius, components: [{ source: `${method} readings`, u, dof }] };
  });
}

Deno.test("weighted mean, Birge ratio, p, Mandel and Paule: three published-style sets", () => {
  const agree = new Agreement();
  const { rel, mandel_paule_rel } = tolerance;
  const sets = [
    [inputs.consistent.R, inputs.consistent.u, expected.consistent],
    [inputs.disagree.R, inputs.disagree.u, expected.disagree],
    [inputs.generic.x, inputs.generic.u, expected.generic],
  ] as const;
  for (const [values, us, want] of sets) {
    const got = combine(estimates(values, us));
    agree.check(got.weightedMean.value, want.weighted_mean, rel, "mean");
    agree.check(got.weightedMean.u, want.u_internal, rel, "u");
    agree.check(got.chiSquare, want.chi2, rel, "chi-square");
    agree.check(got.birgeRatio ?? NaN, want.birge, rel, "Birge");
    agree.check(got.birge.u, want.u_reported_max, rel, "u by Birge");
    agree.check(got.p ?? NaN, want.p_value, rel, "p");
    agree.check(got.radius.value, want.mandel_paule.mean, mandel_paule_rel, "Mandel-Paule");
    agree.check(got.radius.u, want.mandel_paule.u, mandel_paule_rel, "Mandel-Paule u");
    agree.check(got.mandelPaule?.tau ?? 0, want.mandel_paule.tau, mandel_paule_rel, "tau");
  }
  agree.report("combine-estimates");
});

Deno.test("where they agree nothing is odd; where they do not the odd one is named", () => {
  const calm = combine(estimates(inputs.consistent.R, inputs.consistent.u));
  assert.deepEqual([calm.consistent, calm.oddOne, calm.mandelPaule], [true, undefined, undefined]);
  const torn = combine(estimates(inputs.disagree.R, inputs.disagree.u));
  assert.deepEqual([torn.consistent, torn.oddOne], [false, "leaves"]);
  assert.equal(combine(estimates([2400, 2402, 2460], [5, 5, 5])).oddOne, "sun distance");
  assert.equal(combine(estimates([2400, 2460], [5, 5])).oddOne, undefined, "of two, nobody knows");
});

Deno.test("E_n of two results", () => {
  const agree = new Agreement();
  for (const { x1, U1, x2, U2, E_n } of expected.En) {
    agree.check(
      agreement({ value: x1, u: U1 / 2 }, { value: x2, u: U2 / 2 }),
      E_n,
      tolerance.rel,
      "E_n",
    );
  }
  agree.report("combine-estimates, E_n");
  assert.throws(() => agreement({ value: 1, u: 0 }, { value: 2, u: 0 }), /u above 0/);
});

Deno.test("a shared error is correlation", () => {
  const agree = new Agreement();
  const shared = (own: number): Component[] => [
    { source: "own", u: own, dof: Infinity },
    { source: "ruler", u: 4, dof: Infinity, shared: "ruler" },
  ];
  // The file's covariance: 900, 36 and 64 on the diagonal, 16 between the second and third.
  const [first, second, third] = estimates([2390, 2402, 2410], [30, 6, 8]);
  assert.ok(first && second && third);
  const both = combine([
    first,
    { ...second, components: shared(Math.sqrt(20)) },
    { ...third, components: shared(Math.sqrt(48)) },
  ]);
  agree.check(both.weightedMean.value, expected.correlated.mean, tolerance.rel, "mean");
  agree.check(both.weightedMean.u, expected.correlated.u, tolerance.rel, "u");
  agree.report("combine-estimates, correlated");
  assert.equal(both.budget.filter(({ source }) => source === "ruler").length, 1);
});

Deno.test("few readings behind a u allow more difference (Welch)", () => {
  const sure = combine(estimates([2395, 2408], [4, 4]));
  const unsure = combine(estimates([2395, 2408], [4, 4], 4));
  assert.ok((unsure.p ?? 0) > (sure.p ?? 1));
  // DERIVED: two estimates, difference 13 with u sqrt 32 and 8 degrees of freedom: t 2.298, two-sided p 0.0507.
  assert.ok(Math.abs((unsure.p ?? 0) - 0.0507) < 5e-4);
  assert.deepEqual([sure.consistent, unsure.consistent], [false, true]);
});

const value = fc.double({ min: 2300, max: 2500, noNaN: true });
const uncertainty = fc.double({ min: 1, max: 40, noNaN: true });
const several = fc.array(fc.tuple(value, uncertainty), { minLength: 1, maxLength: 5 });
const of = (list: readonly (readonly [number, number])[]): readonly Weighable[] =>
  estimates(list.map(([x]) => x), list.map(([, u]) => u), 6);

Deno.test("law: the mean lies between, weights and budget sum to 1, u never shrinks", () => {
  fc.assert(fc.property(several, (list) => {
    const got = combine(of(list));
    const values = list.map(([x]) => x);
    assert.ok(got.radius.value >= Math.min(...values) - 1e-9);
    assert.ok(got.radius.value <= Math.max(...values) + 1e-9);
    const sum = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0);
    assert.ok(Math.abs(sum(got.weights) - 1) < 1e-12);
    assert.ok(Math.abs(sum(got.budget.map(({ share }) => share)) - 1) < 1e-9);
    assert.ok(got.budget.every(({ share }) => share >= 0));
    assert.ok(got.radius.u >= got.weightedMean.u * (1 - 1e-12));
    assert.ok(got.radius.dof >= 1);
  }));
});

Deno.test("law: order, origin and unit do not matter", () => {
  fc.assert(fc.property(several, (list) => {
    const got = combine(of(list));
    const turned = combine(of(list.toReversed()));
    assert.ok(Math.abs(turned.radius.value - got.radius.value) < 1e-6);
    const inches = combine(of(list.map(([x, u]) => [x / 25.4, u / 25.4] as const)));
    assert.ok(Math.abs(inches.radius.value * 25.4 - got.radius.value) < 1e-6);
    assert.ok(Math.abs(inches.radius.u * 25.4 - got.radius.u) < 1e-6);
    assert.equal(inches.consistent, got.consistent);
  }));
});

Deno.test("law: with Mandel and Paule's tau the differences are as large as they should be", () => {
  fc.assert(fc.property(several, (list) => {
    const { mandelPaule } = combine(of(list));
    if (mandelPaule === undefined) return;
    const { value: mean, tau } = mandelPaule;
    const chi = list.reduce((sum, [x, u]) => sum + (x - mean) ** 2 / (u ** 2 + tau ** 2), 0);
    assert.ok(Math.abs(chi - (list.length - 1)) < 1e-6);
  }));
});

Deno.test("one estimate is itself", () => {
  const [only] = estimates([2398.7], [13.9], 5);
  assert.ok(only);
  const got = combine([only]);
  assert.deepEqual(got.radius, only.radius);
  assert.deepEqual([got.birgeRatio, got.p, got.consistent], [undefined, undefined, true]);
  assert.deepEqual(got.weights, [1]);
});

Deno.test("none, or one that claims to be exact, is refused", () => {
  assert.throws(() => combine([]), /one estimate or more, .* got none/);
  assert.throws(() => combine(estimates([2400, 2401], [0, 5])), /got u=0 for leaves/);
});
