import assert from "node:assert/strict";
import { Results } from "../../lib/book/results.ts";

Deno.test("results: the same inputs give what was kept, as a value of its own; what is no plain data is not kept", () => {
  const results = new Results();
  const made = { list: Float64Array.of(1, 2), of: new Map([["a", Infinity]]) };
  results.keep("zones", "x", made);
  const found = results.recall("zones", "x")?.value;
  assert.deepEqual(found, made);
  assert.notEqual(found, made);
  assert.equal(results.recall("zones", "y"), undefined);
  assert.equal(results.recall("photos", "x"), undefined);
  results.keep("zones", "f", { f: () => 1 });
  assert.equal(results.recall("zones", "f"), undefined);
  assert.deepEqual(new Results(results.added).recall("zones", "x")?.value, made);
});
