import assert from "node:assert/strict";
import fc from "fast-check";
import { gaussLegendre } from "../../lib/numeric/quadrature.ts";
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

Deno.test("wrong arguments are refused", () => {
  for (const n of [0, 2.5, NaN]) assert.throws(() => gaussLegendre(n), /whole n of 1 or more/);
});
