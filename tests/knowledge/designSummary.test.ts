import assert from "node:assert/strict";
import fc from "fast-check";
import { designSummary } from "../../lib/knowledge/designSummary.ts";
import type { DesignSummary } from "../../lib/knowledge/summaryTypes.ts";
import type { Settings } from "../../lib/record/types.ts";
import { read } from "../record/bench.ts";

const { settings } = await read({});
const designOf = (change: Partial<Settings> = {}): DesignSummary =>
  designSummary({ ...settings, ...change });
const near = (value: number, wanted: number, apart: number): void =>
  assert.ok(Math.abs(value - wanted) <= apart, `${value} is not ${wanted}`);

Deno.test("150 mm f/8: each number by its own formula", () => {
  const { focal_ratio, radius, sagitta, sphere_departure, airy_radius, shape, sphere_is_enough } =
    designOf();
  assert.deepEqual([focal_ratio, radius.value, radius.unit], [8, 2400, "mm"]);
  // DERIVED: 2400 - sqrt(2400^2 - 75^2)
  near(sagitta.value, 2400 - Math.sqrt(2400 ** 2 - 75 ** 2), 1e-9);
  // DERIVED: sphere less paraboloid, 2400 - sqrt(2400^2 - 75^2) - 75^2 / 4800, mm to nm
  near(
    sphere_departure.value,
    (2400 - Math.sqrt(2400 ** 2 - 75 ** 2) - 75 ** 2 / 4800) * 1e6,
    1e-3,
  );
  // MEMORY: first dark ring at 1.21967 wavelengths times the focal ratio (Airy 1835)
  near(airy_radius.value, 1.21967 * 0.55 * 8, 1e-4);
  assert.deepEqual([airy_radius.unit, sphere_departure.unit], ["um", "nm"]);
  assert.deepEqual([shape, sphere_is_enough], ["paraboloid", false]);
});

Deno.test("a sphere is enough from 1216 mm on for 150 mm, and only just not below", () => {
  // DERIVED: at best focus a sphere's wavefront is D^4 / (2048 f^3) P-V; a quarter wave of 550 nm asks for f of 1216 mm
  const least = Math.cbrt(150 ** 4 / (2048 * 0.25 * 550e-6));
  near(least, 1216, 0.5);
  assert.equal(designOf({ focalLength: least + 1 }).sphere_is_enough, true);
  assert.equal(designOf({ focalLength: least + 1 }).shape, "sphere");
  assert.equal(designOf({ focalLength: least - 1 }).sphere_is_enough, false);
});

Deno.test("the maker's own wish for a shape goes before what would be enough", () => {
  for (const shape of ["sphere", "paraboloid"] as const) {
    for (const focalLength of [900, 1500]) {
      const design = designOf({ focalLength, goal: { ...settings.goal, shape } });
      assert.equal(design.shape, shape);
      assert.equal(design.sphere_is_enough, focalLength === 1500);
    }
  }
});

Deno.test("a harder goal asks for a longer mirror", () => {
  const hard = { ...settings.goal, surfaceWaves: 1 / 16 };
  assert.equal(designOf({ focalLength: 1300 }).sphere_is_enough, true);
  assert.equal(designOf({ focalLength: 1300, goal: hard }).sphere_is_enough, false);
});

Deno.test("what the plan says is from mirror.yaml and has no uncertainty", () => {
  const design = designOf();
  assert.deepEqual([design.aperture.from, design.focal_length.from], [["mirror.yaml"], [
    "mirror.yaml",
  ]]);
  for (const value of Object.values(design)) {
    if (typeof value === "object") assert.equal("u" in value, false);
  }
});

Deno.test("law: everything scaled by k keeps the ratio and scales the depth", () => {
  const size = fc.record({
    aperture: fc.double({ min: 60, max: 400, noNaN: true }),
    ratio: fc.double({ min: 3, max: 15, noNaN: true }),
    k: fc.double({ min: 0.3, max: 3, noNaN: true }),
  });
  fc.assert(
    fc.property(size, ({ aperture, ratio, k }) => {
      const small = designOf({ aperture, focalLength: aperture * ratio });
      const large = designOf({ aperture: k * aperture, focalLength: k * aperture * ratio });
      near(large.focal_ratio / small.focal_ratio, 1, 1e-9);
      near(large.sagitta.value / small.sagitta.value / k, 1, 1e-6);
      near(large.sphere_departure.value / small.sphere_departure.value / k, 1, 1e-4);
      near(large.airy_radius.value / small.airy_radius.value, 1, 1e-9);
    }),
    { numRuns: 100, seed: 2 },
  );
});
