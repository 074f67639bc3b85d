import assert from "node:assert/strict";
import fc from "fast-check";
import { cumulativeIntegral, gaussLegendre, integrate } from "../../lib/numeric/quadrature.ts";
import { near } from "../references/reference.ts";

Deno.test("nodes and weights in closed form", () => {
  // DERIVED: n = 2: ±1/√3, 1; n = 3: 0, ±√(3/5), 8/9, 5/9
  const two = gaussLegendre(2), three = gaussLegendre(3);
  near(two.nodes[1], 1 / Math.sqrt(3), 1e-15, "1/√3");
  near(two.weights[0], 1, 1e-15, "1");
  near(three.nodes[2], Math.sqrt(0.6), 1e-15, "√0.6");
  assert.equal(three.nodes[1], 0);
  near(three.weights[1], 8 / 9, 1e-15, "8/9");
  near(three.weights[2], 5 / 9, 1e-15, "5/9");
  assert.deepEqual(gaussLegendre(1).nodes.map(Math.abs), [0]);
});

Deno.test("law: n nodes are exact to degree 2n - 1, rise, and weigh 2 together", () => {
  fc.assert(fc.property(fc.integer({ min: 1, max: 64 }), fc.nat(), (n, pick) => {
    const { nodes, weights } = gaussLegendre(n), degree = pick % (2 * n);
    const sum = nodes.reduce((total, x, i) => total + (weights[i] ?? 0) * x ** degree, 0);
    near(sum, degree % 2 === 0 ? 2 / (degree + 1) : 0, 5e-15, `degree ${degree}`, "absolute");
    assert.ok(nodes.every((x, i) => Math.abs(x) < 1 && (i === 0 || x > (nodes[i - 1] ?? 1))));
    near(weights.reduce((a, b) => a + b, 0), 2, 1e-13, "weights");
  }));
});

Deno.test("integrals known in closed form, smooth and not", () => {
  // DERIVED: elementary antiderivatives
  const cases: readonly (readonly [string, (x: number) => number, number, number, number])[] = [
    ["e^x", Math.exp, 0, 1, Math.E - 1],
    ["sin", Math.sin, 0, Math.PI, 2],
    ["√x", Math.sqrt, 0, 1, 2 / 3],
    ["|x - 0.3|", (x) => Math.abs(x - 0.3), 0, 1, 0.29],
    ["1/(1+x²)", (x) => 1 / (1 + x * x), -10, 10, 2 * Math.atan(10)],
    ["a narrow peak", (x) => 1e-3 / (1e-6 + (x - 0.4) ** 2), 0, 1, Math.atan(600) + Math.atan(400)],
    ["backwards", Math.exp, 1, 0, 1 - Math.E],
    ["no width", Math.exp, 2, 2, 0],
  ];
  for (const [name, f, a, b, wanted] of cases) {
    near(integrate(f, a, b), wanted, 2e-12, name, "absolute");
  }
  near(integrate(() => 0, 0, 1), 0, 0, "zero", "absolute");
});

Deno.test("law: an integral splits anywhere", () => {
  const end = fc.double({ min: -5, max: 5, noNaN: true });
  fc.assert(fc.property(end, end, end, (a, b, c) => {
    const f = (x: number): number => Math.cos(3 * x) + x * x;
    near(integrate(f, a, b) + integrate(f, b, c), integrate(f, a, c), 1e-10, "sum", "absolute");
  }));
});

Deno.test("running totals", () => {
  const x = Float64Array.from({ length: 101 }, (_, i) => i / 100);
  const total = cumulativeIntegral(x, x.map((v) => 2 * v));
  total.forEach((v, i) => near(v, (x[i] ?? 0) ** 2, 1e-13, "x²", "absolute"));
  assert.deepEqual([...cumulativeIntegral([], [])], []);
  assert.deepEqual([...cumulativeIntegral([3], [7])], [0]);
});

Deno.test("wrong arguments are refused", () => {
  for (const n of [0, 2.5, NaN]) assert.throws(() => gaussLegendre(n), /whole n of 1 or more/);
  assert.throws(() => integrate(Math.sqrt, -1, 1), /f finite between/);
  assert.throws(() => integrate(Math.exp, 0, Infinity), /finite ends/);
  assert.throws(() => cumulativeIntegral([0, 1], [1]), /got 2 and 1/);
  assert.throws(() => cumulativeIntegral([0, 0], [1, 1]), /rising places, got 0, 0/);
});
