import fc from "fast-check";
import assert from "node:assert/strict";
import { tQuantile } from "../../../lib/numeric/quantiles.ts";
import { meet, whyStuck } from "../../../lib/shaping/grinding/forecast.ts";

Deno.test("law: on a straight line the interval is Fieller's, root by root", () => {
  const line = fc.record({
    rate: fc.double({ min: 0.004, max: 0.012, noNaN: true }),
    left: fc.double({ min: 0.02, max: 0.3, noNaN: true }),
    uDepth: fc.double({ min: 0.0005, max: 0.004, noNaN: true }),
    uRate: fc.double({ min: 0.00001, max: 0.0003, noNaN: true }),
    correlation: fc.double({ min: -0.9, max: 0.9, noNaN: true }),
    dof: fc.integer({ min: 3, max: 30 }),
  });
  fc.assert(fc.property(line, ({ rate, left, uDepth, uRate, correlation, dof }) => {
    const cov = correlation * uDepth * uRate;
    const depth = (x: number): { value: number; u: number } => ({
      value: 1 + rate * x,
      u: Math.sqrt(uDepth ** 2 + 2 * cov * x + (uRate * x) ** 2),
    });
    const found = meet(depth, 1 + left, dof), t = tQuantile(0.975, dof);
    // DERIVED (left - rate x)^2 = t^2 u(x)^2, a quadratic in x
    const a = rate ** 2 - (t * uRate) ** 2;
    const b = -2 * (rate * left + t * t * cov), c = left ** 2 - (t * uDepth) ** 2;
    const root = Math.sqrt(b * b - 4 * a * c);
    if (!found) return assert.ok(!(a > 0) || (-b + root) / (2 * a) > 400);
    const [low, high] = [(-b - root) / (2 * a), (-b + root) / (2 * a)];
    assert.ok(Math.abs(found.interval95[0] - Math.max(0, low)) < 1e-6);
    assert.ok(Math.abs(found.interval95[1] - high) < 1e-6 * (1 + high));
  }));
});

Deno.test("a rate that may be nothing has no forecast, nor has a depth that goes the other way", () => {
  assert.equal(meet((x) => ({ value: 1 + 0.001 * x, u: 0.001 * (1 + x) }), 1.1, 3), undefined);
  assert.equal(meet((x) => ({ value: 1 - 0.009 * x, u: 0.002 }), 1.1, 9), undefined);
});

Deno.test("downwards too, and there already", () => {
  // DERIVED: (1.2 - 1.17) / 0.009 = 3.3333
  const back = meet((x) => ({ value: 1.2 - 0.009 * x, u: 0.002 }), 1.17, Infinity);
  assert.equal(back?.minutes.value.toFixed(4), "3.3333");
  const here = meet((x) => ({ value: 1.17 + 0.009 * x, u: 0.002 }), 1.17, 5);
  assert.equal(here?.minutes.value, 0);
  assert.equal(here?.interval95[0], 0);
});

Deno.test("bad input", () => {
  assert.throws(() => meet(() => ({ value: 1, u: 0.1 }), NaN, 3), /finite target in mm, got NaN/);
});

Deno.test("the air holds a disc by its area", () => {
  // DERIVED: 101325 Pa x pi 0.075^2 m2 = 1790.5 N
  assert.ok(Math.abs(whyStuck({ aperture: 150 }).airForce - 1790.5) < 0.5);
  const [small, large] = [100, 200].map((aperture) => whyStuck({ aperture }).airForce);
  assert.ok(Math.abs((large ?? 0) / (small ?? 1) - 4) < 1e-12);
});

Deno.test("each way to stick is named, and none is mended by a blow", () => {
  const causes = (discs: Parameters<typeof whyStuck>[0]): string =>
    whyStuck(discs).causes.join("; ");
  assert.match(causes({ aperture: 150, grainUm: 12.8, dry: true }), /ran dry.*no air/);
  assert.match(causes({ aperture: 150, grainUm: 29.2, stillMinutes: 20 }), /stood still/);
  assert.match(causes({ aperture: 150 }), /pitch has flowed/);
  assert.doesNotMatch(causes({ aperture: 150, grainUm: 185, dry: true }), /no air/);
  for (const grainUm of [185, 58, 12.8, 3, undefined]) {
    const advice = whyStuck({ aperture: 150, ...(grainUm === undefined ? {} : { grainUm }) });
    assert.ok(advice.causes.length > 0, `${grainUm}`);
    assert.match(advice.never.join(" "), /no blow/);
    assert.ok(advice.steps.length >= 3);
    assert.doesNotMatch(advice.steps.join(" "), /\b(tap|hammer|knock|hot|pull)\b/);
  }
});

Deno.test("a lap is told otherwise than two discs", () => {
  assert.match(whyStuck({ aperture: 150 }).nextTime, /never leave the mirror on the lap/i);
  assert.match(whyStuck({ aperture: 150, grainUm: 6.5 }).nextTime, /water/);
});

Deno.test("sizes that are none are refused", () => {
  assert.throws(() => whyStuck({ aperture: 0 }), /aperture and grain above 0/);
  assert.throws(() => whyStuck({ aperture: 150, stillMinutes: -1 }), /minutes of 0 or more/);
});
