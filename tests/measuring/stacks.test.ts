import assert from "node:assert/strict";
import fc from "fast-check";
import {
  checkStack,
  closestStack,
  fewestLeaves,
  LEAF_SETS,
  stacksAround,
  thicknessOf,
} from "../../lib/measuring/stacks.ts";
import { readReference } from "./reference.ts";

interface Found {
  leaves: number[];
  sum: number;
  error: number;
}

interface Reference {
  inputs: { sets_mm: Record<string, number[]> };
  expected: {
    stacks: {
      set: string;
      target: number;
      closest: Found;
      fewest_within_tol: {
        tol: number;
        leaves: number[];
        sum: number;
        n_leaves: number;
        number_of_equal_size_solutions: number;
      };
    }[];
  };
}

// CROSS-CHECK exhaustive search in Python 3.11: tests/references/feeler-stack.json
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

Deno.test("closest and fewest stacks agree with an exhaustive search", () => {
  assert.equal(REFERENCE.expected.stacks.length, 21);
  for (const { set: name, target, closest, fewest_within_tol: few } of REFERENCE.expected.stacks) {
    const set = REFERENCE.inputs.sets_mm[name] ?? [];
    const what = `${name} for ${target}`;
    const best = closestStack(set, target);
    assert.deepEqual(best.leaves, closest.leaves, what);
    assert.equal(best.sum, closest.sum, what);
    assert.ok(Math.abs(best.error - closest.error) < 1e-9, what);
    const fewest = fewestLeaves(set, target, few.tol);
    assert.equal(fewest?.leaves.length, few.n_leaves, what);
    assert.equal(fewest?.choices, few.number_of_equal_size_solutions, what);
    assert.deepEqual(fewest?.leaves, few.leaves, what);
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
  assert.equal(fewestLeaves([0.1, 0.2], 1, 0.01), undefined);
});

Deno.test("law: no leaf is used twice, and more leaves never come out worse", () => {
  const set = LEAF_SETS["metric, 13 leaves"];
  fc.assert(
    fc.property(fc.double({ min: 0.03, max: 3, noNaN: true }), (target) => {
      const two = closestStack(set, target, 2);
      const three = closestStack(set, target, 3);
      assert.equal(new Set(three.leaves).size, three.leaves.length);
      assert.ok(Math.abs(three.error) <= Math.abs(two.error) + 1e-9);
    }),
    { numRuns: 60 },
  );
});

Deno.test("a leaf twice, no leaf, or no thickness is refused", () => {
  assert.throws(() => checkStack([0.5, 0.25, 0.5]), /each leaf once, got 0\.5\+0\.25\+0\.5 mm/);
  assert.throws(() => checkStack([]), /got none/);
  assert.throws(() => thicknessOf([0.5, -0.1]), /above 0 mm, got -0\.1/);
  assert.throws(() => closestStack([0.1], 0), /target above 0 mm/);
  assert.throws(() => fewestLeaves([0.1, 0.1], 0.2, 0.01), /each leaf once/);
});
