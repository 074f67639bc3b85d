import assert from "node:assert/strict";
import fc from "fast-check";
import {
  capVolume,
  carrySagitta,
  focalLength,
  paraboloidSagitta,
  radiusFromSagitta,
  radiusSensitivity,
  sagitta,
  sagittaSensitivity,
  sagittaWithUncertainty,
} from "../../lib/optics/sphere.ts";
import { measured } from "../../lib/quantity/measured.ts";
import { Agreement, readReference } from "../measuring/reference.ts";

interface Row {
  D: number;
  N: number;
  R: number;
  f: number;
  sagitta_sphere: number;
  sagitta_parabola: number;
  difference: number;
  R_back_parabola_formula_on_sphere_sag: number;
}

interface Reference {
  inputs: { cases: unknown[]; uncertainty_case: Record<"r" | "u_r" | "s" | "u_s", number> };
  expected: {
    table: Row[];
    uncertainty_case: Record<"R" | "dR_dr" | "dR_ds" | "u_R" | "u_f", number>;
    sensitivity: { D: number; N: number; "df_per_0.01mm_sagitta": number }[];
    inch_case: Record<"D_mm" | "R_mm" | "sagitta_mm" | "D_in" | "R_in" | "sagitta_in", number>;
    traps_150mm_R2400: Record<string, number>;
  };
  tolerance: { rel: number };
}

// CROSS-CHECK numpy 1.24.2, double precision checked at 40 digits: tests/references/sagitta-conversions.json
const REFERENCE = readReference<Reference>("sagitta-conversions");
const REL = REFERENCE.tolerance.rel;

const width = fc.double({ min: 10, max: 600, noNaN: true });
const ratio = fc.double({ min: 1, max: 40, noNaN: true });

Deno.test("sagitta and radius agree with the reference table", () => {
  const agree = new Agreement();
  assert.equal(REFERENCE.expected.table.length, REFERENCE.inputs.cases.length);
  assert.equal(REFERENCE.expected.table.length, 10);
  for (const row of REFERENCE.expected.table) {
    agree.check(sagitta(row.D, row.R), row.sagitta_sphere, REL, `sphere ${row.D} f/${row.N}`);
    agree.check(paraboloidSagitta(row.D, row.R), row.sagitta_parabola, REL, `paraboloid ${row.D}`);
    agree.check(radiusFromSagitta(row.sagitta_sphere, row.D), row.R, REL, `back ${row.D}`);
    agree.check(focalLength(row.R), row.f, REL, `focal ${row.D}`);
    const back = row.D ** 2 / (8 * row.sagitta_sphere);
    agree.check(back, row.R_back_parabola_formula_on_sphere_sag, REL, `trap ${row.D}`);
    // A difference of two numbers 3000 times as large keeps three digits less.
    const difference = sagitta(row.D, row.R) - paraboloidSagitta(row.D, row.R);
    assert.ok(Math.abs(difference - row.difference) < 1e-14);
  }
  agree.report("sagitta-conversions, table");
});

Deno.test("uncertainty of a radius agrees with the worked case", () => {
  const { r, u_r, s, u_s } = REFERENCE.inputs.uncertainty_case;
  const expected = REFERENCE.expected.uncertainty_case;
  const agree = new Agreement();
  const slopes = radiusSensitivity(s, 2 * r);
  const u = Math.hypot(slopes.perHalfChord * u_r, slopes.perDepth * u_s);
  agree.check(radiusFromSagitta(s, 2 * r), expected.R, REL, "R");
  agree.check(u, expected.u_R, REL, "u(R)");
  agree.check(u / 2, expected.u_f, REL, "u(f)");
  agree.check(slopes.perHalfChord, expected.dR_dr, REL, "dR/dr");
  agree.check(slopes.perDepth, expected.dR_ds, REL, "dR/ds");
  agree.report("sagitta-conversions, uncertainty");
});

Deno.test("what a hundredth of a mm does to the focal length", () => {
  const agree = new Agreement();
  for (const row of REFERENCE.expected.sensitivity) {
    const radius = 2 * row.D * row.N;
    const depth = sagitta(row.D, radius);
    // The file's number is f ds / s; the exact slope of R is R/s - 1, not R/s.
    // DERIVED: (r^2 - s^2) / 2s^2 with r^2 = 2Rs - s^2.
    agree.check(
      (focalLength(radius) / depth) * 0.01,
      row["df_per_0.01mm_sagitta"],
      REL,
      `${row.D}`,
    );
    const exact = Math.abs(radiusSensitivity(depth, row.D).perDepth) / 2;
    assert.ok(Math.abs(exact / ((radius / depth - 1) / 2) - 1) < 1e-12);
  }
  agree.report("sagitta-conversions, sensitivity");
});

Deno.test("inches give the same curve as their metric twin, and the traps their ratios", () => {
  const agree = new Agreement();
  const inch = REFERENCE.expected.inch_case;
  agree.check(sagitta(inch.D_mm, inch.R_mm), inch.sagitta_mm, REL, "mm");
  agree.check(sagitta(inch.D_in, inch.R_in), inch.sagitta_in, REL, "inch");
  const trap = REFERENCE.expected.traps_150mm_R2400;
  const depth = sagitta(150, 2400);
  const check = (key: string, got: number): void => agree.check(got, trap[key] ?? NaN, REL, key);
  check("diameter_used_as_radius_R", radiusFromSagitta(depth, 300));
  check("radius_used_as_diameter_R", radiusFromSagitta(depth, 75));
  check("inch_sagitta_read_as_mm_R", radiusFromSagitta(depth / 25.4, 150));
  check("mm_sagitta_read_as_inch_R", radiusFromSagitta(depth * 25.4, 150));
  check("hundredths_slip_x10_R", radiusFromSagitta(depth * 10, 150));
  check("thou_as_hundredths_mm_R", radiusFromSagitta(depth / 2.54, 150));
  check("f_used_as_R_sagitta", sagitta(150, 1200));
  agree.report("sagitta-conversions, inches and traps");
});

