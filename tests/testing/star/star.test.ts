import assert from "node:assert/strict";
import { starTest, surfaceFromProfile } from "../../../lib/testing/star/star.ts";
import { close } from "../../optics/close.ts";

const f8 = { half: 75, focalLength: 1200 };

Deno.test("a perfect mirror looks alike on both sides, with an obstruction too", () => {
  for (const obstruction of [0, 0.21, 0.35]) {
    const test = starTest({ ...f8, surface: () => 0, obstruction });
    close(test.unlike, 0, 1e-12);
    close(test.focus.brightness[0] ?? 0, 1, 1e-12);
  }
});

Deno.test("the middle at focus is the Strehl ratio of the glass", () => {
  // CROSS-CHECK ../secondRoute.py, quarter wave: a quarter wave of spherical aberration, 0.80030480; glass is half the wavefront
  const test = starTest({ ...f8, surface: (r) => 275 * (r / 75) ** 4 });
  close(test.focus.brightness[0] ?? 0, 0.8003048, 1e-7);
});

Deno.test("spherical aberration makes the two sides unlike, the more the larger, and turns over with its sign", () => {
  const at = (nm: number) => starTest({ ...f8, surface: (r) => nm * (r / 75) ** 4 });
  assert.ok(at(100).unlike > 0.1 && at(200).unlike > 1.3 * at(100).unlike);
  const turned = at(-150).outside.brightness;
  at(150).inside.brightness.forEach((v, i) => close(v, turned[i] ?? 0, 1e-12));
});

Deno.test("travel of the eyepiece for one wave", () => {
  // DERIVED 8 x 550e-6 x 64 = 0.2816 mm
  close(starTest({ ...f8, surface: () => 0 }).travelPerWave, 0.2816, 1e-12);
});

Deno.test("out of focus nearly all the light is inside the shadow of the cone", () => {
  const { outside } = starTest({ ...f8, surface: () => 0, defocusWaves: 6 });
  const edge = outside.distances.findIndex((v) => v > 4 * 6 * 1.15); // DERIVED geometric radius 4 W20 lambda N
  assert.ok((outside.encircled[edge] ?? outside.encircled.at(-1) ?? 0) > 0.93);
});

Deno.test("which side is which: a raised rim gathers light early, so the rim's light is bright inside focus", () => {
  // high glass at the rim faces inward more steeply there: its rays cross the axis nearer the mirror
  const test = starTest({ ...f8, surface: (r) => 150 * (r / 75) ** 4, defocusWaves: 4 });
  const rim = (view: typeof test.inside): number => Math.max(...view.brightness.slice(60, 160));
  assert.notEqual(rim(test.inside).toFixed(3), rim(test.outside).toFixed(3));
});

Deno.test("a profile table becomes a surface", () => {
  const glass = surfaceFromProfile([{ radius: 0, surfaceError: 10 }, {
    radius: 40,
    surfaceError: -10,
  }, { radius: 75, surfaceError: 4 }]);
  assert.deepEqual([0, 20, 40, 57.5, 75, 90].map(glass), [10, 0, -10, -3, 4, 4]);
  assert.throws(() => surfaceFromProfile([{ radius: 0, surfaceError: 1 }]), RangeError);
  assert.throws(() => starTest({ ...f8, surface: () => 0, defocusWaves: 0 }), RangeError);
});
