import assert from "node:assert/strict";
import { unitFactor } from "../../lib/record/unit.ts";

Deno.test("lengths, angles, times and masses to the kit's units", () => {
  // READ: definitions of inch, foot, pound and ounce (international agreement of 1959, from memory).
  const factors: readonly (readonly [string, Parameters<typeof unitFactor>[1], number])[] = [
    ["mm", "length", 1],
    ["cm", "length", 10],
    ["m", "length", 1000],
    ["um", "length", 1e-3],
    ["µm", "length", 1e-3],
    ["μm", "length", 1e-3],
    ["nm", "length", 1e-6],
    ["in", "length", 25.4],
    ["thou", "length", 0.0254],
    ["mil", "length", 0.0254],
    ["ft", "length", 304.8],
    ["rad", "angle", 1],
    ["deg", "angle", Math.PI / 180],
    ["arcmin", "angle", Math.PI / 10_800],
    ["min", "time", 1],
    ["h", "time", 60],
    ["kg", "mass", 1000],
    ["lb", "mass", 453.59237],
  ];
  for (const [unit, dimension, factor] of factors) {
    const found = unitFactor(unit, dimension) ?? NaN;
    assert.ok(Math.abs(found / factor - 1) < 1e-14, `${unit}: ${found}`);
  }
});

Deno.test("no unit, another's unit, and what is no word at all", () => {
  for (
    const unit of [
      "",
      "mn",
      "kg",
      "deg",
      "min",
      "mm^2",
      "mm*mm",
      "1",
      "constructor",
      "x".repeat(100),
      "mm;",
    ]
  ) {
    assert.equal(unitFactor(unit, "length"), undefined, unit);
  }
});
