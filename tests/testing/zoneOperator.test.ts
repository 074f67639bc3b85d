import assert from "node:assert/strict";
import fc from "fast-check";
import { random } from "../../lib/numeric/random.ts";
import { zoneModel } from "../../lib/testing/zoneModel.ts";
import { operatorCovariance, zoneOperator } from "../../lib/testing/zoneOperator.ts";
import { dot, times } from "../../lib/numeric/smallMatrix.ts";
import { close } from "../optics/close.ts";
import { conicCurve, mirrorOf, readings } from "./judge.ts";

const EDGES = [0, 30, 45, 57, 67, 75];
const zones = EDGES.slice(1).map((outer, i) => ({ inner: EDGES[i] ?? 0, outer }));
const model = zoneModel(zones, { half: 75, radius: 2400, source: "moves", openings: "bands" });
const operator = zoneOperator(model);

Deno.test("a bare conic comes through: K from exact readings, both lamps, both shapes of window", () => {
  for (const source of ["moves", "fixed"] as const) {
    for (const openings of ["bands", "sectors"] as const) {
      const here = zoneModel(zones, { half: 75, radius: 2400, source, openings });
      for (const k of [-1.3, -0.7, 0]) {
        const mirror = mirrorOf(75, 2400, EDGES, conicCurve(2400, k)),
          ideal = mirrorOf(75, 2400, EDGES, conicCurve(2400, -1));
        const perfect = readings(ideal, source, openings);
        const departures = readings(mirror, source, openings).map((v, i) => v - (perfect[i] ?? 0));
        close(-1 + dot(zoneOperator(here).conic, departures), k, 1e-3);
      }
    }
  }
});

Deno.test("a primary aberration alone: rows are alike but for the shape 6q^2 - 6q + 1", () => {
  // DERIVED W = c_1 . -(a^2/2kR^2) . 2/lambda . (q^2/2 less its focus); for departures linear in q
  const departures = zones.map(({ inner, outer }) => (inner * inner + outer * outer) / 2 / 75 ** 2);
  const waves = times(operator.wavefront, departures).map((w) => w / 550);
  const half = (75 ** 2 * 1e6) / (2400 ** 2 * 550) / 2; // waves of q^2 for 1 mm of slope
  waves.forEach((w, i) => {
    const q = model.grid.q[i] ?? 0;
    close(w, (-half * (6 * q * q - 6 * q + 1)) / 6, 2e-3 * half);
  });
});

Deno.test("a constant is focus and only focus", () => {
  const ones = zones.map(() => 1);
  assert.ok(times(operator.wavefront, ones).every((w) => Math.abs(w) < 1e-6));
  close(dot(operator.focus, ones), 1, 1e-9);
  close(dot(operator.conic, ones), 0, 1e-9);
});

Deno.test("covariance by the operator is that of many draws", () => {
  const dice = random(4),
    variances = zones.map(() => 0.01 ** 2),
    predicted = operatorCovariance(operator.profile, variances);
  const last = predicted.length - 1;
  let a = 0, b = 0, c = 0;
  for (let d = 0; d < 4000; d++) {
    const w = times(operator.profile, zones.map(() => 0.01 * dice.normal()));
    a += (w[0] ?? 0) ** 2 / 4000;
    b += (w[last] ?? 0) ** 2 / 4000;
    c += ((w[0] ?? 0) * (w[last] ?? 0)) / 4000;
  }
  const at = (i: number, j: number): number => predicted[i]?.[j] ?? NaN;
  close(a / at(0, 0), 1, 0.08);
  close(b / at(last, last), 1, 0.08);
  close(c / Math.sqrt(a * b), at(0, last) / Math.sqrt(at(0, 0) * at(last, last)), 0.05);
});

Deno.test("the curve goes through the window averages: heights at the edges of bands need no interpolation", () => {
  // DERIVED delta(b) - delta(a) = -(b^2 - a^2) L / (2 k R^2), L the mean through the band
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -0.3, max: 0.3, noNaN: true }), { minLength: 5, maxLength: 5 }),
      (L) => {
        const w = times(operator.profile, L), radii = [...model.profileRadii];
        const height = (r: number): number =>
          w[radii.findIndex((x) => Math.abs(x - r) < 1e-9)] ?? NaN;
        // profile steps of 75/40 mm hit 30 and 45 mm, where windows end
        const step = (a: number, b: number): number => (height(b) - height(a)) / (b * b - a * a);
        const slope = (i: number): number => (-(L[i] ?? 0) * 1e6) / 2400 ** 2;
        close(
          step(30, 45) - step(0, 30),
          slope(1) - slope(0),
          1e-3 * (Math.abs(slope(1)) + Math.abs(slope(0))) + 1e-4,
        );
      },
    ),
  );
});
