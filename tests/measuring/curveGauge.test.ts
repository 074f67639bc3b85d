import assert from "node:assert/strict";
import fc from "fast-check";
import { fitProfile, type ProfilePoint } from "../../lib/measuring/curveGauge.ts";
import { paraboloidSagitta, sagitta } from "../../lib/optics/sphere.ts";
import { Agreement, readReference } from "./reference.ts";

interface Reference {
  inputs: { r_mm: number[]; sagitta_mm: number[] };
  expected: {
    origin: Record<"R" | "u_R" | "residual_sd", number>;
    free: Record<"a" | "u_a" | "R" | "u_R", number>;
    circle_origin_R: number;
    circle_free: { R: number; c: number };
  };
  tolerance: { rel: number; circle_rel: number };
}

// CROSS-CHECK scipy 1.10.1: tests/references/sagitta-profile-fit.json
const { inputs, expected, tolerance } = readReference<Reference>("sagitta-profile-fit");
const POINTS: readonly ProfilePoint[] = inputs.r_mm.map((halfChord, at) => ({
  halfChord,
  depth: inputs.sagitta_mm[at] ?? NaN,
}));

Deno.test("paraboloid through the zero and with the zero fitted", () => {
  const agree = new Agreement();
  const origin = fitProfile(POINTS, { shape: "paraboloid" });
  agree.check(origin.radius.value, expected.origin.R, tolerance.rel, "R");
  agree.check(origin.radius.u, expected.origin.u_R, tolerance.rel, "u(R)");
  agree.check(origin.s, expected.origin.residual_sd, tolerance.rel, "s");
  assert.equal(origin.zero, undefined);
  assert.equal(origin.radius.dof, 4);
  const free = fitProfile(POINTS, { shape: "paraboloid", zero: "fitted" });
  agree.check(free.radius.value, expected.free.R, tolerance.rel, "R, free");
  agree.check(free.radius.u, expected.free.u_R, tolerance.rel, "u(R), free");
  agree.check(free.zero?.value ?? NaN, expected.free.a, tolerance.rel, "zero");
  agree.check(free.zero?.u ?? NaN, expected.free.u_a, tolerance.rel, "u(zero)");
  agree.report("sagitta-profile-fit, paraboloid");
});

Deno.test("the exact sphere, through the zero and with the zero fitted", () => {
  const agree = new Agreement();
  agree.check(fitProfile(POINTS).radius.value, expected.circle_origin_R, tolerance.circle_rel, "R");
  const free = fitProfile(POINTS, { zero: "fitted" });
  agree.check(free.radius.value, expected.circle_free.R, tolerance.circle_rel, "R, free");
  // The zero is 1/3000 of the depths it comes from: it keeps that much fewer digits.
  agree.check(free.zero?.value ?? NaN, expected.circle_free.c, 3000 * tolerance.circle_rel, "zero");
  agree.report("sagitta-profile-fit, sphere");
});

const radii = fc.double({ min: 400, max: 6000, noNaN: true });
const chords = fc.uniqueArray(fc.integer({ min: 10, max: 100 }), { minLength: 3, maxLength: 8 });

Deno.test("law: points on a sphere, or a paraboloid, with a wrong zero, give both back", () => {
  fc.assert(
    fc.property(radii, chords, fc.double({ min: -0.1, max: 0.1, noNaN: true }), (R, list, zero) => {
      const on = (depth: (aperture: number, radius: number) => number): readonly ProfilePoint[] =>
        list.map((halfChord) => ({ halfChord, depth: depth(2 * halfChord, R) + zero }));
      for (
        const [shape, depth] of [["sphere", sagitta], ["paraboloid", paraboloidSagitta]] as const
      ) {
        const fit = fitProfile(on(depth), { shape, zero: "fitted" });
        assert.ok(Math.abs(fit.radius.value / R - 1) < 1e-7, shape);
        assert.ok(Math.abs((fit.zero?.value ?? NaN) - zero) < 1e-7, shape);
        assert.ok(fit.s < 1e-8);
      }
    }),
  );
});

Deno.test("residuals are measured less curve", () => {
  const fit = fitProfile([...POINTS.slice(0, 4), { halfChord: 70, depth: 1.2 }]);
  assert.ok((fit.residuals[4] ?? 0) > 0);
  assert.equal(fit.residuals.length, 5);
});

Deno.test("too few points, a half-chord of nothing, or a bulge is refused", () => {
  assert.throws(() => fitProfile(POINTS.slice(0, 1)), /2 points or more, .* got 1/);
  assert.throws(() => fitProfile(POINTS.slice(0, 2), { zero: "fitted" }), /3 points or more/);
  assert.throws(() => fitProfile([{ halfChord: 0, depth: 0 }, ...POINTS]), /got halfChord=0/);
  const bulge = POINTS.map(({ halfChord, depth }) => ({ halfChord, depth: -depth }));
  assert.throws(() => fitProfile(bulge), /depths that grow outwards/);
});
