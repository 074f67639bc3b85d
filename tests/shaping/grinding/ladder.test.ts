import assert from "node:assert/strict";
import { gradeOf } from "../../../lib/shaping/grinding/grade.ts";
import {
  chargeOf,
  classQuantities,
  fineLadder,
  glassToRemove,
  roughWork,
  usualLadder,
} from "../../../lib/shaping/grinding/ladder.ts";
import { grades, named } from "../abrasiveTable.ts";

Deno.test("the usual ladder on 150 mm: half an hour and more a grade", () => {
  const rungs = fineLadder(named(...usualLadder), 150);
  // DERIVED half of the former grain over 5.43 um/min x grain / 185: 29 32 34 39 33 37
  assert.deepEqual(rungs.map(({ minutes }) => Math.floor(minutes.least + 0.4)), [
    29,
    32,
    34,
    39,
    33,
    37,
  ]);
  assert.deepEqual(
    rungs.map(({ minutes }) => (minutes.most / minutes.least).toFixed(6)),
    Array(6).fill("2.000000"),
  );
  const grams = rungs.map((rung) => rung.grams);
  // COMMON PRACTICE 50 to 100 g a grade, falling to 20 to 30 g
  assert.ok(grams[0] !== undefined && grams[0] >= 50 && grams[0] <= 100, `${grams}`);
  assert.ok(grams.slice(3).every((g) => g >= 20 && g <= 40), `${grams}`);
});

Deno.test("the ladder does not mind the aperture's size for its time, but powder goes with the area", () => {
  // DERIVED: 2^2
  const small = fineLadder(named("F80", "F120"), 150, { travelShare: 1 / 3 })[0];
  const large = fineLadder(named("F80", "F120"), 300, { travelShare: 1 / 6 })[0];
  assert.equal(small?.minutes.least.toFixed(9), large?.minutes.least.toFixed(9));
  assert.equal(((large?.grams ?? 0) / (small?.grams ?? 1)).toFixed(9), "4.000000000");
});

Deno.test("charges, rough work and a class", () => {
  const f80 = gradeOf("F80", grades);
  assert.deepEqual(chargeOf(f80, 300).grams, 4 * chargeOf(f80, 150).grams);
  const rough = roughWork(130, f80, 150);
  // COMMON PRACTICE 0.3 to 0.5 kg of F80 in all for a 150 mm f/8
  assert.ok(rough.grams >= 300 && rough.grams <= 500, `${rough.grams}`);
  assert.equal(roughWork(0, f80, 150).grams, 0);
  const twelve = classQuantities([{ name: "F80", grams: rough.grams }, {
    name: "F1200",
    grams: 21,
  }], 12);
  assert.deepEqual(twelve.map(({ grams }) => grams % 50), [0, 0]);
  assert.ok((twelve[0]?.grams ?? 0) >= 12 * rough.grams);
  assert.throws(() => classQuantities([], 0), /whole number of mirrors, got 0/);
});

Deno.test("bad input: grades out of order, papers among loose grit, one grade, minutes below 0", () => {
  assert.throws(
    () => fineLadder(named("F120", "F80"), 150),
    /coarse to fine, got F120 \(109 um\) before F80/,
  );
  assert.throws(() => fineLadder(named("F80", "P400"), 150), /loose grit, got coated paper P400/);
  assert.throws(() => fineLadder(named("F80"), 150), /a rough grade and a finer one, got 1/);
  assert.throws(() => fineLadder(named("F80", "F120"), 0), /aperture above 0/);
  assert.throws(
    () => fineLadder(named("F80", "F120"), 150, { strokesPerMinute: 0 }),
    /above 0, got 0/,
  );
  assert.throws(() => roughWork(-5, { ds50Um: 185 }, 150), /minutes of 0 or more.*minutes=-5/);
});

Deno.test("glass to remove: the hollow, and the much more that strokes take", () => {
  const glass = glassToRemove(150, 2400, { offset: 37.5, travel: 50 });
  // DERIVED cap 10357.74 mm3 at 2500 kg/m3; 0.680610 mm off the whole face
  assert.equal(glass.grams.toFixed(3), "25.894");
  assert.equal(glass.meanRemoval.toFixed(6), "0.680610");
  assert.ok(glass.wornVolume > glass.volume);
  assert.throws(() => glassToRemove(150, 2400, { offset: 0, travel: 50 }, 0), /density above 0/);
});

Deno.test("twice as wide at the same focal ratio: eight times the glass of the hollow", () => {
  // DERIVED: 2^3
  const one = glassToRemove(100, 1600, { offset: 25, travel: 100 / 3 });
  const two = glassToRemove(200, 3200, { offset: 50, travel: 200 / 3 });
  assert.equal((two.volume / one.volume).toFixed(9), "8.000000000");
  assert.equal((two.wornVolume / one.wornVolume).toFixed(9), "8.000000000");
});
