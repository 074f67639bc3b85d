import assert from "node:assert/strict";
import { grains, pitsAndMinutes, pitsLeft } from "../../../lib/figures/live/pitsAndMinutes.ts";
import { usualLadder } from "../../../lib/shaping/grinding/ladder.ts";
import { abrasives } from "../../../lib/record/tables.ts";

const { start } = pitsAndMinutes;

Deno.test("its grains are those of the table of abrasives", () => {
  const rows = usualLadder.map((name) => abrasives().find((row) => row.name === name)?.ds50Um);
  assert.deepEqual(grains, rows);
});

Deno.test("F220 after F120: rate, floor and minutes by hand", () => {
  const { perMinute, toFloor, minutes, left, own } = pitsLeft({ ...start, minutes: 10 });
  // DERIVED: 4e-10 m2/N x 3395 Pa x (2 x 50 mm x 40 a minute = 4 m) = 5.432 um/min of F80; times 58 / 185 = 1.703 of F220
  assert.equal(perMinute.toFixed(3), "1.703");
  // DERIVED: pits a third of 109 um: 36.33; floor 36.33 / 1.703 = 21.3 min; half of 109 in 32.0, all in 64.0
  assert.equal(toFloor.toFixed(1), "21.3");
  assert.deepEqual([minutes.least.toFixed(1), minutes.most.toFixed(1)], ["32.0", "64.0"]);
  assert.equal(left.toFixed(1), "19.3");
  assert.equal(own.toFixed(1), "19.3");
});

Deno.test("a pit never gets deeper, is gone for good, and goes as fast as the hands", () => {
  let before = Infinity;
  for (let minutes = 0; minutes <= 120; minutes += 5) {
    const { left } = pitsLeft({ ...start, minutes });
    assert.ok(left <= before && left >= 0);
    before = left;
  }
  assert.equal(before, 0);
  const slow = pitsLeft({ ...start, pace: 0.5 }), fast = pitsLeft({ ...start, pace: 2 });
  assert.ok(Math.abs(slow.toFloor / fast.toFloor - 4) < 1e-9);
});

Deno.test("the first grade has none before it but F80, whatever the slider says", () => {
  assert.equal(pitsLeft({ ...start, grade: 1, skipped: 1 }).former.name, "F80");
  assert.equal(pitsLeft({ ...start, grade: 4, skipped: 1 }).former.name, "F220");
  assert.match(pitsAndMinutes.reading({ ...start, minutes: 0 }).markup, /stands out/);
  assert.match(pitsAndMinutes.reading({ ...start, minutes: 20 }).markup, /cracks/);
});
