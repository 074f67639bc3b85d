import assert from "node:assert/strict";
import { type Feet, spherometerRadius, type Surface } from "../../lib/measuring/spherometerFeet.ts";
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
  expected: {
    cases: Case[];
    ring: Record<"h_concave_outer" | "h_convex_inner" | "R_if_wrong_edge_used_on_concave", number>;
    rounded_ring: Record<"h_concave" | "h_convex", number>;
  };
  tolerance: { rel: number };
}

// CROSS-CHECK numpy 1.24.2: tests/references/spherometer.json
const { expected, tolerance: { rel } } = readReference<Reference>("spherometer");
const balls = (legRadius: number, ballRadius: number): Feet => ({
  kind: "balls",
  legRadius,
  ballRadius,
});

Deno.test("ball feet: radii, and what a forgotten ball does", () => {
  const agree = new Agreement();
  assert.equal(expected.cases.length, 5);
  for (const row of expected.cases) {
    const feet = balls(row.leg_circle_radius, row.ball_radius);
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
  agree.check(spherometerRadius(ring, h_concave_outer), 2400, rel, "outer");
  agree.check(spherometerRadius(ring, h_convex_inner, "convex"), 2400, rel, "inner");
  const wrong = spherometerRadius(ring, h_concave_outer, "convex");
  agree.check(wrong, R_if_wrong_edge_used_on_concave, rel, "wrong edge");
  const rounded: Feet = { kind: "rounded ring", ringRadius: 39, edgeRadius: 0.5 };
  const { h_concave, h_convex } = expected.rounded_ring;
  agree.check(spherometerRadius(rounded, h_concave), 2400, rel, "rounded");
  agree.check(spherometerRadius(rounded, h_convex, "convex"), 2400, rel, "rounded");
  agree.report("spherometer, rings");
});

Deno.test("feet that cannot stand there are refused", () => {
  assert.throws(() => spherometerRadius(balls(50, 3), 51), /0 < height <= leg circle/);
  assert.throws(() => spherometerRadius(balls(0, 3), 0.5), /feet on a circle above 0/);
  const inside: Feet = { kind: "sharp ring", outerRadius: 38, innerRadius: 40 };
  assert.throws(() => spherometerRadius(inside, 0.5), /feet on a circle/);
});
