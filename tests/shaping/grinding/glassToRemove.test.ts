import assert from "node:assert/strict";
import { glassToRemove } from "../../../lib/shaping/grinding/glassToRemove.ts";

Deno.test("glass to remove: the hollow, and the much more that strokes take", () => {
  const glass = glassToRemove(150, 2400, { offset: 37.5, travel: 50 });
  // DERIVED cap 10357.74 mm3 at 2500 kg/m3; 0.680610 mm off the whole face
  assert.equal(glass.grams.toFixed(3), "25.894");
  assert.equal(glass.meanRemoval.toFixed(6), "0.680610");
  assert.ok(glass.wornVolume > glass.volume);
  assert.throws(() => glassToRemove(150, 2400, { offset: 0, travel: 50 }, 0), /density above 0/);
});

Deno.test("twice as wide at the same focal ratio: eight times the glass of the hollow", () => {
  const one = glassToRemove(100, 1600, { offset: 25, travel: 100 / 3 });
  const two = glassToRemove(200, 3200, { offset: 50, travel: 200 / 3 });
  assert.equal((two.volume / one.volume).toFixed(9), "8.000000000");
  assert.equal((two.wornVolume / one.wornVolume).toFixed(9), "8.000000000");
});
