import assert from "node:assert/strict";
import { CAUTIONS } from "../../lib/coating/silver.ts";
import { coatingSummary } from "../../lib/knowledge/coatingSummary.ts";

Deno.test("silver for 150 mm, in mg, by area; no bath beside it", () => {
  // DERIVED: 10.49 g/cm3 x 176.715 cm2 x 1e-5 cm = 18.537 mg
  const found = coatingSummary({ aperture: 150 });
  assert.deepEqual([found.silver_mass.value.toFixed(3), found.silver_mass.unit], ["18.537", "mg"]);
  assert.deepEqual(Object.keys(found), ["silver_mass", "cautions"]);
  const wide = coatingSummary({ aperture: 300 });
  assert.ok(Math.abs(wide.silver_mass.value / found.silver_mass.value - 4) < 1e-12);
});

Deno.test("cautions always stand with it, all of them", () => {
  assert.deepEqual(coatingSummary({ aperture: 60 }).cautions, CAUTIONS);
  assert.deepEqual(JSON.parse(JSON.stringify(coatingSummary({ aperture: 60 }))).cautions, [
    ...CAUTIONS,
  ]);
});
