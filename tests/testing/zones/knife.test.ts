import assert from "node:assert/strict";
import fc from "fast-check";
import { rayAtKnife, shadowByRays } from "../../../lib/testing/zones/knife.ts";
import { close } from "../../optics/close.ts";
import { shadowByDiffraction } from "./knifeWaves.ts";

const sphere = {
  surface: { radius: 2400, conic: 0 },
  half: 75,
  source: "fixed",
  knife: 0,
} as const;

Deno.test("rays: which side darkens tells inside from outside", () => {
  const at = (knife: number): number[] => {
    const { values, size } = shadowByRays({ ...sphere, knife }, 61);
    return [values[30 * size + 10] ?? NaN, values[30 * size + 50] ?? NaN];
  };
  assert.deepEqual(at(-5), [0, 1]); // inside: light at + x is still on the + side, which passes
  assert.deepEqual(at(5), [1, 0]);
});

Deno.test("diffraction agrees with rays on which half is bright, far from focus", () => {
  const setting = { ...sphere, knife: -3 };
  const rays = shadowByRays(setting, 201), waves = shadowByDiffraction(setting, 201);
  for (const c of [40, 70, 130, 160]) {
    const ray = rays.values[100 * 201 + c] ?? NaN, wave = waves.values[100 * 201 + c] ?? NaN;
    close(wave, ray, 0.4); // fringes beside a shadow's edge reach 1.37 (CROSS-CHECK ../secondRoute.py, brightest fringe: 1.3704)
  }
});

Deno.test("positions in the knife's plane", () => {
  // CROSS-CHECK ../secondRoute.py, rays at the knife: printed to 1e-9 mm: aperture, R, K, knife, x, moving, fixed
  const rows = [
    [150, 2400, 0, -5, 37.5, 0.156268997, 0.078134538],
    [150, 2400, 0, -5, 75, 0.312652062, 0.15632635],
    [200, 2400, -1, -3, 50, 0.146701295, 0.084187821],
    [200, 2400, -1, -3, 100, 0.423609553, 0.298502249],
    [200, 2400, -1, 3, 100, -0.076388939, 0.048719451],
    [200, 2400, -0.5, -3, 100, 0.336969702, 0.211861998],
    [400, 3200, -1, -5, 200, 1.406230696, 1.093132515],
  ];
  for (
    const [aperture = 0, radius = 0, conic = 0, knife = 0, x = 0, moving = 0, fixed = 0] of rows
  ) {
    const setting = { surface: { radius, conic }, half: aperture / 2, knife };
    close(rayAtKnife(x, x, { ...setting, source: "moves" }), moving, 1e-9);
    close(rayAtKnife(x, x, { ...setting, source: "fixed" }), fixed, 1e-9);
  }
});

Deno.test("the zone whose own centre is at the knife is grey: paraboloid, r = sqrt(2 R d) for a moving lamp", () => {
  fc.assert(fc.property(fc.double({ min: 0.2, max: 2, noNaN: true }), (knife) => {
    const r = Math.sqrt(2 * 2400 * knife);
    const x = rayAtKnife(r, r, {
      surface: { radius: 2400, conic: -1 },
      half: 100,
      source: "moves",
      knife,
    });
    assert.ok(Math.abs(x) < 1e-12);
  }));
});

Deno.test("a hill throws light outward from its inner side: X moves by -2 R times the slope, moving lamp", () => {
  const hill = (r: number): number => 50 * Math.exp(-((r - 60) ** 2) / 242);
  const setting = {
    surface: { radius: 2420, conic: -1 },
    half: 110,
    source: "moves",
    knife: 1,
  } as const;
  for (const r of [40, 50, 70, 85]) {
    const slope = (-hill(r) * 1e-6 * (r - 60)) / 121;
    const moved = rayAtKnife(r, r, { ...setting, error: hill }) - rayAtKnife(r, r, setting);
    close(moved, -2 * 2420 * slope, 0.01 * 2 * 2420 * 2.5e-6); // DERIVED, first order
  }
});

Deno.test("outside the aperture there is nothing; bad settings are refused", () => {
  assert.ok(Number.isNaN(shadowByRays(sphere, 21).values[0] ?? 0));
  assert.throws(() => shadowByRays({ ...sphere, half: 0 }), RangeError);
  assert.throws(() => shadowByRays({ ...sphere, slit: 0 }), RangeError);
});

Deno.test("a lamp that goes with the knife doubles the way: by rays and by diffraction", () => {
  // DERIVED: 1/lamp + 1/image = 2/R, so lamp and knife at R + k are as far from focus as a knife alone at R + 2 k
  const moved = { ...sphere, source: "moves", knife: -1 } as const;
  for (const shadow of [shadowByDiffraction, shadowByRays]) {
    const ours = shadow({ ...moved, slit: 0.2 }, 61).values;
    const off = (knife: number): number =>
      shadow({ ...sphere, slit: 0.2, knife }, 61).values
        .reduce(
          (most, v, k) => Number.isNaN(v) ? most : Math.max(most, Math.abs(v - (ours[k] ?? NaN))),
          0,
        );
    assert.ok(off(-2) < 0.02, `${shadow.name}: ${off(-2)}`);
    assert.ok(off(-1) > 0.1, `${shadow.name}: ${off(-1)}`);
  }
});
