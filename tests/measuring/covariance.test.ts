import assert from "node:assert/strict";
import fc from "fast-check";
import { covarianceOf, solveSymmetric } from "../../lib/measuring/covariance.ts";
import type { Component } from "../../lib/measuring/estimate.ts";

const own = (u: number): Component => ({ source: "own", u, dof: Infinity });
const ruler = (u: number): Component => ({ source: "ruler", u, dof: Infinity, shared: "ruler" });
const size = fc.double({ min: 0.5, max: 50, noNaN: true });

Deno.test("a shared error stands beside the diagonal with its signs", () => {
  assert.deepEqual(covarianceOf([[own(3), ruler(4)], [own(12), ruler(-5)], [own(1)]]), [
    [25, -20, 0],
    [-20, 169, 0],
    [0, 0, 1],
  ]);
});

Deno.test("one shared error twice in one estimate adds up before it is squared", () => {
  assert.deepEqual(covarianceOf([[ruler(2), ruler(3)]]), [[25]]);
});

Deno.test("law: the solution solves", () => {
  const estimates = fc.array(fc.record({ own: size, ruler: size }), { minLength: 1, maxLength: 5 });
  fc.assert(fc.property(estimates, (list) => {
    const matrix = covarianceOf(list.map((one) => [own(one.own), ruler(one.ruler)]));
    const right = list.map((_, at) => at + 1);
    const x = solveSymmetric(matrix, right);
    matrix.forEach((row, i) => {
      const got = row.reduce((sum, c, j) => sum + c * (x[j] ?? NaN), 0);
      const scale = row.reduce((sum, c, j) => sum + Math.abs(c * (x[j] ?? NaN)), 1);
      // Shares of up to 0.9999 lose four digits of sixteen.
      assert.ok(Math.abs(got - (right[i] ?? NaN)) < 1e-9 * scale);
    });
  }));
});

Deno.test("law: scales from nanometres to metres do not matter", () => {
  const x = solveSymmetric([[1e-12, 0], [0, 1e12]], [1, 1]);
  assert.deepEqual(x.map((v) => Number(v.toPrecision(12))), [1e12, 1e-12]);
});

Deno.test("two estimates with nothing of their own cannot be weighed", () => {
  const matrix = covarianceOf([[ruler(2)], [ruler(3)]]);
  assert.throws(() => solveSymmetric(matrix, [1, 1]), /share all their errors/);
});
