import assert from "node:assert/strict";
import {
  EDGE_WORSE,
  expectedAfter,
  outcomeOf,
} from "../../../lib/shaping/figuring/figuringExpected.ts";
import { modeShape } from "../../../lib/shaping/figuring/figuringModes.ts";

const q = Array.from({ length: 60 }, (_, i) => (i + 0.5) / 60);
const shape = (amount: number): number[] => q.map((v) => amount * modeShape(2, v));
const grid = { q, weights: q.map(() => 1 / q.length) };
const bare = { heights: shape(30), grid, hands: { gain: 1, doubt: 0.2 }, seed: 4 };
const outlook = { ...bare, unsure: [shape(3)] };

Deno.test("what is taken is subtracted, to the last nanometre when it fits", () => {
  assert.ok(Math.abs(expectedAfter({ ...outlook, taken: shape(0) }).rms - 30) < 0.1);
  const left = (amount: number): readonly number[] =>
    expectedAfter({ ...outlook, taken: shape(amount) }).heights;
  assert.ok(left(20).every((h, i) => Math.abs(h - (shape(10)[i] ?? NaN)) < 1e-9));
  assert.ok(left(30).every((h) => Math.abs(h) < 1e-9));
});

Deno.test("the range: the profile's doubt and the rate's together", () => {
  // DERIVED: what is left of 30 - 20 g is 10 +- sqrt(3^2 + (0.2 x 20)^2) = 5.0; two of them either way
  const [low, high] = expectedAfter({ ...outlook, taken: shape(20) }).rms95 ?? [NaN, NaN];
  assert.ok(low < 4 && high > 17 && high < 22, `${low} ${high}`);
  const still = expectedAfter({ ...outlook, taken: shape(0) }).rms95 ?? [NaN, NaN];
  assert.ok(Math.abs(still[0] - 24) < 1.5 && Math.abs(still[1] - 36) < 1.5, `${still}`);
});

Deno.test("the value after work is the middle of its range: nobody leaves nothing", () => {
  // DERIVED: the middle of |x| for x normal about 0 with sd hypot(3, 0.2 x 30) = 6.7 is 0.674 x 6.7 = 4.5
  const { rms, rms95 = [NaN, NaN] } = expectedAfter({ ...outlook, taken: shape(30) });
  assert.ok(Math.abs(rms - 4.5) < 0.7, `${rms}`);
  assert.ok(rms95[0] <= rms && rms <= rms95[1]);
});

Deno.test("astigmatism, which no stroke in rings changes, stays in the foreseen", () => {
  const beside = expectedAfter({ ...outlook, taken: shape(30), besideRms: 20 });
  assert.ok(beside.rms >= 20 && (beside.rms95?.[0] ?? 0) >= 20);
});

Deno.test("a footprint whose shape is in doubt widens the range", () => {
  const taken = shape(30);
  const sure = expectedAfter({ ...outlook, taken }).rms95?.[1] ?? 0;
  const amiss = [q.map((v) => 12 * modeShape(3, v))];
  const unsure = expectedAfter({ ...outlook, taken, amiss }).rms95?.[1] ?? 0;
  assert.ok(unsure > sure + 3, `${sure} ${unsure}`);
});

Deno.test("the probability goes from nothing to one as the goal is widened", () => {
  const at = (goalNm: number): number =>
    expectedAfter({ ...outlook, taken: shape(20), goalNm }).probability ?? NaN;
  assert.ok(at(5) < 0.2 && at(35) > 0.4 && at(35) < 0.7 && at(100) > 0.98, `${at(5)} ${at(35)}`);
});

Deno.test("without a covariance there is a value and no range", () => {
  const { rms95, pv95, probability } = expectedAfter({ ...bare, taken: shape(20), goalNm: 50 });
  assert.deepEqual([rms95, pv95, probability], [undefined, undefined, undefined]);
  assert.throws(() => expectedAfter({ ...outlook, taken: [1] }), /as many places/);
});

Deno.test("what a session is chosen by: roughness, the chance of the goal, the risk to the edge", () => {
  const none = outcomeOf({ ...outlook, taken: shape(0), goalNm: 68.75 });
  const some = outcomeOf({ ...outlook, taken: shape(25), goalNm: 68.75 });
  assert.ok(some.rough < none.rough / 2 && some.chance > none.chance);
  assert.equal(none.edgeRisk, 0, "without work the edge stays as it is");
  // DERIVED: a rim 5 nm up is turned down 45: 40 farther from level, twice what counts as worse
  const high = q.map((v) => 5 * Math.max(0, (v - 0.81) / 0.19));
  const turned = outcomeOf({ ...bare, heights: high, taken: high.map((v) => 10 * v), unsure: [] });
  assert.ok(40 > EDGE_WORSE && turned.edgeRisk > 0.9, `${turned.edgeRisk}`);
});

Deno.test("one day all is kept well and another nothing: what is taken amiss has longer tails than a normal draw", () => {
  // DERIVED: |x| of a normal draw of sd 12 ends at 2.24 x 12 = 26.9 (95 of 100, the upper of two ends of 2.5); tails are longer
  const amiss = [q.map((v) => 12 * modeShape(3, v))];
  const still = { ...bare, heights: q.map(() => 0), unsure: [], hands: { gain: 1, doubt: 0 } };
  const taken = q.map(() => 1e-9);
  assert.ok((expectedAfter({ ...still, taken, amiss }).rms95?.[1] ?? 0) > 30);
});
