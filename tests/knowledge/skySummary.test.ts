import assert from "node:assert/strict";
import { skySummary } from "../../lib/knowledge/skySummary.ts";

Deno.test("limits of 150 mm", () => {
  // DERIVED 116/D, 138/D; 6 + 5 log(D/7) and 2.7 + 5 log D
  const { dawes_limit, rayleigh_limit, limiting_magnitude: [low, high] } = skySummary({
    aperture: 150,
  });
  assert.equal(dawes_limit.value.toFixed(4), "0.7733");
  assert.equal(rayleigh_limit.value.toFixed(2), "0.92");
  assert.deepEqual([dawes_limit.unit, rayleigh_limit.unit], ["arcsec", "arcsec"]);
  assert.deepEqual([low.toFixed(3), high.toFixed(3)], ["12.655", "13.580"]);
});

Deno.test("law: a wider mirror splits closer and sees fainter", () => {
  for (const aperture of [80, 114, 150, 250]) {
    const one = skySummary({ aperture }), more = skySummary({ aperture: aperture * 1.5 });
    assert.ok(more.dawes_limit.value < one.dawes_limit.value);
    assert.ok(more.limiting_magnitude[0] > one.limiting_magnitude[0]);
    assert.ok(one.limiting_magnitude[0] < one.limiting_magnitude[1]);
  }
});
