import assert from "node:assert/strict";
import fc from "fast-check";
import { incompleteBeta, incompleteGamma, logGamma } from "../../lib/numeric/specialFunctions.ts";
import { near, reference } from "../references/reference.ts";

const { expected, tolerance } = reference<
  object,
  { readonly functions: readonly (readonly [string, readonly number[], number])[] }
>("quantiles");
const rel = tolerance["rel"] ?? 0;
const wanted = (name: string): number => expected.functions.find(([n]) => n === name)?.[2] ?? NaN;

Deno.test("reference values of the three functions", () => {
  near(incompleteGamma(2.5, 1.3).lower, wanted("gammainc_P"), rel, "P(2.5, 1.3)");
  near(incompleteBeta(2, 3, 0.4).lower, wanted("betainc_I"), rel, "I_0.4(2, 3)");
  near(logGamma(10.3), wanted("lgamma"), rel, "ln Γ(10.3)");
});

Deno.test("gamma of whole and half numbers", () => {
  // DERIVED: Γ(n+1) = n!, Γ(1/2) = √π
  let factorial = 1;
  for (let n = 1; n <= 20; n++) {
    factorial *= n;
    near(Math.exp(logGamma(n + 1)), factorial, 2e-14, `${n}!`);
  }
  near(logGamma(0.5), Math.log(Math.sqrt(Math.PI)), 1e-14, "ln Γ(1/2)");
  near(logGamma(1), 0, 2e-15, "ln Γ(1)", "absolute");
});

const shape = fc.double({ min: 0.1, max: 300, noNaN: true });

Deno.test("law: Γ(x+1) = x Γ(x)", () => {
  fc.assert(fc.property(shape, (x) => {
    near(logGamma(x + 1) - logGamma(x), Math.log(x), 1e-12, "recurrence", "absolute");
  }));
});

Deno.test("law: the tails of the incomplete gamma add to one and obey their recurrence", () => {
  fc.assert(fc.property(shape, fc.double({ min: 0.01, max: 400, noNaN: true }), (a, x) => {
    const { lower, upper } = incompleteGamma(a, x);
    near(lower + upper, 1, 1e-13, "sum");
    const step = Math.exp(a * Math.log(x) - x - logGamma(a + 1));
    near(incompleteGamma(a + 1, x).lower, lower - step, 1e-11, "P(a+1,x)", "absolute");
  }));
});

Deno.test("law: I_x(a, b) + I_(1-x)(b, a) = 1", () => {
  fc.assert(
    fc.property(shape, shape, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (a, b, x) => {
      near(incompleteBeta(a, b, x).lower + incompleteBeta(b, a, 1 - x).lower, 1, 1e-10, "mirror");
    }),
  );
});

Deno.test("a tail stays exact where it is tiny", () => {
  // DERIVED: I_x(a, 1) = x^a; Q(1, x) = e^-x
  near(incompleteBeta(40, 1, 1e-3).lower, 1e-120, 1e-11, "1e-120");
  near(incompleteGamma(1, 500).upper, Math.exp(-500), 1e-11, "e^-500");
});

Deno.test("the ends, and what is refused", () => {
  assert.deepEqual(incompleteGamma(2, 0), { lower: 0, upper: 1 });
  assert.deepEqual(incompleteGamma(2, Infinity), { lower: 1, upper: 0 });
  assert.deepEqual(incompleteBeta(2, 3, 0), { lower: 0, upper: 1 });
  assert.deepEqual(incompleteBeta(2, 3, 1), { lower: 1, upper: 0 });
  assert.throws(() => logGamma(0), RangeError);
  assert.throws(() => incompleteGamma(-1, 2), /a=-1/);
  assert.throws(() => incompleteBeta(1, 1, 1.5), /x=1.5/);
});
