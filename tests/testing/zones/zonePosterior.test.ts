import assert from "node:assert/strict";
import { random } from "../../../lib/numeric/random.ts";
import { zoneModel } from "../../../lib/testing/zones/zoneModel.ts";
import { hiddenFaults, judgeMakes } from "../../../lib/testing/zones/zoneNumbers.ts";
import { zonePosterior } from "../../../lib/testing/zones/zonePosterior.ts";
import { close } from "../../optics/close.ts";

const EDGES = [0, 12, 24, 34, 42, 48, 53, 58, 62.5, 67, 71, 75];
const tester = { half: 75, radius: 2400, source: "moves", openings: "bands" } as const;
const openings = (edges: readonly number[]) =>
  edges.slice(1).map((outer, i) => ({ inner: edges[i] ?? 0, outer }));
const model = zoneModel(openings(EDGES), tester);
/** Readings of a line, 0.3 mm over q. */
const line = openings(EDGES).map(({ inner, outer }) =>
  (0.3 * (inner * inner + outer * outer)) / 2 / 75 ** 2
);
const evidence = (departures: readonly number[], s: number, of = model) => ({
  y: Float64Array.from(departures, (d) => d * of.nmPerMm),
  covariance: departures.map((_, i) =>
    Float64Array.from(departures, (_, j) => i === j ? (s * of.nmPerMm) ** 2 : 0)
  ),
});
const bench = { grid: model.whole.grid, wavelength: 550, dof: 24, base: -1, goal: 137.5 };
const judge = (departures: readonly number[], s: number, of = model) => {
  const found = zonePosterior(of, evidence(departures, s, of), random(1));
  return {
    ...judgeMakes(found.makes, { ...bench, grid: of.whole.grid }, false, random(2), 4000),
    hidden: hiddenFaults(found.makes, found.faults(), { ...bench, grid: of.whole.grid }),
  };
};

Deno.test("readings on a line are a conic: the mean is exactly it", () => {
  const { wavefrontPv, conic } = judge(line, 0.02);
  // DERIVED slope 0.3 mm over q: W040 = a^2 x 0.3 / (2 R^2), P-V a quarter of it at best focus, nm; f/8 light's own cos^2: 1e-3
  const pv = ((75 ** 2 * 0.3) / 2 / 2400 ** 2 / 4) * 1e6;
  close(wavefrontPv.value * 550, pv, 2e-3 * pv);
  // DERIVED dL = -(1+K) r^2/2R, so 1 + K = -2R x 0.3 / a^2
  close(conic.value, -1 - (2 * 2400 * 0.3) / 75 ** 2, 3e-3);
});

Deno.test("readings off a line leave more room for what no window sees", () => {
  const bent = line.map((v, i) => v + (i % 2 === 0 ? 0.15 : -0.15));
  assert.ok(judge(bent, 0.02).wavefrontPv.u > 1.3 * judge(line, 0.02).wavefrontPv.u);
});

Deno.test("a wide first opening lets a ring hide: the upper end tells, and no yes is possible", () => {
  const wide = zoneModel(openings([0, 34, 48, 58, 67, 75]), tester);
  const flat = judge([0, 0, 0, 0, 0], 0.02, wide), fine = judge(line.map(() => 0), 0.02);
  assert.equal(flat.hidden[0]?.left.fault?.family, "ring");
  assert.ok((flat.hidden[0]?.probability ?? 1) < 0.9);
  assert.ok((flat.hidden[0]?.left.fault?.at ?? 1) < 34 / 75);
  assert.ok((fine.hidden[0]?.probability ?? 0) > 0.95);
});

Deno.test("an opening that stops short of the rim leaves a turned edge open", () => {
  const short = zoneModel(openings(EDGES.slice(0, -1)), tester);
  const { hidden } = judge(line.slice(0, -1).map(() => 0), 0.02, short);
  assert.ok(
    hidden.some(({ left, probability }) => left.fault?.family === "edge" && probability < 0.9),
  );
});

Deno.test("the mean answers to readings as the gain says", () => {
  const bent = line.map((v, i) => v + (i === 6 ? 0.05 : 0));
  const found = zonePosterior(model, evidence(bent, 0.02), random(1)).mean();
  const { y } = evidence(bent, 0.02);
  found.profile.forEach((height, i) =>
    close(
      found.profileGain[i]?.reduce((sum, g, z) => sum + g * (y[z] ?? 0), 0) ?? NaN,
      height,
      1e-6,
    )
  );
});

Deno.test("sizes that do not fit are refused", () => {
  assert.throws(() => zonePosterior(model, evidence([0, 0], 0.05), random(1)), RangeError);
});
