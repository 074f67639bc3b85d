import assert from "node:assert/strict";
import fc from "fast-check";
import { findRoot, signChanges } from "../../lib/numeric/rootFinding.ts";
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

Deno.test("law: steps passed over hold no change of sign, and fewer places are asked", () => {
  const phase = fc.double({ min: 0, max: 6, noNaN: true });
  let asked = 0, all = 0;
  fc.assert(fc.property(phase, fc.double({ min: 0.3, max: 2, noNaN: true }), (a, wide) => {
    const f = (x: number): number => Math.sin(wide * x + a) + 0.6 * Math.sin(0.37 * x);
    const plain: [number, number][] = [];
    for (let k = 0; k < 2000; k++) {
      const low = 1 + k * 0.01, high = 1 + (k + 1) * 0.01;
      if (f(low) * f(high) < 0) plain.push([low, high]);
      all++;
    }
    const counted = (x: number): number => (asked++, f(x));
    // DERIVED: the two sines' slopes at their steepest
    assert.deepEqual(signChanges(counted, 1, 21.005, 0.01, wide + 0.6 * 0.37), plain);
  }));
  assert.ok(asked < all / 3, `${asked} of ${all} places`);
});

Deno.test("a grid without a step has no changes; steps and bounds above 0 only", () => {
  assert.deepEqual(signChanges((x) => x, -1, -0.5, 1, 1), []);
  assert.deepEqual(signChanges((x) => x, -0.5, 0.6, 1, 1), [[-0.5, 0.5]]);
  assert.throws(() => signChanges((x) => x, 0, 1, 0, 1), /above 0, got 0 and 1/);
  assert.throws(() => signChanges((x) => x, 0, 1, 1, NaN), RangeError);
});
