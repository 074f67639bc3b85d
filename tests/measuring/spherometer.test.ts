import assert from "node:assert/strict";
import fc from "fast-check";
import {
  type DialRow,
  type Feet,
  legCircle,
  probeOffCentre,
  spherometer,
  spherometerHeight,
  spherometerRadius,
  spherometerSensitivity,
  type Surface,
} from "../../lib/measuring/spherometer.ts";
import { KESTREL } from "./bench.ts";
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
    worked: { flat_readings_mm: number[]; mirror_readings_mm: number[] };
    triangle_sides: [number, number, number];
    equilateral_side: number;
  };
  expected: {
    cases: Case[];
    worked: Record<"h" | "u_h" | "dR_da" | "dR_dh" | "R" | "f" | "u_R", number> & {
      budget: Record<"leg" | "h" | "ball", number>;
    };
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

const rows = (flat: readonly number[], mirror: readonly number[]): readonly DialRow[] => [
  ...flat.map((dial) => ({ surface: "flat" as const, dial })),
  ...mirror.map((dial) => ({ surface: "mirror" as const, dial })),
];

Deno.test("the worked readings: radius, uncertainty and budget", () => {
  const agree = new Agreement();
  const { flat_readings_mm: flat, mirror_readings_mm: mirror } = inputs.worked;
  const made = spherometer(rows(flat, mirror), KESTREL) ?? assert.fail();
  const want = expected.worked;
  const u = (...names: string[]): number =>
    Math.hypot(...made.components.filter(({ source }) => names.includes(source)).map((c) => c.u));
  agree.check(made.radius.value, want.R, rel, "R");
  agree.check(made.radius.u, want.u_R, rel, "u(R)");
  agree.check(u("leg circle"), want.budget.leg, rel, "leg");
  agree.check(u("ball feet"), want.budget.ball, rel, "ball");
  const fromHeight = u("spherometer dial", "readings on the flat", "readings on the mirror");
  agree.check(fromHeight, want.budget.h, rel, "h");
  const slopes = spherometerSensitivity(balls(50, 3), want.h);
  agree.check(slopes.perLegRadius, want.dR_da, rel, "dR/da");
  agree.check(slopes.perHeight, want.dR_dh, rel, "dR/dh");
  agree.check(fromHeight / Math.abs(slopes.perHeight), want.u_h, rel, "u(h)");
  agree.report("spherometer, worked readings");
  assert.equal(made.readings, 10);
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

Deno.test("law: the order of the rows and a shifted zero do not matter", () => {
  const dial = fc.integer({ min: 0, max: 9 }).map((step) => step / 1000);
  const five = fc.array(dial, { minLength: 2, maxLength: 5 });
  fc.assert(
    fc.property(five, five, fc.integer({ min: -2000, max: 2000 }), (flat, mirror, shift) => {
      const at = (zero: number) =>
        spherometer(
          rows(flat.map((d) => zero + d), mirror.map((d) => zero + 0.5 + d)).toReversed(),
          KESTREL,
        ) ?? assert.fail();
      const [here, there] = [at(5), at(5 + shift / 1000)];
      assert.ok(Math.abs(here.radius.value / there.radius.value - 1) < 1e-9);
      assert.ok(Math.abs(here.radius.u / there.radius.u - 1) < 1e-6);
    }),
  );
});

Deno.test("a dial that runs the other way gives the same radius", () => {
  const up = spherometer(rows([5.001], [5.523]), KESTREL);
  const down = spherometer(rows([5.523], [5.001]), KESTREL);
  assert.equal(up?.radius.value, down?.radius.value);
  assert.match(up?.assumed[0] ?? "", /one dial step is assumed/);
});

Deno.test("readings all alike: the dial's step is counted once for each place", () => {
  const made = spherometer(rows([5, 5, 5], [5.5, 5.5, 5.5]), KESTREL) ?? assert.fail();
  assert.deepEqual(made.components.map(({ source }) => source), [
    "leg circle",
    "ball feet",
    "spherometer dial",
  ]);
});

Deno.test("missing flat, missing mirror, no instrument, no height: each refused in words", () => {
  assert.throws(
    () => spherometer(rows([], [5.5, 5.5]), KESTREL),
    /spherometer requires a reading on flat glass beside the others, got only 2 on the mirror/,
  );
  assert.throws(
    () => spherometer(rows([5], []), KESTREL),
    /on the mirror beside .* got only 1 on the flat/,
  );
  assert.throws(() => spherometer(rows([5], [5]), KESTREL), /0 < height/);
  const { spherometer: _, ...gauges } = KESTREL.gauges;
  assert.throws(() => spherometer(rows([5], [5.5]), { ...KESTREL, gauges }), /gauges\.spherometer/);
  assert.equal(spherometer([], KESTREL), undefined);
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
