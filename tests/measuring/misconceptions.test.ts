import assert from "node:assert/strict";
import fc from "fast-check";
import {
  misconceptionFromRatio,
  ratioOfForgottenBevel,
} from "../../lib/measuring/misconceptions.ts";
import type { MisconceptionName } from "../../lib/quantity/misconceptions.ts";
import { radiusFromSagitta, sagitta } from "../../lib/optics/sphere.ts";
import { readReference } from "./reference.ts";

interface Reference {
  expected: {
    traps_150mm_R2400: Record<string, number>;
    trap_ratio_signatures: Record<string, number>;
  };
}

// CROSS-CHECK numpy 1.24.2: tests/references/sagitta-conversions.json
const { traps_150mm_R2400: traps, trap_ratio_signatures: signatures } =
  readReference<Reference>("sagitta-conversions").expected;

Deno.test("each trap of the reference is recognised by the radius it gives", () => {
  const cases: readonly (readonly [string, MisconceptionName])[] = [
    ["diameter_used_as_radius_R", "diameter for radius"],
    ["radius_used_as_diameter_R", "radius for diameter"],
    ["inch_sagitta_read_as_mm_R", "inch for mm"],
    ["mm_sagitta_read_as_inch_R", "mm for inch"],
    ["hundredths_slip_x10_R", "decimal point"],
    ["thou_as_hundredths_mm_R", "thou for hundredths of a mm"],
  ];
  for (const [key, slip] of cases) {
    assert.equal(misconceptionFromRatio((traps[key] ?? NaN) / 2400)?.name, slip, key);
  }
});

Deno.test("each signature ratio is recognised", () => {
  const cases: readonly (readonly [string, MisconceptionName])[] = [
    ["D_as_r", "diameter for radius"],
    ["r_as_D", "radius for diameter"],
    ["f_for_R", "f for R"],
    ["R_for_f", "R for f"],
    ["inch_for_mm", "inch for mm"],
    ["mm_for_inch", "mm for inch"],
    ["tenfold_decimal_slip", "decimal point"],
    ["thou_for_hundredths_mm", "thou for hundredths of a mm"],
  ];
  assert.equal(cases.length, Object.keys(signatures).length);
  for (const [key, slip] of cases) {
    assert.equal(misconceptionFromRatio(signatures[key] ?? NaN)?.name, slip, key);
  }
});

Deno.test("law: a misconception is still recognised when the curve itself is off by up to 8 %", () => {
  const off = fc.double({ min: 0.92, max: 1.08, noNaN: true });
  const slips = fc.constantFrom<readonly [number, MisconceptionName]>(
    [4, "diameter for radius"],
    [2, "R for f"],
    [0.5, "f for R"],
    [25.4, "inch for mm"],
    [1 / 10, "decimal point"],
  );
  fc.assert(fc.property(off, slips, (factor, [ratio, slip]) => {
    assert.equal(misconceptionFromRatio(ratio * factor)?.name, slip);
  }));
});

Deno.test("law: a believable radius has no mistake, and a strange one no invented name", () => {
  fc.assert(fc.property(fc.double({ min: 0.601, max: 1.699, noNaN: true }), (ratio) => {
    assert.equal(misconceptionFromRatio(ratio), undefined);
  }));
  assert.equal(misconceptionFromRatio(7), undefined);
  assert.equal(misconceptionFromRatio(1000), undefined);
});

Deno.test("the Sun's distance grows with the radius: inches go the other way", () => {
  assert.equal(misconceptionFromRatio(1 / 25.4, { method: "sun distance" })?.name, "inch for mm");
  assert.equal(misconceptionFromRatio(2, { method: "sun distance" })?.name, "R for f");
  assert.match(
    misconceptionFromRatio(2, { method: "sun distance" })?.explains ?? "",
    /the distance is R, not f/,
  );
  assert.equal(misconceptionFromRatio(4, { method: "sun distance" }), undefined);
  assert.equal(misconceptionFromRatio(1 / 2, { method: "sun image" })?.name, "radius for diameter");
  assert.equal(misconceptionFromRatio(1 / 25.4, { method: "sun image" })?.name, "inch for mm");
});

Deno.test("every misconception says what would explain it and how to find out", () => {
  for (const method of ["leaves", "sun distance", "sun image"] as const) {
    for (const ratio of [4, 1 / 4, 2, 1 / 2, 25.4, 1 / 25.4, 2.54, 1 / 2.54, 10, 1 / 10]) {
      const found = misconceptionFromRatio(ratio, { method });
      if (found === undefined) continue;
      assert.match(found.explains, /^[a-zR]\w*.*[^.]$/);
      assert.match(found.findOut, /^[A-Z].*[.?]$/);
      assert.ok(Math.abs(found.ratio - ratio) < 1e-9);
    }
  }
});

Deno.test("a forgotten bevel is 1.027 on 150 mm, and is named only where a bevel is known", () => {
  // CROSS-CHECK tests/references/feeler-stack.json: 1 mm makes R 2465.29, 2 mm 2533.28
  const seen = radiusFromSagitta(sagitta(148, 2400), 150) / 2400;
  assert.ok(Math.abs(seen - ratioOfForgottenBevel(150, 1)) < 1e-4);
  assert.equal(misconceptionFromRatio(seen, { aperture: 150, bevel: 1 })?.name, "bevel forgotten");
  assert.equal(misconceptionFromRatio(seen, { aperture: 150, bevel: 2 }), undefined);
  assert.equal(misconceptionFromRatio(seen, { aperture: 150, bevel: 0 }), undefined);
  assert.equal(misconceptionFromRatio(seen), undefined);
  assert.equal(
    misconceptionFromRatio(seen, { aperture: 150, bevel: 1, method: "spherometer" }),
    undefined,
  );
});

Deno.test("no ratio, no answer", () => {
  for (const ratio of [0, -1, NaN, Infinity]) {
    assert.throws(() => misconceptionFromRatio(ratio), /requires a ratio above 0/);
  }
  assert.throws(() => ratioOfForgottenBevel(150, 75), /bevel < aperture \/ 2/);
});
