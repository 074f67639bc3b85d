import assert from "node:assert/strict";
import fc from "fast-check";
import { betweenMethods, weigh, welchP, widened } from "../../lib/measuring/weighing.ts";
import { chiSquareUpper, tCdf } from "../../lib/numeric/quantiles.ts";

const value = fc.double({ min: -100, max: 100, noNaN: true });
const variance = fc.double({ min: 0.01, max: 100, noNaN: true });
const diagonal = (variances: readonly number[]): readonly (readonly number[])[] =>
  variances.map((v, i) => variances.map((_, j) => (i === j ? v : 0)));
const sets = fc.array(fc.tuple(value, variance), { minLength: 2, maxLength: 6 });

Deno.test("law: without shared errors weights are one over the variance", () => {
  fc.assert(fc.property(sets, (list) => {
    const variances = list.map(([, v]) => v);
    const sum = variances.reduce((total, v) => total + 1 / v, 0);
    const got = weigh(list.map(([x]) => x), diagonal(variances));
    got.weights.forEach((weight, at) =>
      assert.ok(Math.abs(weight - 1 / (variances[at] ?? NaN) / sum) < 1e-9)
    );
    assert.ok(Math.abs(got.u - 1 / Math.sqrt(sum)) < 1e-9);
    const mean = list.reduce((total, [x, v]) => total + x / v, 0) / sum;
    assert.ok(Math.abs(got.value - mean) < 1e-8);
    const chi = list.reduce((total, [x, v]) => total + (x - mean) ** 2 / v, 0);
    assert.ok(Math.abs(got.chiSquare - chi) < 1e-6 * (1 + chi));
  }));
});

Deno.test("strongly shared errors can ask for a negative weight", () => {
  // DERIVED: C = [[1, 2], [2, 5]], inverse [[5, -2], [-2, 1]], row sums 3 and -1.
  const got = weigh([10, 11], [[1, 2], [2, 5]]);
  assert.ok(Math.abs((got.weights[0] ?? 0) - 1.5) < 1e-12);
  assert.ok(Math.abs((got.weights[1] ?? 0) + 0.5) < 1e-12);
  assert.ok(Math.abs(got.value - 9.5) < 1e-12);
});

Deno.test("p with u's taken as known is the chi-square test", () => {
  const got = weigh([0, 3, 1], diagonal([1, 1, 1]));
  assert.equal(welchP(got, [Infinity, Infinity, Infinity]), chiSquareUpper(got.chiSquare, 2));
});

Deno.test("p of two is Student's t with Welch and Satterthwaite's degrees of freedom", () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 8, noNaN: true }), variance, variance, (d, a, b) => {
      const p = welchP(weigh([0, d], diagonal([a, b])), [4, 9]);
      // DERIVED: t = d / sqrt(a + b), dof = (a + b)^2 / (a^2 / 4 + b^2 / 9)
      const dof = (a + b) ** 2 / (a ** 2 / 4 + b ** 2 / 9);
      const expected = 2 * (1 - tCdf(d / Math.sqrt(a + b), dof));
      assert.ok(Math.abs(p - expected) < 1e-9);
    }),
  );
});

Deno.test("p of three against a worked example of Welch's test", () => {
  // CROSS-CHECK secondRoute.py, Welch: the formula with scipy's f.sf, means 10.1 10.9 12.0, variances of the means
  // 0.09 0.16 0.25, dof 4 5 6 gives F 5.158608, 2 and 9.9599 degrees of freedom.
  const got = weigh([10.1, 10.9, 12], diagonal([0.09, 0.16, 0.25]));
  assert.ok(Math.abs(welchP(got, [4, 5, 6]) - 0.029002508754473685) < 1e-9);
});

Deno.test("law: tau brings chi-square to n - 1, and is 0 where it is below already", () => {
  fc.assert(fc.property(sets, (list) => {
    const values = list.map(([x]) => x);
    const covariance = diagonal(list.map(([, v]) => v));
    const tau = betweenMethods(values, covariance);
    const { chiSquare } = weigh(values, widened(covariance, tau));
    const target = list.length - 1;
    assert.ok(tau === 0 ? chiSquare <= target + 1e-9 : Math.abs(chiSquare - target) < 1e-6);
  }));
});

Deno.test("widening touches the diagonal only", () => {
  assert.deepEqual(widened([[1, 0.5], [0.5, 2]], 3), [[10, 0.5], [0.5, 11]]);
});
