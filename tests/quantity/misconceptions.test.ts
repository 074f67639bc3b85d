/** The table of misconceptions: its ways, and the factors that others take from it. */
import assert from "node:assert/strict";
import { ratios } from "../../lib/lessons/exercises/misconceptions.ts";
import { DEPTH_MISCONCEPTIONS } from "../../lib/measuring/methods/leaves.ts";
import { methods } from "../../lib/measuring/methods/methods.ts";
import {
  isBelievable,
  misconception,
  MISCONCEPTIONS,
  nearestMisconception,
} from "../../lib/quantity/misconceptions.ts";

Deno.test("a misconception and its reverse make ratios that are each other's inverse", () => {
  const pairs = [
    ["diameter for radius", "radius for diameter"],
    ["R for f", "f for R"],
    ["inch for mm", "mm for inch"],
    ["thou for hundredths of a mm", "hundredths of a mm for thou"],
    ["m for mm", "mm for m"],
  ] as const;
  for (const [one, other] of pairs) {
    for (const power of [-2, -1, 1, 2]) {
      const [a, b] = [misconception(one, power, "x").ratio, misconception(other, power, "x").ratio];
      assert.ok(Math.abs(a * b - 1) < 1e-15, `${one}, ${power}`);
    }
    assert.equal(MISCONCEPTIONS[one].meant, MISCONCEPTIONS[other].meant);
  }
});

Deno.test("a radius from a depth, from a width, from a distance: each by its own power", () => {
  // DERIVED: R is r^2 / 2s nearly, so -1 of a depth, 2 of a width; R = 2f, 1 of a distance; 1 in = 25.4 mm
  assert.equal(misconception("inch for mm", -1, "x").ratio, 25.4);
  assert.equal(misconception("inch for mm", 1, "x").ratio, 1 / 25.4);
  assert.equal(misconception("diameter for radius", 2, "x").ratio, 4);
  assert.equal(misconception("m for mm", 1, "x").ratio, 1 / 1000);
});

Deno.test("where the table leaves the way open the caller says it, or is told so", () => {
  assert.throws(() => misconception("decimal point", 1, "x"), /"too large" or "too small"/);
  assert.equal(misconception("decimal point", -1, "x", { written: "too small" }).ratio, 10);
});

Deno.test("of several the nearest is named; none beyond a sixth, none among none", () => {
  assert.equal(nearestMisconception(3.7, DEPTH_MISCONCEPTIONS)?.name, "diameter for radius");
  assert.equal(nearestMisconception(7, DEPTH_MISCONCEPTIONS), undefined);
  assert.equal(nearestMisconception(2, []), undefined);
});

Deno.test("every method's misconceptions lie beyond what is believable, and say what to look at", () => {
  for (const { name, misconceptions } of methods) {
    assert.ok(misconceptions.length > 0, name);
    for (const { ratio, explains, findOut } of misconceptions) {
      assert.ok(!isBelievable(ratio), `${name}: ${ratio}`);
      assert.match(explains, /[^.]$/);
      assert.match(findOut, /^[A-Z].*[.?]$/);
    }
  }
});

Deno.test("the exercises know each factor of the table, either way round", () => {
  const known = ratios.map(([ratio]) => ratio);
  for (const { factor } of Object.values(MISCONCEPTIONS)) {
    if (factor === MISCONCEPTIONS["thou for hundredths of a mm"].factor) continue; // of leaf sets only
    assert.ok(known.includes(factor) && known.includes(1 / factor), `${factor}`);
  }
});
