import assert from "node:assert/strict";
import fc from "fast-check";
import { mm } from "../../lib/quantity/format.ts";
import { depthOf, groups, latest, median } from "../../lib/record/readings.ts";

const row = (line: number, more: object): { file: string; line: number } => ({
  file: "t.csv",
  line,
  ...more,
});

Deno.test("a bracket stands for its middle, a gauge for its reading", () => {
  // INVENTED rows; DERIVED: the middle of go and no-go
  assert.equal(
    depthOf({ file: "t.csv", line: 1, go: [0.5, 0.5], nogo: [1.02] })?.toFixed(3),
    "1.010",
  );
  assert.equal(depthOf({ file: "t.csv", line: 1, depth: 1.135 }), 1.135);
});

Deno.test("the median lies in the middle whatever the order", () => {
  assert.equal(median([3]), 3);
  assert.equal(median([3, 1, 2]), 2);
  assert.equal(median([4, 1, 3, 2]), 2.5);
  assert.ok(Number.isNaN(median([])));
  const numbers = fc.array(fc.integer({ min: -99, max: 99 }), { minLength: 1, maxLength: 20 });
  fc.assert(fc.property(numbers, (values) => {
    const middle = median(values);
    const below = values.filter((value) => value < middle).length;
    const above = values.filter((value) => value > middle).length;
    assert.ok(below <= values.length / 2 && above <= values.length / 2);
  }));
});

Deno.test("the latest rows are those of the last minute, else of the last day, else all", () => {
  const minutes = [
    row(1, { afterMin: 20 }),
    row(2, { afterMin: 40 }),
    row(3, { afterMin: 40 }),
    row(4, {}),
  ];
  assert.deepEqual(latest(minutes).map(({ line }) => line), [2, 3]);
  const days = [row(1, { date: "2026-06-19" }), row(2, { date: "2026-06-12" })];
  assert.deepEqual(latest(days).map(({ line }) => line), [1]);
  assert.deepEqual(latest([row(1, {}), row(2, {})]).length, 2);
  assert.deepEqual(latest([]), []);
});

Deno.test("groups keep the order of their first rows", () => {
  const grouped = groups(["b1", "a1", "b2"], ([letter = ""]) => letter);
  assert.deepEqual([...grouped], [["b", ["b1", "b2"]], ["a", ["a1"]]]);
});

Deno.test("millimetres are printed without the dust of binary fractions", () => {
  assert.equal(mm(0.1 + 0.2), "0.3 mm");
  assert.equal(mm(2400), "2400 mm");
});
