import assert from "node:assert/strict";
import fc from "fast-check";
import {
  depthOffCentre,
  jamOfTiltedLeaf,
  leafWidthCorrection,
  radiusSeenOffCentre,
  straightEdgeSag,
} from "../../lib/measuring/straightEdge.ts";
import { radiusFromSagitta, sagitta } from "../../lib/optics/sphere.ts";
import { Agreement, readReference } from "./reference.ts";

interface Reference {
  expected: {
    worked: { width_correction: number };
    "tilt_0.5deg": { t: number; gap_at_jam: number };
    bevel_150mm_R2400: { true_half_chord: number; s: number; R_if_full_diameter_used: number }[];
    straight_edge_off_centre_150mm_R2400: {
      offset_mm: number;
      s_measured: number;
      R_if_ignored: number;
    }[];
    straight_edge_sag_steel: { span_mm: number; height_mm: number; sag_mm: number }[];
  };
  tolerance: { rel: number };
}

// CROSS-CHECK numpy 1.24.2: tests/references/feeler-stack.json (density 7850 kg/m3, modulus 200 GPa, g 9.80665)
const { expected, tolerance } = readReference<Reference>("feeler-stack");

Deno.test("width, tilt, bevel, offset and sag agree with the reference", () => {
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
  assert.equal(expected.straight_edge_off_centre_150mm_R2400.length, 3);
  for (const row of expected.straight_edge_off_centre_150mm_R2400) {
    check(depthOffCentre(150, 2400, row.offset_mm), row.s_measured, "offset depth");
    check(radiusSeenOffCentre(150, 2400, row.offset_mm), row.R_if_ignored, "offset radius");
  }
  assert.equal(expected.straight_edge_sag_steel.length, 4);
  for (const { span_mm: span, height_mm: height, sag_mm } of expected.straight_edge_sag_steel) {
    check(straightEdgeSag({ span, height }), sag_mm, `sag ${span} x ${height}`);
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

Deno.test("law: off centre always reads too long, by e^2 / r^2 to first order", () => {
  fc.assert(fc.property(fc.double({ min: 0.1, max: 8, noNaN: true }), (offset) => {
    const ratio = radiusSeenOffCentre(150, 2400, offset) / 2400 - 1;
    assert.ok(ratio > 0);
    assert.ok(Math.abs(ratio / (offset ** 2 / 75 ** 2) - 1) < 0.02);
  }));
  assert.equal(depthOffCentre(150, 2400, 0), sagitta(150, 2400));
  assert.equal(depthOffCentre(150, 2400, 75), 0);
});

Deno.test("law: sag grows with the fourth power of the span and falls with the square of the height", () => {
  const one = straightEdgeSag({ span: 100, height: 10 });
  assert.ok(Math.abs(straightEdgeSag({ span: 200, height: 10 }) / one - 16) < 1e-12);
  assert.ok(Math.abs(straightEdgeSag({ span: 100, height: 20 }) * 4 / one - 1) < 1e-12);
});

Deno.test("a leaf held flat jams at its own thickness", () => {
  assert.equal(jamOfTiltedLeaf(1.15, 12.7, 0), 1.15);
});

Deno.test("sizes that cannot be are refused by name", () => {
  assert.throws(() => leafWidthCorrection(-1, 2400), /requires width of 0 or more, got width=-1/);
  assert.throws(() => leafWidthCorrection(12.7, 0), /requires radius above 0, got radius=0/);
  assert.throws(() => jamOfTiltedLeaf(1, 12.7, Math.PI / 2), /angle < pi \/ 2/);
  assert.throws(() => jamOfTiltedLeaf(0, 12.7, 0.1), /thickness above 0/);
  assert.throws(() => straightEdgeSag({ span: 150, height: 0 }), /height above 0/);
  assert.throws(() => straightEdgeSag({ span: NaN, height: 30 }), /span above 0/);
  assert.throws(() => depthOffCentre(150, 2400, 76), /offset <= aperture \/ 2/);
  assert.throws(() => depthOffCentre(150, 70, 1), /aperture \/ 2 < radius/);
});
