import assert from "node:assert/strict";
import fc from "fast-check";
import { knifePosition, radiusBehindMask, sideBySideShift } from "../../lib/optics/crossing.ts";
import { conicCurve, knifeAt, mirrorOf } from "../testing/judge.ts";
import { close } from "./close.ts";

Deno.test("knife positions of paraboloids", () => {
  // CROSS-CHECK numpy 1.24.2: two-dimensional vector trace, intersection found as a root; printed to 1e-9 mm
  const cases = [
    [2400, 37.5, 0.586009026, 0.29296875],
    [2400, 75, 2.344894409, 1.171875],
    [2400, 50, 1.041892723, 0.520833333],
    [2400, 100, 4.170283565, 2.083333333],
    [2250, 62.5, 1.736780907, 0.868055556],
    [2250, 125, 6.95516118, 3.472222222],
    [3200, 100, 3.126525879, 1.5625],
    [3200, 200, 12.524414062, 6.25],
  ];
  for (const [radius = 0, r = 0, fixed = 0, moving = 0] of cases) {
    close(knifePosition(r, { radius, conic: -1 }, "fixed"), fixed, 6e-10);
    close(knifePosition(r, { radius, conic: -1 }, "moves"), moving, 6e-10);
  }
});

Deno.test("knife positions of other conics, R = 1600 mm, r = 100 mm", () => {
  // CROSS-CHECK numpy 1.24.2: the same trace; printed to 1e-10 mm
  const cases: [number, number, number][] = [
    [-0.6, 3.7558605158, 1.8757329946],
    [-0.5, 3.129579125, 1.5632636854],
    [-1.3, 8.1432509344, 4.0613105113],
    [0.2, -1.250980006, -0.6257341435],
    [0, 0, 0],
  ];
  for (const [conic, fixed, moving] of cases) {
    close(knifePosition(100, { radius: 1600, conic }, "fixed"), fixed, 6e-11);
    close(knifePosition(100, { radius: 1600, conic }, "moves"), moving, 6e-11);
  }
});

Deno.test("r^2/R alone is short at the edge, fixed source, by r^4/2R^3", () => {
  // CROSS-CHECK numpy 1.24.2; printed to 1e-8 mm
  const cases = [[75, 2400, -0.00114441], [100, 2400, -0.0036169], [125, 2250, -0.0107167], [
    200,
    3200,
    -0.0244141,
  ]];
  for (const [r = 0, radius = 0, short = 0] of cases) {
    close((r * r) / radius - knifePosition(r, { radius, conic: -1 }, "fixed"), short, 6e-8);
  }
});

Deno.test("the closed forms agree with reflected vectors, every conic, both lamps", () => {
  const anyMirror = fc.record({
    radius: fc.double({ min: 800, max: 6000, noNaN: true }),
    conic: fc.double({ min: -2.5, max: 0.8, noNaN: true }),
    ratio: fc.double({ min: 0.01, max: 0.12, noNaN: true }),
  });
  fc.assert(fc.property(anyMirror, ({ radius, conic, ratio }) => {
    const r = ratio * radius, mirror = mirrorOf(r, radius, [0, r], conicCurve(radius, conic));
    for (const source of ["moves", "fixed"] as const) {
      close(
        knifePosition(r, { radius, conic }, source),
        knifeAt(mirror, r, source),
        3e-12 * radius / ratio,
      );
    }
  }));
});

Deno.test("a mask 10 mm in front covers a ring 0.42 % wider, which is 0.0197 mm of ideal reading", () => {
  // CROSS-CHECK numpy 1.24.2 (0.42 %, 0.0197 mm for R = 2400, r = 75, fixed source)
  const wider = radiusBehindMask(75, 2400, 10);
  close(wider / 75 - 1, 0.0042, 5e-5);
  close((wider * wider - 75 * 75) / 2400, 0.0197, 1e-4);
});

Deno.test("lamp beside the knife", () => {
  // CROSS-CHECK numpy 1.24.2: traced tangential focus 0.0208 and 0.1666 mm inside
  close(sideBySideShift(10, 2400), -0.0208, 5e-5);
  close(sideBySideShift(20, 1200), -0.1666, 1e-4);
});

Deno.test("what cannot be is refused", () => {
  assert.throws(() => radiusBehindMask(75, 2400, 2400), /standOff/);
  assert.throws(() => sideBySideShift(NaN, 2400), RangeError);
});
