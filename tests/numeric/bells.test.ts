import fc from "fast-check";
import assert from "node:assert/strict";
import { tCdf } from "../../lib/numeric/quantiles.ts";
import { bell, random, student } from "../../lib/numeric/random.ts";
import { near } from "../references/reference.ts";

const n = 400_000;

for (const dof of [2, 2.5, 5, 12.7, 300]) {
  Deno.test(`Student with ${dof}: the share beyond each limit, from the top to far in the tail`, () => {
    const draws = new Float64Array(n), tail = student(dof).ends[1] ?? 0;
    random(41).fillStudent(draws, dof);
    for (const limit of [0.05, 0.2, 0.5, 1, 2, 3, 4, tail, 1.02 * tail, 1.3 * tail, 3 * tail]) {
      const p = tCdf(-limit, dof), sure = 4.5 * Math.sqrt(p * (1 - p) / n) + 1 / n;
      near(draws.filter((t) => t > limit).length / n, p, sure, `above ${limit}`, "absolute");
      near(draws.filter((t) => t < -limit).length / n, p, sure, `below ${-limit}`, "absolute");
    }
  });
}

Deno.test("law: layers have equal area and close at the top, whatever the degrees of freedom", () => {
  fc.assert(
    fc.property(fc.double({ min: 2, max: 1e5, noNaN: true }), (dof) => {
      const { curve, ends } = student(dof), start = ends[1] ?? 0;
      const area = start * curve.height(start) + curve.beyond(start);
      for (let i = 1; i < 256; i++) {
        const x = ends[i] ?? 0, inner = ends[i + 1] ?? 0;
        const height = curve.height(inner) - curve.height(x);
        near(x * height, area, i < 255 ? 1e-9 : 1e-8, `layer ${i} of dof ${dof}`);
      }
    }),
    { numRuns: 25 },
  );
});

Deno.test("law: height and width undo each other, and the area beyond falls as fast as the curve is high", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 2, max: 1000, noNaN: true }),
      fc.double({ min: 0.3, max: 20, noNaN: true }),
      (dof, x) => {
        const { curve } = student(dof), step = 1e-4 * x;
        fc.pre(curve.height(x) > 1e-100);
        near(curve.width(curve.height(x)), x, 1e-8, "there and back");
        const slope = (curve.beyond(x - step) - curve.beyond(x + step)) / (2 * step);
        near(slope, curve.height(x), 1e-3, `slope at ${x} of dof ${dof}`);
      },
    ),
    { numRuns: 50 },
  );
});

Deno.test("very many degrees of freedom give the bell's layers", () => {
  const many = student(1e7).ends, normal = bell().ends;
  normal.forEach((x, i) => near(many[i] ?? NaN, x, 1e-5, `end ${i}`, "absolute"));
});

Deno.test("a curve is made once, and only where it can be", () => {
  assert.equal(student(7), student(7));
  assert.equal(bell(), bell());
  for (const dof of [1.99, 0, NaN, Infinity]) {
    assert.throws(() => student(dof), new RegExp(`dof of 2 or more, got dof=${dof}`));
  }
});

Deno.test("below two degrees of freedom the numbers come one by one", () => {
  const a = random(5), b = random(5), out = new Float64Array(40);
  a.fillStudent(out, 1, 3, 2);
  out.forEach((t) => assert.equal(t, 3 + 2 * b.studentT(1)));
  assert.throws(() => random(1).fillStudent(out, 0), /dof=0/);
  assert.throws(() => random(1).fillStudent(out, NaN), /dof=NaN/);
});
