import assert from "node:assert/strict";
import fc from "fast-check";
import { jamOfTiltedLeaf, leafWidthCorrection } from "../../lib/measuring/straightEdge.ts";
import { radiusFromSagitta, sagitta } from "../../lib/optics/sphere.ts";
import { Agreement, readReference } from "./reference.ts";

interface Reference {
  expected: {
    worked: { width_correction: number };
    "tilt_0.5deg": { t: number; gap_at_jam: number };
    bevel_150mm_R2400: { true_half_chord: number; s: number; R_if_full_diameter_used: number }[];
  };
  tolerance: { rel: number };
}

// CROSS-CHECK numpy 1.24.2: tests/references/feeler-stack.json
const { expected, tolerance } = readReference<Reference>("feeler-stack");

Deno.test("width, tilt and bevel agree with the reference", () => {
  const agree = new Agreement();
  const check = (got: number, want: number, what: string): void =>
    agree.check(got, want, tolerance.rel, what);
  check(leafWidthCorrection(12.7, 2400), expected.worked.width_correction, "width");
  const tilt = expected["tilt_0.5deg"];
  check(jamOfTiltedLeaf(tilt.t, 12.7, Math.PI / 360), tilt.gap_at_jam, "tilt");
  assert.equal(expected.bevel_150mm_R2400.length, 4);
  for (const row of expected.bevel_150mm_R2400) {
    const depth = sagitta(2 * row.true_half_chord, 2400);
    check(depth, row.s, "bevel depth");
    check(radiusFromSagitta(depth, 150), row.R_if_full_diameter_used, "bevel forgotten");
  }
  agree.report("feeler-stack, straight-edge");
});

Deno.test("law: the gap lost under a leaf is the curve's own depth across its width", () => {
  const widths = fc.double({ min: 1, max: 30, noNaN: true });
  const radii = fc.double({ min: 800, max: 6000, noNaN: true });
  fc.assert(fc.property(widths, radii, (width, radius) => {
    const exact = sagitta(width, radius);
    // The next term of the series is w^2 / 16 R^2 of it.
    assert.ok(Math.abs(leafWidthCorrection(width, radius) / exact - 1) < width ** 2 / radius ** 2);
  }));
});

Deno.test("a leaf held flat jams at its own thickness", () => {
  assert.equal(jamOfTiltedLeaf(1.15, 12.7, 0), 1.15);
});

Deno.test("sizes that cannot be are refused by name", () => {
  assert.throws(() => leafWidthCorrection(-1, 2400), /requires width of 0 or more, got width=-1/);
  assert.throws(() => leafWidthCorrection(12.7, 0), /requires radius above 0, got radius=0/);
  assert.throws(() => jamOfTiltedLeaf(1, 12.7, Math.PI / 2), /angle < pi \/ 2/);
  assert.throws(() => jamOfTiltedLeaf(0, 12.7, 0.1), /thickness above 0/);
});
