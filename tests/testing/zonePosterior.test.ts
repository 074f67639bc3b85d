import assert from "node:assert/strict";
import { zoneModel } from "../../lib/testing/zoneModel.ts";
import { zonePosterior } from "../../lib/testing/zonePosterior.ts";
import { close } from "../optics/close.ts";

const EDGES = [0, 34, 48, 58, 67, 75];
const zones = EDGES.slice(1).map((outer, i) => ({ inner: EDGES[i] ?? 0, outer }));
const model = zoneModel(zones, { half: 75, radius: 2400, source: "moves", openings: "bands" });
const line = zones.map(({ inner, outer }) => (0.3 * (inner * inner + outer * outer)) / 2 / 75 ** 2);
const evidence = { departures: line, counts: zones.map(() => 5), s: 0.05, dof: 20 };
const middle = (v: Float64Array): number => Float64Array.from(v).sort()[v.length >> 1] ?? NaN;
const spread = (v: Float64Array): number => {
  const mean = v.reduce((a, b) => a + b, 0) / v.length;
  return Math.sqrt(v.reduce((s, x) => s + (x - mean) ** 2, 0) / v.length);
};

Deno.test("readings on a line are a conic, and the draws say so without a bias from noise", () => {
  const { draws } = zonePosterior(model, evidence, 550, 1, 4000);
  // DERIVED slope 0.3 mm over q: W040 = a^2 x 0.3 / (2 R^2), P-V a quarter of it, nm
  const pv = ((75 ** 2 * 0.3) / 2 / 2400 ** 2 / 4) * 1e6;
  close(middle(draws.pv), pv, 0.1 * pv);
  // DERIVED dL = -(1+K) r^2/2R, so 1 + K = -2R x 0.3 / a^2
  close(middle(draws.conic), -(2 * 2400 * 0.3) / 75 ** 2, 0.03);
});

Deno.test("readings off a line leave more room for what no window sees", () => {
  const bent = line.map((v, i) => v + (i % 2 === 0 ? 0.15 : -0.15));
  const calm = zonePosterior(model, evidence, 550, 1, 2000),
    rough = zonePosterior(model, { ...evidence, departures: bent }, 550, 1, 2000);
  assert.ok(spread(rough.draws.pv) > 1.3 * spread(calm.draws.pv));
  assert.ok((rough.profileU[20] ?? 0) > (calm.profileU[20] ?? 0));
});

Deno.test("a scatter known from few readings makes wider tails than one known well", () => {
  const few = zonePosterior(model, { ...evidence, dof: 3 }, 550, 1, 4000).draws.conic;
  const known = zonePosterior(model, { ...evidence, dof: Infinity }, 550, 1, 4000).draws.conic;
  assert.ok(spread(few) > 1.2 * spread(known));
});

Deno.test("with no noise to speak of, what stays is what no window sees", () => {
  const bent = line.map((v, i) => v + (i === 4 ? 0.3 : 0));
  const quiet = zonePosterior(model, { ...evidence, departures: bent, s: 0.002 }, 550, 1, 2000);
  assert.ok(spread(quiet.draws.rms) > 0.3, "nm");
});

Deno.test("sizes that do not fit are refused", () => {
  assert.throws(() => zonePosterior(model, { ...evidence, counts: [5] }, 550, 1), RangeError);
  assert.throws(() => zonePosterior(model, { ...evidence, s: 0 }, 550, 1), /s above 0/);
});