Deno.test("law: radius from sagitta undoes sagitta", () => {
  fc.assert(fc.property(width, ratio, (aperture, focalRatio) => {
    const radius = 2 * aperture * focalRatio;
    const back = radiusFromSagitta(sagitta(aperture, radius), aperture);
    // A few roundings of double precision.
    assert.ok(Math.abs(back / radius - 1) < 1e-14);
  }));
});

Deno.test("law: twice the size everywhere is twice the depth", () => {
  fc.assert(fc.property(width, ratio, (aperture, focalRatio) => {
    const radius = 2 * aperture * focalRatio;
    assert.equal(sagitta(2 * aperture, 2 * radius), 2 * sagitta(aperture, radius));
  }));
});

Deno.test("law: intersecting chords, and the sphere lies below the paraboloid by r^4 / 8R^3", () => {
  fc.assert(fc.property(width, ratio, (aperture, focalRatio) => {
    const radius = 2 * aperture * focalRatio;
    const depth = sagitta(aperture, radius);
    const square = aperture ** 2 / 4;
    assert.ok(Math.abs((depth * (2 * radius - depth)) / square - 1) < 1e-13);
    const extra = (depth - paraboloidSagitta(aperture, radius)) / (square ** 2 / (8 * radius ** 3));
    // The next term is r^2 / 2R^2 of this one (DERIVED from the series), at most 1/32 here, and rounding.
    assert.ok(extra > 1 - 1e-4 && extra < 1 + square / radius ** 2 + 1e-4 * focalRatio ** 2);
  }));
});

Deno.test("law: carrying a depth to another chord and back changes nothing", () => {
  fc.assert(
    fc.property(width, ratio, fc.double({ min: 0.5, max: 0.99, noNaN: true }), (D, N, part) => {
      const depth = sagitta(D * part, 2 * D * N);
      const there = carrySagitta(depth, D * part, D);
      assert.ok(Math.abs(carrySagitta(there, D, D * part) / depth - 1) < 1e-13);
      assert.ok(there > depth);
    }),
  );
});

Deno.test("law: sensitivities are the slopes of the formulas", () => {
  fc.assert(fc.property(width, ratio, (aperture, focalRatio) => {
    const radius = 2 * aperture * focalRatio;
    const depth = sagitta(aperture, radius);
    const step = 1e-5;
    const up = radiusFromSagitta(depth * (1 + step), aperture);
    const down = radiusFromSagitta(depth * (1 - step), aperture);
    const numeric = (up - down) / (2 * step * depth);
    // A central difference is right to step squared, and loses half the digits by rounding.
    assert.ok(Math.abs(radiusSensitivity(depth, aperture).perDepth / numeric - 1) < 1e-8);
    const wider = radiusFromSagitta(depth, aperture * (1 + step));
    const narrower = radiusFromSagitta(depth, aperture * (1 - step));
    const perHalf = (wider - narrower) / (step * aperture);
    assert.ok(Math.abs(radiusSensitivity(depth, aperture).perHalfChord / perHalf - 1) < 1e-8);
    const longer = sagitta(aperture, radius * (1 + step));
    const shorter = sagitta(aperture, radius * (1 - step));
    const perRadius = (longer - shorter) / (2 * step * radius);
    assert.ok(Math.abs(sagittaSensitivity(aperture, radius) / perRadius - 1) < 1e-8);
  }));
});

Deno.test("cap volume: a half ball, and a shallow dish close to half its cylinder", () => {
  // DERIVED: half a ball of radius 10 holds 2/3 pi 10^3.
  assert.ok(Math.abs(capVolume(20, 10) - (2000 * Math.PI) / 3) < 1e-9);
  const cylinder = Math.PI * 75 ** 2 * sagitta(150, 2400);
  assert.ok(Math.abs(capVolume(150, 2400) / cylinder - 0.5) < 1e-4);
});

Deno.test("a sagitta has its radius's uncertainty, turned back by the slope the radius came by", () => {
  const radius = radiusFromSagitta(1.17, 150), slope = radiusSensitivity(1.17, 150).perDepth;
  const back = sagittaWithUncertainty(150, measured(radius, 0.004 * -slope, "mm", 5));
  assert.ok(Math.abs(back.u / 0.004 - 1) < 1e-12);
  assert.ok(Math.abs(back.value / 1.17 - 1) < 1e-13);
  assert.equal(back.dof, 5);
});

Deno.test("the edge of what is possible: a full half-circle", () => {
  assert.equal(sagitta(200, 100), 100);
  assert.equal(radiusFromSagitta(100, 200), 100);
  assert.throws(() => sagittaSensitivity(200, 100), /requires aperture < 2 x radius/);
});

Deno.test("what cannot be is refused in one form", () => {
  const form = /^\w+ requires .+, got .+/;
  for (
    const bad of [
      () => sagitta(5000, 2400),
      () => sagitta(0, 2400),
      () => sagitta(NaN, 2400),
      () => sagitta(150, Infinity),
      () => radiusFromSagitta(0, 150),
      () => radiusFromSagitta(-1, 150),
      () => radiusFromSagitta(76, 150),
      () => radiusFromSagitta(1, Infinity),
      () => radiusSensitivity(NaN, 150),
      () => paraboloidSagitta(150, 0),
      () => paraboloidSagitta(Infinity, 2400),
      () => focalLength(-1),
      () => focalLength(Infinity),
      () => capVolume(150, 70),
    ]
  ) assert.throws(bad, (error) => error instanceof RangeError && form.test(error.message));
});
