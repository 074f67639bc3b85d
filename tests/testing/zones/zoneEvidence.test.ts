import assert from "node:assert/strict";
import { close } from "../../optics/close.ts";
import { ModelWeights, weigh } from "../../../lib/testing/zones/zoneEvidence.ts";
import { zoneModel } from "../../../lib/testing/zones/zoneModel.ts";
import {
  BACKGROUNDS,
  FAULT_COUNT_SHARES,
  FAULT_SIZE_SHARES,
  FAULT_SIZES,
  FAULTS,
  FIRST_FAULT,
  FIRST_WAVE,
  LINE,
  waveDeviations,
} from "../../../lib/testing/zones/zoneShapes.ts";
import { dot, forward, lowerTriangle, matrix } from "../../../lib/numeric/smallMatrix.ts";

Deno.test("the makes of a ground stand in the order in which they were added", () => {
  const weightedModels = new ModelWeights(), expected: unknown[] = [];
  weightedModels.open(false), weightedModels.add(1, 0);
  expected.push({ ground: 0, first: -1, second: -1, size: 0 });
  weightedModels.open(true);
  for (let first = 0; first < FAULTS.length; first++) {
    for (let second = -1; second < first; second++) {
      for (const size of FAULT_SIZES) {
        weightedModels.add(1, 0), expected.push({ ground: 1, first, second, size });
      }
    }
  }
  weightedModels.open(false), weightedModels.add(1, 0);
  expected.push({ ground: 2, first: -1, second: -1, size: 0 });
  assert.deepEqual(expected.map((_, i) => weightedModels.at(i)), expected);
});

Deno.test("weights are shares times e to the exponent, also where they are very small", () => {
  // INVENTED shares and exponents
  const weightedModels = new ModelWeights();
  const raw: readonly (readonly [share: number, exponent: number])[] = [
    [0.2, -1203.7],
    [0.9, -1200],
    [1e-9, -1200.0004],
    [0.5, -1236.21],
    [1, -1269.9],
    [1, -1e6],
  ];
  weightedModels.open(false);
  for (const [share, exponent] of raw) weightedModels.add(share, exponent);
  let sum = 0;
  raw.forEach(([share, exponent], i) => {
    sum += share * Math.exp(exponent + 1200);
    close(weightedModels.sums()[i] ?? NaN, sum, 1e-14 * sum);
  });
});

Deno.test("a make weighs what the density of the readings is, by its whole covariance", () => {
  // DERIVED log N(y; 0, C + seen seen^T) of each make, by another road: nothing projected, nothing integrated out
  const edges = [0, 25, 42, 55, 66, 75];
  const zones = edges.slice(1).map((outer, i) => ({ inner: edges[i] ?? 0, outer }));
  const model = zoneModel(zones, { half: 75, radius: 2400, source: "moves", openings: "bands" });
  const y = Float64Array.of(30, -12, 8, 20, -25);
  const covariance = matrix(5, 5, (i, j) => i === j ? 300 : 20);
  const { grounds, weightedModels } = weigh(model, { y, covariance });
  const sums = weightedModels.sums();
  const weightOf = (index: number): number => (sums[index] ?? NaN) - (sums[index - 1] ?? 0);
  // a line so loose that it is free: what differs between two makes is then the same as with it integrated out
  const loose = 1e10;
  const log = (index: number): number => {
    const { ground, first, second, size } = weightedModels.at(index);
    const { background, size: wide } = grounds[ground] ?? assert.fail();
    const deviations = waveDeviations(background);
    const columns = model.seen.map((row) => [
      ...Array.from({ length: LINE }, (_, k) => Math.sqrt(loose) * (row[k] ?? 0)),
      ...Array.from(deviations, (d, k) => wide * d * (row[FIRST_WAVE + k] ?? 0)),
      ...[first, second].filter((f) => f >= 0).map((f) => size * (row[FIRST_FAULT + f] ?? 0)),
    ]);
    const lower = lowerTriangle(
      matrix(5, 5, (i, j) => (covariance[i]?.[j] ?? 0) + dot(columns[i] ?? [], columns[j] ?? [])),
    );
    const left = forward(lower, y);
    const [bare, one, two] = FAULT_COUNT_SHARES;
    const faults = first < 0
      ? bare
      : (second < 0 ? one : 2 * two * (FAULTS[second]?.share ?? 0)) * (FAULTS[first]?.share ?? 0) *
        (FAULT_SIZE_SHARES[FAULT_SIZES.indexOf(size)] ?? 0);
    return Math.log((background.share / background.sizes.length) * faults) - dot(left, left) / 2 -
      lower.reduce((sum, row, i) => sum + Math.log(row[i] ?? 0), 0);
  };
  const bares = BACKGROUNDS.filter(({ underFaults }) => !underFaults)
    .reduce((sum, { sizes }) => sum + sizes.length, 0);
  // bare ones, a fault alone, and pairs here and there on two grounds
  const some = [0, 3, bares - 1, bares, bares + 5, bares + 1234, bares + 29_001, sums.length - 400];
  const zero = log(0) - Math.log(weightOf(0));
  for (const index of some) {
    if (weightOf(index) < 1e-9 * (sums.at(-1) ?? 0)) continue; // its difference of sums is rounded
    close(log(index) - Math.log(weightOf(index)), zero, 1e-4);
  }
  assert.ok(some.filter((i) => weightOf(i) >= 1e-9 * (sums.at(-1) ?? 0)).length >= 4);
});
