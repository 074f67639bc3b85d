import assert from "node:assert/strict";
import fc from "fast-check";
import { traceRays } from "./rays.ts";
import { conicCurve, knifeAt, mirrorOf } from "./judge.ts";
import { close } from "../optics/close.ts";

function one(
  mirror: Parameters<typeof traceRays>[0],
  lamp: [number, number, number],
  plane: number,
  x: number,
  y: number,
): [number, number] {
  const outX = new Float64Array(1), outY = new Float64Array(1);
  traceRays(
    mirror,
    { x: lamp[0], y: lamp[1], z: lamp[2] },
    plane,
    Float64Array.of(x),
    Float64Array.of(y),
    outX,
    outY,
  );
  return [outX[0] ?? NaN, outY[0] ?? NaN];
}

Deno.test("ray 12345 of a million", () => {
  // CROSS-CHECK secondRoute.py, ray of a million: R 2400, K -1, a4 1e-13, a6 1e-19, lamp (0.5, 0.2, 2400), plane 2401; printed to 1e-12
  const i = 12345, r = 100 * Math.sqrt((i + 0.5) / 1e6), t = i * 2.399963229728653;
  const mirror = { radius: 2400, conic: -1, a4: 1e-13, a6: 1e-19 };
  close(
    one(mirror, [0.5, 0.2, 2400], 2401, r * Math.cos(t), r * Math.sin(t))[0],
    -0.497191839968,
    2e-12,
  );
});

Deno.test("a sphere sends every ray from its centre back there", () => {
  fc.assert(
    fc.property(
      fc.double({ min: -120, max: 120, noNaN: true }),
      fc.double({ min: -120, max: 120, noNaN: true }),
      (x, y) => {
        const [ox, oy] = one({ radius: 2400, conic: 0 }, [0, 0, 2400], 2400, x, y);
        assert.ok(Math.hypot(ox, oy) < 1e-11);
      },
    ),
  );
});

Deno.test("crossings agree with the reflected vectors of the tests' own judge", () => {
  for (const conic of [-1, -0.5, 0.2]) {
    const judge = mirrorOf(100, 2000, [0, 100], conicCurve(2000, conic));
    for (const aim of [20, 60, 95]) {
      // the lamp's ray toward (aim, 0) meets the glass a little farther in; find where, then ask the judge
      let r = aim;
      for (let step = 0; step < 30; step++) r = aim * (1 - judge.height(r) / 2000);
      const crossing = 2000 + knifeAt(judge, r, "fixed");
      assert.ok(Math.abs(one({ radius: 2000, conic }, [0, 0, 2000], crossing, aim, 0)[0]) < 1e-9);
    }
  }
});

Deno.test("turning lamp and aim about the axis turns the ray's end", () => {
  const mirror = { radius: 2400, conic: -0.8, a4: 2e-13 }, c = Math.cos(0.7), s = Math.sin(0.7);
  const [x, y] = one(mirror, [1, 0, 2390], 2410, 60, 30);
  const [u, v] = one(mirror, [c, s, 2390], 2410, 60 * c - 30 * s, 60 * s + 30 * c);
  close(u, x * c - y * s, 1e-11);
  close(v, x * s + y * c, 1e-11);
});

Deno.test("a ray that misses the surface is NaN", () => {
  assert.ok(Number.isNaN(one({ radius: 100, conic: 0 }, [0, 0, 100], 100, 5000, 0)[0]));
});
