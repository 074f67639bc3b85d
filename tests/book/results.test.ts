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
  assert.deepEqual(new Results(results.all()).recall("zones", "x")?.value, made);
});

Deno.test("results: what others worked out is known; too much lets go of what was used least lately, never of this build's", () => {
  const first = new Results();
  for (const name of ["a", "b", "c"]) first.keep(name, "", new Uint8Array(1000));
  const then = new Results(first.all()), other = new Results();
  other.keep("d", "", new Uint8Array(1000));
  then.learn(other.all());
  then.recall("a", "");
  const there = (results: Results): string =>
    ["a", "b", "c", "d"].filter((name) => results.recall(name, "") !== undefined).join("");
  assert.equal(there(new Results(then.all())), "abcd");
  assert.equal(there(new Results(then.all(2500))), "ad");
  assert.equal(there(new Results(then.all(0))), "a");
});
