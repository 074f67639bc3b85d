import assert from "node:assert/strict";
import { CAUTIONS } from "../../lib/coating/bath.ts";
import { coatingSummary } from "../../lib/record/coatingSummary.ts";

Deno.test("silver for 150 mm, in mg and g, by area", () => {
  // DERIVED: 18.537 mg of silver, 29.193 mg and 3.534 g of nitrate
  const found = coatingSummary({ aperture: 150 });
  assert.deepEqual([found.silver_mass.value.toFixed(3), found.silver_mass.unit], ["18.537", "mg"]);
  assert.equal(found.silver_nitrate_least.value.toFixed(3), "29.193");
  assert.deepEqual([found.silver_nitrate_bath.value.toFixed(3), found.silver_nitrate_bath.unit], [
    "3.534",
    "g",
  ]);
  assert.equal(found.silver_that_stays.toFixed(4), "0.0083");
  const wide = coatingSummary({ aperture: 300 });
  assert.ok(Math.abs(wide.silver_mass.value / found.silver_mass.value - 4) < 1e-12);
});

Deno.test("cautions always stand with them, all of them", () => {
  const { cautions } = coatingSummary({ aperture: 60 });
  assert.deepEqual(cautions, CAUTIONS);
  assert.deepEqual(JSON.parse(JSON.stringify(coatingSummary({ aperture: 60 }))).cautions, [
    ...CAUTIONS,
  ]);
});
