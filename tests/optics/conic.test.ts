import assert from "node:assert/strict";
import fc from "fast-check";
import { conicHeight, conicSlope, departureFromParaboloid } from "../../lib/optics/conic.ts";
import { close } from "./close.ts";

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
  // CROSS-CHECK numpy 1.24.2: two-dimensional trace with the intersection found as a root; printed to 1e-10
  close(conicHeight(100, { radius: 1600, conic: -0.6 }), 3.1262216577, 5e-11);
});

Deno.test("a sphere stands above its paraboloid by known amounts at the edge", () => {
  // CROSS-CHECK numpy 1.24.2: root-found heights, printed to 1e-5 nm
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
  // DERIVED r^4/8R^3 + r^6/16R^5, and CROSS-CHECK numpy 1.24.2, printed to 1e-5 nm
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
