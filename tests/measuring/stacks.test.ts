import assert from "node:assert/strict";
import fc from "fast-check";
import { checkStack, LEAF_SETS, stacksAround, thicknessOf } from "../../lib/measuring/stacks.ts";
import { readReference } from "./reference.ts";

interface Reference {
  inputs: { sets_mm: Record<string, number[]> };
}

// CROSS-CHECK the sets in tests/references/feeler-stack.json
const REFERENCE = readReference<Reference>("feeler-stack");

Deno.test("the sets sold are those of the reference, leaf for leaf", () => {
  const byName: Record<string, readonly number[]> = {
    "metric_20_leaf_0.05_1.00": LEAF_SETS["metric, 20 leaves"],
    "metric_13_leaf_0.05_1.00": LEAF_SETS["metric, 13 leaves"],
    "metric_10_leaf_0.05_0.50": LEAF_SETS["metric, 10 leaves"],
    "metric_8_leaf_0.05_0.50": LEAF_SETS["metric, 8 leaves"],
    "metric_32_leaf_0.04_0.88": LEAF_SETS["metric, 32 leaves"],
  };
  assert.equal(Object.keys(REFERENCE.inputs.sets_mm).length, 5);
  for (const [name, set] of Object.entries(REFERENCE.inputs.sets_mm)) {
    assert.deepEqual(byName[name], set, name);
  }
});

Deno.test("sums are exact whole numbers", () => {
  assert.equal(thicknessOf([0.1, 0.2]), 0.3);
  assert.equal(thicknessOf([0.88, 0.25, 0.04]), 1.17);
  assert.equal(thicknessOf([0.0381, 0.0254]), 0.0635); // 1.5 and 1 thousandths of an inch
});

Deno.test("law: the go stack passes and the no-go does not, with nothing between them", () => {
  const set = LEAF_SETS["metric, 32 leaves"];
  fc.assert(
    fc.property(fc.integer({ min: 5, max: 170 }), (hundredths) => {
      const target = hundredths / 100 + 0.003;
      const { go, nogo } = stacksAround(set, target);
      assert.ok(go !== undefined && nogo !== undefined);
      assert.ok(go.sum <= target && nogo.sum > target);
      for (const a of set) {
        for (const b of [0, ...set.filter((leaf) => leaf !== a)]) {
          const sum = Math.round((a + b) * 100) / 100;
          assert.ok(sum <= go.sum || sum >= nogo.sum, `${a}+${b} lies between`);
        }
      }
    }),
    { numRuns: 40 },
  );
});

Deno.test("beyond the set there is no stack, and that is said by undefined", () => {
  assert.equal(stacksAround([0.1, 0.2], 0.35).nogo, undefined);
  assert.equal(stacksAround([0.1, 0.2], 0.05).go, undefined);
});

Deno.test("a leaf twice, no leaf, or no thickness is refused", () => {
  assert.throws(() => checkStack([0.5, 0.25, 0.5]), /each leaf once, got 0\.5\+0\.25\+0\.5 mm/);
  assert.throws(() => checkStack([]), /got none/);
  assert.throws(() => thicknessOf([0.5, -0.1]), /above 0 mm, got -0\.1/);
});
