import fc from "fast-check";
import assert from "node:assert/strict";
import {
  advanceFromHeight,
  conicHeight,
  conicSlope,
  departureFromParaboloid,
  exactWavefront,
  knifePosition,
  radiusBehindMask,
  sideBySideShift,
} from "../../lib/optics/conic.ts";
import { atBestFocus, radialGrid, strehlFromRms } from "../../lib/optics/quality.ts";
import { conicCurve, knifeAt, mirrorOf, truth } from "../testing/judge.ts";
import { close, exactlyFocused } from "./close.ts";

const surfaces = fc.record({
  radius: fc.double({ min: 400, max: 8000, noNaN: true }),
  conic: fc.double({ min: -3, max: 1, noNaN: true }),
});

Deno.test("heights of paraboloids are r^2/2R to the last digit", () => {
  // DERIVED r^2 / 2R by hand
  const cases = [[75, 2400, 1.171875], [100, 2400, 2.0833333333333335], [
    125,
    2250,
    3.4722222222222223,
  ], [200, 3200, 6.25]];
  for (const [r = 0, radius = 0, z = 0] of cases) {
    close(conicHeight(r, { radius, conic: -1 }), z, 4e-16 * z);
  }
});

Deno.test("height of an ellipsoid", () => {
  // CROSS-CHECK secondRoute.py, ellipsoid: the surface found as a root; printed to 1e-10
  close(conicHeight(100, { radius: 1600, conic: -0.6 }), 3.1262216577, 5e-11);
});

Deno.test("a sphere stands above its paraboloid by known amounts at the edge", () => {
  // CROSS-CHECK secondRoute.py, sphere over paraboloid: heights, printed to 1e-5 nm
  const cases = [[75, 2400, 286.24208], [100, 2400, 905.01031], [125, 2250, 2683.32635], [
    200,
    3200,
    6115.46574,
  ]];
  for (const [r = 0, radius = 0, nm = 0] of cases) {
    close(departureFromParaboloid(r, { radius, conic: 0 }), nm, 6e-6);
  }
});

Deno.test("the two-term series falls short of it by what its third term is worth", () => {
  // DERIVED r^4/8R^3 + r^6/16R^5, and CROSS-CHECK secondRoute.py, two terms of it: printed to 1e-5 nm
  const cases = [[75, 2400, 286.24199], [100, 2400, 905.00945], [125, 2250, 2683.31836], [
    200,
    3200,
    6115.43655,
  ]];
  for (const [r = 0, radius = 0, nm = 0] of cases) {
    const series = 1e6 * (r ** 4 / (8 * radius ** 3) + r ** 6 / (16 * radius ** 5));
    close(series, nm, 6e-6);
    const third = (1e6 * 5 * r ** 8) / (128 * radius ** 7);
    close(departureFromParaboloid(r, { radius, conic: 0 }) - series, third, 0.02 * third + 1e-9);
  }
});

Deno.test("every point lies on r^2 + (1+K) z^2 = 2 R z", () => {
  fc.assert(
    fc.property(surfaces, fc.double({ min: 0.001, max: 0.2, noNaN: true }), (surface, ratio) => {
      const r = ratio * surface.radius, z = conicHeight(r, surface);
      const off = r * r + (1 + surface.conic) * z * z - 2 * surface.radius * z;
      assert.ok(Math.abs(off) < 1e-13 * r * r * 4);
    }),
  );
});

Deno.test("slope is the derivative of height", () => {
  fc.assert(
    fc.property(surfaces, fc.double({ min: 0.01, max: 0.2, noNaN: true }), (surface, ratio) => {
      const r = ratio * surface.radius, step = 1e-4 * r;
      const numeric = (conicHeight(r + step, surface) - conicHeight(r - step, surface)) /
        (2 * step);
      close(conicSlope(r, surface), numeric, 1e-7 * numeric);
    }),
  );
});

Deno.test("departure is the difference of the two heights, without their rounding", () => {
  fc.assert(
    fc.property(surfaces, fc.double({ min: 0.02, max: 0.2, noNaN: true }), (surface, ratio) => {
      const r = ratio * surface.radius;
      const plain = 1e6 * (conicHeight(r, surface) - (r * r) / (2 * surface.radius));
      close(departureFromParaboloid(r, surface), plain, 1e6 * 4e-15 * r);
    }),
  );
});

Deno.test("a conic that does not reach so far is refused, with the numbers", () => {
  assert.throws(() => conicHeight(1700, { radius: 1600, conic: 0 }), {
    name: "RangeError",
    message: /conicHeight requires .* got r=1700, radius=1600, conic=0/,
  });
  for (const bad of [-1, NaN, Infinity]) {
    assert.throws(() => conicSlope(bad, { radius: 1600, conic: -1 }), RangeError);
    assert.throws(() => departureFromParaboloid(10, { radius: bad, conic: -1 }), RangeError);
  }
});

