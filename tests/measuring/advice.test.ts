import assert from "node:assert/strict";
import fc from "fast-check";
import { whatWouldHelp } from "../../lib/measuring/advice.ts";
import { combine, type Weighable } from "../../lib/measuring/combine.ts";
import { estimate } from "../../lib/measuring/estimate.ts";
import { spherometer } from "../../lib/measuring/methods/spherometer.ts";
import { sunDistance } from "../../lib/measuring/methods/sunDistance.ts";
import { KESTREL } from "./bench.ts";

const dial = (surface: "flat" | "mirror", values: readonly number[]) =>
  values.map((at) => ({ surface, dial: at }));
const DIALS = [
  ...dial("flat", [5.001, 5, 5.002, 5, 5.001]),
  ...dial("mirror", [5.522, 5.523, 5.521, 5.522, 5.522]),
];
const byDial = spherometer(DIALS, KESTREL) ?? assert.fail();
const SETTINGS = [1199, 1194, 1203, 1197, 1196, 1201].map((distance) => ({ distance }));
const bySun = sunDistance(SETTINGS, KESTREL) ?? assert.fail();

Deno.test("the spherometer alone: its leg circle dominates, so that is what to mend", () => {
  const [best, second] = whatWouldHelp([byDial]);
  assert.equal(best?.what, "a leg circle 1.4 times as wide");
  assert.equal(second?.what, "leg circle: known twice as well");
  // DERIVED: sqrt((4.797/2)^2 + 2.934^2) with the budget of tests/references/spherometer.json
  assert.ok(Math.abs((second?.u ?? 0) - Math.hypot(4.79662 / 2, 2.93409, 0.01)) < 1e-4);
});

Deno.test("a wider leg circle: the same instrument's readings on a larger triangle", () => {
  const wide = whatWouldHelp([byDial], { widerLegs: 1.3 }).find(({ what }) => /as wide/.test(what));
  // DERIVED: leg 4.797 / 1.3, height 2.934 / 1.69
  assert.ok(Math.abs((wide?.u ?? 0) - Math.hypot(4.79662 / 1.3, 2.93409 / 1.69, 0.01)) < 1e-4);
});

Deno.test("one more setting of six shrinks the scatter by sqrt 6/7", () => {
  const [best] = whatWouldHelp([bySun]);
  assert.equal(best?.what, "settings of the Sun's image: one more reading");
  assert.ok(Math.abs((best?.u ?? 0) - bySun.radius.u * Math.sqrt(6 / 7)) < 1e-9);
});

Deno.test("law: advice never makes things worse, is sorted, and stays within what it halves", () => {
  const component = fc.record({
    source: fc.constantFrom("leg circle", "dial", "scatter"),
    u: fc.double({ min: 0.1, max: 20, noNaN: true }),
    dof: fc.constantFrom(5, Infinity),
    repeats: fc.integer({ min: 1, max: 9 }),
  });
  const list = fc.array(fc.array(component, { minLength: 1, maxLength: 3 }), {
    minLength: 1,
    maxLength: 3,
  });
  fc.assert(fc.property(list, (all) => {
    const methods = ["leaves", "spherometer", "sun distance"] as const;
    const estimates: readonly Weighable[] = all.map((components, at) =>
      estimate({ method: methods[at] ?? "leaves", radius: 2400 + at, components, readings: 5 })
    );
    const now = combine(estimates).weightedMean.u;
    const advice = whatWouldHelp(estimates);
    advice.forEach((one, at) => {
      assert.ok(one.u < now && one.u >= now / 2 - 1e-9);
      assert.ok(Math.abs(one.gain - (1 - one.u / now)) < 1e-12);
      assert.ok(at === 0 || one.gain <= (advice[at - 1]?.gain ?? 0) + 1e-12);
    });
  }));
});

Deno.test("a shared source known better helps every method that shares it", () => {
  const rest = (u: number) => ({ source: "bevel", u, dof: Infinity, shared: "bevel" });
  const own = (u: number) => ({ source: "own", u, dof: Infinity });
  const two = [
    estimate({ method: "leaves", radius: 2400, components: [rest(10), own(1)], readings: 1 }),
    estimate({ method: "depth gauge", radius: 2400, components: [rest(10), own(1)], readings: 1 }),
  ];
  const best = whatWouldHelp(two)[0];
  assert.equal(best?.what, "bevel: known twice as well");
  // DERIVED: the mean's u is hypot(10, 1/sqrt 2); halved hypot(5, 1/sqrt 2)
  assert.ok(Math.abs((best?.u ?? 0) - Math.hypot(5, Math.SQRT1_2)) < 1e-9);
});

Deno.test("nothing to weigh, nothing to advise", () => {
  assert.throws(() => whatWouldHelp([]), /one estimate or more/);
});
