import assert from "node:assert/strict";
import fc from "fast-check";
import {
  depthWithWarmFace,
  gaugeAgainstGlass,
  radiusWhenWarm,
  radiusWithWarmFace,
} from "../../lib/measuring/temperature.ts";
import { paraboloidSagitta } from "../../lib/optics/sphere.ts";
import { Agreement, readReference } from "./reference.ts";

interface Reference {
  inputs: { alpha_per_K: Record<"soda_lime" | "borosilicate" | "steel", number> };
  expected: {
    gradient_1K: {
      alpha: number;
      thickness_mm: number;
      R_new: number;
      delta_sagitta_r75_um: number;
    }[];
    uniform_10K: { glass: "soda_lime" | "borosilicate"; delta_R: number }[];
    steel_minus_glass_1K_over_75mm_leg_mm: number;
  };
  tolerance: { rel: number };
}

// CROSS-CHECK numpy 1.24.2: tests/references/thermal-effects.json
const { inputs, expected, tolerance: { rel } } = readReference<Reference>("thermal-effects");

Deno.test("warm through, warm in front, and a warm gauge", () => {
  const agree = new Agreement();
  assert.equal(expected.gradient_1K.length, 2);
  for (const row of expected.gradient_1K) {
    agree.check(radiusWithWarmFace(2400, row.alpha, 1, row.thickness_mm), row.R_new, rel, "face");
    const depth = depthWithWarmFace(150, row.alpha, 1, row.thickness_mm) * 1000;
    agree.check(depth, row.delta_sagitta_r75_um, rel, "depth");
  }
  for (const { glass, delta_R } of expected.uniform_10K) {
    agree.check(radiusWhenWarm(2400, inputs.alpha_per_K[glass], 10) - 2400, delta_R, rel, glass);
  }
  const { steel, soda_lime } = inputs.alpha_per_K;
  const gauge = gaugeAgainstGlass(75, steel, soda_lime, 1);
  agree.check(gauge, expected.steel_minus_glass_1K_over_75mm_leg_mm, rel, "gauge");
  agree.report("thermal-effects");
});

Deno.test("law: the depth lost is the difference of the two paraboloids", () => {
  const warmer = fc.double({ min: -5, max: 5, noNaN: true });
  fc.assert(fc.property(warmer, (dT) => {
    const radius = radiusWithWarmFace(2400, 9e-6, dT, 25);
    const lost = paraboloidSagitta(150, radius) - paraboloidSagitta(150, 2400);
    assert.ok(Math.abs(lost - depthWithWarmFace(150, 9e-6, dT, 25)) < 1e-12);
    assert.ok(Math.abs(dT) < 1e-6 || Math.sign(radius - 2400) === Math.sign(dT));
  }));
});

Deno.test("no difference, no change; sizes that cannot be are refused", () => {
  assert.equal(radiusWhenWarm(2400, 9e-6, 0), 2400);
  assert.ok(Math.abs(radiusWithWarmFace(2400, 9e-6, 0, 25) - 2400) < 1e-9);
  assert.throws(() => radiusWithWarmFace(2400, 9e-6, 2000, 25), /stays hollow/);
  assert.throws(() => radiusWhenWarm(0, 9e-6, 1), /radius above 0/);
  assert.throws(() => depthWithWarmFace(150, 9e-6, 1, 0), /thickness above 0/);
  assert.throws(() => gaugeAgainstGlass(75, NaN, 9e-6, 1), /finite gaugeExpansion/);
});