// CROSS-CHECK secondRoute.py, mirrors: 400-point Gauss rule in r^2, exact path, optimiser on the focus, 550 nm:
// aperture, focal ratio, K, focus shift from R/2, P-V, RMS, largest Strehl, exponential form
const TABLE = [
  [114, 8, 0, -0.222707, 0.197726, 0.0589484, 0.870637, 0.87181],
  [150, 8, 0, -0.293035, 0.260166, 0.0775637, 0.785419, 0.788591],
  [150, 8, -0.97, -0.008789, 0.007799, 0.0023253, 0.999787, 0.999787],
  [200, 6, 0, -0.521045, 0.822427, 0.2451862, 0.242289, 0.093173],
  [200, 6, -0.7, -0.156275, 0.246504, 0.0734888, 0.805367, 0.807988],
  [200, 6, -0.9, -0.052088, 0.082151, 0.0244899, 0.976562, 0.976601],
  [200, 6, -1.1, 0.052085, 0.082131, 0.0244835, 0.976574, 0.976613],
  [250, 5, -0.85, -0.117206, 0.266112, 0.079329, 0.776583, 0.780016],
  [250, 5, -0.8, -0.156279, 0.354847, 0.1057819, 0.634058, 0.642906],
  [250, 4.5, -0.95, -0.043409, 0.121631, 0.0362564, 0.949245, 0.949428],
  [400, 4, -0.98, -0.031255, 0.110792, 0.0330232, 0.957734, 0.957861],
] as const;
const grid = radialGrid();

Deno.test("telescope mirrors by the exact path", () => {
  for (const [aperture, ratio, conic, shift, pv, rms, strehl, marechal] of TABLE) {
    const surface = { radius: 2 * aperture * ratio, conic };
    const focused = exactlyFocused(surface, aperture / 2);
    close(focused.shift, shift, 1e-6, `focus of ${aperture} f/${ratio} K=${conic}`);
    close(focused.pv, pv, 1e-5 * pv + 1e-6, "P-V"); // last printed digit, and where their optimiser left the focus
    close(focused.rms, rms, 1e-7, "RMS");
    close(strehlFromRms(focused.rms), marechal, 1e-6, "exponential form");
    const there = surface.radius / 2 + shift;
    const waves = exactWavefront(grid, surface, aperture / 2, undefined, there).map((w) => w / 550);
    close(atBestFocus(grid, waves, "most Strehl").strehl, strehl, 1e-4, "Strehl"); // a term in q for a real focus
    close(atBestFocus(grid, waves).pvWaves, pv, 6e-4 * pv, "P-V with a term in q taken out");
  }
});

Deno.test("the 200 mm f/6 sphere at its focus of least rms", () => {
  // CROSS-CHECK secondRoute.py, sphere of 200 f/6: 0.093398
  const waves = exactWavefront(grid, { radius: 2400, conic: 0 }, 100, undefined, 1200 - 0.521045)
    .map((w) => w / 550);
  close(atBestFocus(grid, waves).strehl, 0.093398, 3e-5);
});

Deno.test("50 nm at the rim", () => {
  // CROSS-CHECK secondRoute.py, hill: exact path, f/4 99.610895 nm, f/6 99.826690 nm; 2 delta cos^2 to first order in delta
  close(advanceFromHeight(50, 200, 3200), 99.610895, 2e-4);
  close(advanceFromHeight(50, 100, 2400), 99.82669, 2e-4);
});

Deno.test("the exact path sees a hill as an advance of 2 delta cos^2", () => {
  const hill = (r: number): number => 50 * Math.exp(-((r - 60) ** 2) / 242);
  const surface = { radius: 2420, conic: -1 };
  exactWavefront(grid, surface, 110, hill).forEach((w, i) => {
    const r = 110 * Math.sqrt(grid.q[i] ?? 0);
    close(w, advanceFromHeight(hill(r), r, 2420), 1e-3);
  });
});

Deno.test("agrees with an independent path written for the tests", () => {
  const judged = truth(mirrorOf(100, 2400, [0, 100], conicCurve(2400, -0.7)));
  const focused = exactlyFocused({ radius: 2400, conic: -0.7 }, 100);
  close(focused.rms, judged.rms, 2e-7);
  close(focused.pv, judged.pv, 2e-7);
});

Deno.test("a paraboloid is perfect; bad numbers are refused", () => {
  assert.ok(
    exactWavefront(grid, { radius: 3200, conic: -1 }, 200).every((w) => Math.abs(w) < 1e-5),
  );
  assert.throws(() => advanceFromHeight(NaN, 1, 2400), RangeError);
  assert.throws(() => exactWavefront(grid, { radius: -1, conic: 0 }, 75), RangeError);
});

Deno.test("knife positions of paraboloids", () => {
  // CROSS-CHECK secondRoute.py, knife of paraboloids: vectors reflected in the plane of the axis; printed to 1e-9 mm
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
  // CROSS-CHECK secondRoute.py, knife of conics: the same vectors; printed to 1e-10 mm
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
  // CROSS-CHECK secondRoute.py, short of it: printed to 1e-8 mm
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
  // CROSS-CHECK secondRoute.py, behind a mask: 0.418 % and 0.0197 mm for R = 2400, r = 75, fixed source
  const wider = radiusBehindMask(75, 2400, 10);
  close(wider / 75 - 1, 0.0042, 5e-5);
  close((wider * wider - 75 * 75) / 2400, 0.0197, 1e-4);
});

Deno.test("lamp beside the knife", () => {
  // CROSS-CHECK secondRoute.py, lamp beside the knife: traced tangential focus 0.0208 and 0.1666 mm inside
  close(sideBySideShift(10, 2400), -0.0208, 5e-5);
  close(sideBySideShift(20, 1200), -0.1666, 1e-4);
});

Deno.test("what cannot be is refused", () => {
  assert.throws(() => radiusBehindMask(75, 2400, 2400), /standOff/);
  assert.throws(() => sideBySideShift(NaN, 2400), RangeError);
});
