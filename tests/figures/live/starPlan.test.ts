import assert from "node:assert/strict";
import fc from "fast-check";
import { starPlan } from "../../../lib/figures/live/starPlan.ts";
import { starProfile } from "../../../lib/optics/starImage.ts";

Deno.test("a kept plan gives the library's star, to rounding, whatever the wavefront", () => {
  const wave = fc.double({ min: -3, max: 3, noNaN: true });
  fc.assert(
    fc.property(wave, wave, wave, (a, b, c) => {
      const { grid, image } = starPlan(40, 5, 20);
      const waves = grid.q.map((q) => a * q + b * q * q + c * q * q * q);
      const { distances, brightness } = image(waves), profile = starProfile(grid, waves, 5, 20);
      assert.deepEqual(distances, profile.distances);
      profile.brightness.forEach((wanted, i) =>
        assert.ok(Math.abs((brightness[i] ?? NaN) - wanted) < 1e-12)
      );
    }),
    { numRuns: 30 },
  );
});

Deno.test("plans of other grids and pictures are kept apart, and the same is the same", () => {
  assert.equal(starPlan(40, 5, 20), starPlan(40, 5, 20));
  assert.notEqual(starPlan(40, 5, 20), starPlan(80, 5, 20));
  assert.equal(starPlan(80, 4, 10).image(new Float64Array(82)).distances.at(-1), 4);
  assert.equal(starPlan(80, 4, 10).grid.q.length, 82);
});
