import assert from "node:assert/strict";
import fc from "fast-check";
import { findRoot } from "../../lib/numeric/rootFinding.ts";
import { near } from "../references/reference.ts";

Deno.test("roots known in closed form", () => {
  // DERIVED: √2; ln 3; the Dottie number from its own equation, checked below
  near(findRoot((x) => x * x - 2, 0, 2), Math.SQRT2, 4e-16, "√2");
  near(findRoot((x) => Math.exp(x) - 3, -50, 50), Math.log(3), 4e-16, "ln 3");
  const fixed = findRoot((x) => Math.cos(x) - x, 0, 1);
  near(Math.cos(fixed), fixed, 4e-16, "cos x = x");
  near(findRoot((x) => x ** 9, -1, 2), 0, 1e-12, "flat root", "absolute");
});

Deno.test("law: a cubic's only real root, wherever it lies and however the bracket does", () => {
  const place = fc.double({ min: -100, max: 100, noNaN: true }),
    wide = fc.double({ min: 1e-3, max: 1e3, noNaN: true });
  fc.assert(fc.property(place, wide, wide, (r, left, right) => {
    near(
      findRoot((x) => (x - r) * ((x - r) ** 2 + 1), r - left, r + right),
      r,
      1e-12,
      "root",
      "absolute",
    );
  }));
});

Deno.test("few evaluations for a smooth function, an end that is a root, a tolerance", () => {
  let calls = 0;
  findRoot((x) => (calls++, Math.exp(x) - 3), 0, 2);
  assert.ok(calls < 40, `${calls} calls`);
  assert.equal(findRoot((x) => x - 1, 1, 5), 1);
  assert.equal(findRoot((x) => x - 5, 1, 5), 5);
  near(findRoot((x) => x * x - 2, 0, 2, 0.1), Math.SQRT2, 0.1, "rough", "absolute");
});

Deno.test("a step is closed in on", () => {
  near(findRoot((x) => x < 0.7 ? -1 : 1, 0, 1), 0.7, 1e-15, "step", "absolute");
});

Deno.test("no change of sign is refused", () => {
  assert.throws(
    () => findRoot((x) => x * x + 1, 0, 1),
    /change of sign between them, got f\(0\)=1, f\(1\)=2/,
  );
  assert.throws(() => findRoot((x) => x, 1, -1), RangeError);
  assert.throws(() => findRoot(() => NaN, 0, 1), RangeError);
});
