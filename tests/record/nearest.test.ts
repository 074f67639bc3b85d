import assert from "node:assert/strict";
import fc from "fast-check";
import { editDistance, nearest, suggestion } from "../../lib/record/nearest.ts";

Deno.test("editDistance counts letters left out, put in, changed and swapped", () => {
  // DERIVED: by hand; "ca" to "abc" is 3 where a swapped pair is not touched again.
  const cases: readonly (readonly [string, string, number])[] = [
    ["", "", 0],
    ["", "abc", 3],
    ["bevel", "bevl", 1],
    ["bevel", "bevell", 1],
    ["bevel", "beval", 1],
    ["bevel", "beevl", 1],
    ["ca", "abc", 3],
    ["kitten", "sitting", 3],
    ["F80", "f80", 0],
  ];
  for (const [one, other, count] of cases) {
    assert.equal(editDistance(one, other), count, `${one} ${other}`);
  }
});

Deno.test("editDistance is a distance: none to itself, the same both ways", () => {
  const word = fc.string({ unit: fc.constantFrom("a", "b", "c"), maxLength: 7 });
  fc.assert(fc.property(word, word, (one, other) => {
    assert.equal(editDistance(one, one), 0);
    assert.equal(editDistance(one, other), editDistance(other, one));
    assert.ok(editDistance(one, other) <= Math.max(one.length, other.length));
    assert.ok(editDistance(one, other) >= Math.abs(one.length - other.length));
    assert.equal(editDistance(one, other) === 0, one === other);
  }));
});

Deno.test("the nearest names come first, far ones not at all", () => {
  const known = ["reading_mm", "inner_mm", "outer_mm", "run"];
  assert.deepEqual(nearest("raeding_mm", known), ["reading_mm"]);
  assert.deepEqual(nearest("iner_mm", known)[0], "inner_mm");
  assert.deepEqual(nearest("temperature", known), []);
  assert.deepEqual(nearest("", known), []);
});

Deno.test("part of a name is near to the whole", () => {
  assert.deepEqual(nearest("oxide", ["rouge", "cerium oxide", "F80"]), ["cerium oxide"]);
});

Deno.test("a very long word costs no time", () => {
  assert.deepEqual(nearest("x".repeat(1e6), ["bevel"]), []);
});

Deno.test("a suggestion names all where none is near", () => {
  assert.equal(suggestion("qqq", ["go_mm", "nogo_mm"]), "the names are go_mm, nogo_mm");
});
