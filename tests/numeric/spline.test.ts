import assert from "node:assert/strict";
import fc from "fast-check";
import { naturalSpline } from "../../lib/numeric/spline.ts";
import { integrate } from "./integrate.ts";
import { near } from "../references/reference.ts";

const knots = [0, 10, 22, 31, 45, 58, 70], ordinates = [0, 1.5, -0.7, 2.2, 3.1, 0.4, -1];

Deno.test("values, slopes and area against another program", () => {
  // CROSS-CHECK secondRoute.py, natural spline: CubicSpline(knots, ordinates, bc_type="natural"): f(5), f(40), f'(26), ∫0..70
  const spline = naturalSpline(knots, ordinates);
  near(spline.value(5), 1.2102951561602278, 1e-12, "f(5)");
  near(spline.value(40), 3.529761164750889, 1e-12, "f(40)");
  near(spline.slope(26), 0.36253713339474974, 1e-12, "f'(26)");
  near(spline.integral(0, 70), 81.72169421803021, 1e-12, "area");
});

Deno.test("three points, by hand", () => {
  // DERIVED: knots 0, 1, 2, ordinates 0, 1, 0: m1 = -3, so f(0.5) = 0.5 + (0.125 - 0.5)(-3)/6 = 0.6875, f'(0) = 1.5
  const spline = naturalSpline([0, 1, 2], [0, 1, 0]);
  assert.deepEqual(spline.curvatures.map((m) => m + 0), [0, -3, 0]);
  near(spline.value(0.5), 0.6875, 1e-15, "f(1/2)");
  near(spline.slope(0), 1.5, 1e-15, "f'(0)");
  near(spline.value(-1), -1.5, 1e-15, "straight beyond the end");
  near(spline.integral(0, 2), 1.25, 1e-15, "area"); // DERIVED: 1 + 2·3/24
});

Deno.test("value, slope and curvature run on through every knot", () => {
  const { value, slope } = naturalSpline(knots, ordinates), e = 1e-7;
  for (const [i, x] of knots.entries()) {
    near(value(x), ordinates[i] ?? NaN, 1e-13, "value", "absolute");
    near(slope(x + e), slope(x - e), 1e-6, "slope", "absolute");
    const bend = (at: number): number => (slope(at + e) - slope(at - e)) / (2 * e);
    near(bend(x + 3 * e), bend(x - 3 * e), 1e-6, "curvature", "absolute");
  }
});

const place = fc.double({ min: -20, max: 90, noNaN: true });
const height = fc.double({ min: -50, max: 50, noNaN: true });
const heights = fc.array(height, { minLength: knots.length, maxLength: knots.length });

Deno.test("law: a straight line comes back, inside and outside", () => {
  fc.assert(fc.property(height, height, place, (a, b, x) => {
    const line = naturalSpline(knots, knots.map((k) => a + b * k));
    near(line.value(x), a + b * x, 1e-10, "value", "absolute");
    near(line.slope(x), b, 1e-11, "slope", "absolute");
    near(line.integral(0, x), a * x + b * x * x / 2, 1e-8, "area", "absolute");
  }));
});

Deno.test("two knots make a line", () => {
  const two = naturalSpline([1, 4], [2, 8]);
  near(two.value(2), 4, 1e-15, "inside");
  near(two.value(-1), -2, 1e-14, "outside");
});

Deno.test("law: the integral is the area under the value, the value the area under the slope", () => {
  fc.assert(
    fc.property(heights, place, place, (y, a, b) => {
      const spline = naturalSpline(knots, y),
        cuts = [a, ...knots, b].filter((x) => (x - a) * (x - b) <= 0);
      cuts.sort((p, q) => a < b ? p - q : q - p);
      let area = 0, rise = 0;
      for (let i = 1; i < cuts.length; i++) {
        area += integrate(spline.value, cuts[i - 1] ?? 0, cuts[i] ?? 0, 1e-9);
        rise += integrate(spline.slope, cuts[i - 1] ?? 0, cuts[i] ?? 0, 1e-9);
      }
      near(spline.integral(a, b), area, 1e-6, "area", "absolute");
      near(spline.value(b) - spline.value(a), rise, 1e-7, "rise", "absolute");
    }),
    { numRuns: 40 },
  );
});

Deno.test("law: of the curves through the points the spline bends least", () => {
  // DERIVED: the curvature of a natural spline is linear between knots, so ∫ f''² = Σ h (m₀² + m₀m₁ + m₁²) / 3; a finer
  // spline that passes elsewhere between the same points must have more of it
  const bending = (at: readonly number[], y: readonly number[]): number => {
    const m = naturalSpline(at, y).curvatures;
    return at.slice(1).reduce((sum, x, i) => {
      const a = m[i] ?? 0, b = m[i + 1] ?? 0;
      return sum + (x - (at[i] ?? 0)) * (a * a + a * b + b * b) / 3;
    }, 0);
  };
  const finer = knots.slice(0, -1).flatMap((k, i) => [k, (k + (knots[i + 1] ?? 0)) / 2]).concat(70);
  fc.assert(
    fc.property(
      heights,
      fc.integer({ min: 0, max: 5 }),
      fc.double({ min: 0.1, max: 3, noNaN: true }),
      (y, which, bump) => {
        const smooth = finer.map(naturalSpline(knots, y).value);
        const least = bending(knots, y);
        near(
          bending(finer, smooth),
          least,
          1e-8 * (1 + least),
          "the same curve on more knots",
          "absolute",
        );
        assert.ok(bending(finer, smooth.map((v, i) => i === 2 * which + 1 ? v + bump : v)) > least);
      },
    ),
    { numRuns: 50 },
  );
});

Deno.test("wrong arguments are refused", () => {
  assert.throws(
    () => naturalSpline([0, 0, 1], [1, 2, 3]),
    /naturalSpline requires two or more rising knots, got \[0, 0, 1\]/,
  );
  assert.throws(() => naturalSpline([1], [1]), RangeError);
  assert.throws(() => naturalSpline([0, 1], [1]), /one finite ordinate for each knot, got 1 for 2/);
  assert.throws(() => naturalSpline([0, 1], [1, NaN]), RangeError);
  assert.throws(() => naturalSpline([0, 1], [1, 2]).value(NaN), /finite place/);
});
