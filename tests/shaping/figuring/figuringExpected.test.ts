import assert from "node:assert/strict";
import { expectedAfter } from "../../../lib/shaping/figuring/figuringExpected.ts";
import { modeShape } from "../../../lib/shaping/figuring/figuringModes.ts";

const q = Array.from({ length: 60 }, (_, i) => (i + 0.5) / 60);
const shape = (amount: number): number[] => q.map((v) => amount * modeShape(2, v));
const modes = [{ order: 2, measured: 30, u: 3, believed: 30 }];
const covariance = [[9]];
const outlook = {
  found: { modes, covariance },
  q,
  hands: { gain: 1, doubt: 0.2, widthDoubt: 0 },
  seed: 4,
};

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
  const unsure = expectedAfter({ ...outlook, taken, shapeDoubtNm: 12 }).rms95?.[1] ?? 0;
  assert.ok(unsure > sure + 3, `${sure} ${unsure}`);
});

Deno.test("the probability goes from nothing to one as the goal is widened", () => {
  const at = (goalNm: number): number =>
    expectedAfter({ ...outlook, taken: shape(20), goalNm }).probability ?? NaN;
  assert.ok(at(5) < 0.2 && at(35) > 0.4 && at(35) < 0.7 && at(100) > 0.98, `${at(5)} ${at(35)}`);
});

Deno.test("without a covariance there is a value and no range", () => {
  const bare = expectedAfter({ ...outlook, found: { modes }, taken: shape(20), goalNm: 50 });
  assert.deepEqual([bare.rms95, bare.pv95, bare.probability], [undefined, undefined, undefined]);
  assert.throws(() => expectedAfter({ ...outlook, taken: [1] }), /as many places/);
});
