import assert from "node:assert/strict";
import fc from "fast-check";
import {
  type Feet,
  legCircle,
  probeOffCentre,
  spherometerHeight,
  spherometerRadius,
  type Surface,
} from "../../lib/measuring/spherometerFeet.ts";
import { Agreement, readReference } from "./reference.ts";

interface Case {
  name: string;
  R: number;
  leg_circle_radius: number;
  ball_radius: number;
  surface: Surface;
  h: number;
  R_if_ball_ignored: number;
  R_if_ball_sign_wrong: number;
}

interface Reference {
  inputs: {
    cases: Omit<Case, "h">[];
    triangle_sides: [number, number, number];
    equilateral_side: number;
  };
  expected: {
    cases: Case[];
    triangle_circumradius: number;
    equilateral_circumradius: number;
    ring: Record<"h_concave_outer" | "h_convex_inner" | "R_if_wrong_edge_used_on_concave", number>;
    rounded_ring: Record<"h_concave" | "h_convex", number>;
    probe_off_centre: { probe_off_centre_mm: number; h_error: number; R_rel_error: number }[];
  };
  tolerance: { rel: number };
}

// CROSS-CHECK numpy 1.24.2: tests/references/spherometer.json
const { inputs, expected, tolerance: { rel } } = readReference<Reference>("spherometer");
const balls = (legRadius: number, ballRadius: number): Feet => ({
  kind: "balls",
  legRadius,
  ballRadius,
});

Deno.test("ball feet: heights, radii and what a forgotten ball does", () => {
  const agree = new Agreement();
  assert.equal(expected.cases.length, 5);
  for (const row of expected.cases) {
    const feet = balls(row.leg_circle_radius, row.ball_radius);
    agree.check(spherometerHeight(feet, row.R, row.surface), row.h, rel, row.name);
    agree.check(spherometerRadius(feet, row.h, row.surface), row.R, rel, row.name);
    const without = spherometerRadius(balls(row.leg_circle_radius, 0), row.h, row.surface);
    agree.check(without, row.R_if_ball_ignored, rel, `${row.name}, ball ignored`);
    const other = row.surface === "concave" ? "convex" : "concave";
    agree.check(spherometerRadius(feet, row.h, other), row.R_if_ball_sign_wrong, rel, "wrong sign");
  }
  agree.report("spherometer, ball feet");
});

Deno.test("rings touch a hollow outside and a bulge inside", () => {
  const agree = new Agreement();
  const ring: Feet = { kind: "sharp ring", outerRadius: 40, innerRadius: 38 };
  const { h_concave_outer, h_convex_inner, R_if_wrong_edge_used_on_concave } = expected.ring;
  agree.check(spherometerHeight(ring, 2400), h_concave_outer, rel, "outer");
  agree.check(spherometerHeight(ring, 2400, "convex"), h_convex_inner, rel, "inner");
  const wrong = spherometerRadius(ring, h_concave_outer, "convex");
  agree.check(wrong, R_if_wrong_edge_used_on_concave, rel, "wrong edge");
  const rounded: Feet = { kind: "rounded ring", ringRadius: 39, edgeRadius: 0.5 };
  agree.check(spherometerHeight(rounded, 2400), expected.rounded_ring.h_concave, rel, "rounded");
  agree.check(
    spherometerHeight(rounded, 2400, "convex"),
    expected.rounded_ring.h_convex,
    rel,
    "rounded",
  );
  agree.report("spherometer, rings");
});

Deno.test("leg circle from the sides of the triangle, and a probe beside the middle", () => {
  const agree = new Agreement();
  agree.check(legCircle(inputs.triangle_sides), expected.triangle_circumradius, rel, "triangle");
  const side = inputs.equilateral_side;
  agree.check(legCircle([side, side, side]), expected.equilateral_circumradius, rel, "equilateral");
  for (const row of expected.probe_off_centre) {
    agree.check(probeOffCentre(row.probe_off_centre_mm, 2400), row.h_error, rel, "probe");
    const relative = row.probe_off_centre_mm ** 2 / 50 ** 2;
    agree.check(relative, row.R_rel_error, rel, "probe, radius");
  }
  agree.report("spherometer, geometry");
});

Deno.test("law: height undoes radius for every kind of foot, hollow and bulge", () => {
  const feet = fc.constantFrom<Feet>(
    balls(50, 3),
    { kind: "sharp ring", outerRadius: 40, innerRadius: 38 },
    { kind: "rounded ring", ringRadius: 39, edgeRadius: 0.5 },
  );
  const radius = fc.double({ min: 200, max: 20_000, noNaN: true });
  fc.assert(
    fc.property(feet, radius, fc.constantFrom<Surface>("concave", "convex"), (foot, R, side) => {
      const back = spherometerRadius(foot, spherometerHeight(foot, R, side), side);
      assert.ok(Math.abs(back / R - 1) < 1e-12);
    }),
  );
});

Deno.test("feet that cannot stand there are refused", () => {
  assert.throws(() => spherometerRadius(balls(50, 3), 51), /0 < height <= leg circle/);
  assert.throws(() => spherometerHeight(balls(50, 3), 40), /a curve the feet can stand on/);
  assert.throws(() => spherometerRadius(balls(0, 3), 0.5), /feet on a circle above 0/);
  const inside: Feet = { kind: "sharp ring", outerRadius: 38, innerRadius: 40 };
  assert.throws(() => spherometerRadius(inside, 0.5), /feet on a circle/);
  assert.throws(() => legCircle([10, 20, 40]), /three sides of a triangle/);
  assert.throws(() => probeOffCentre(1, 0), /radius above 0/);
});
