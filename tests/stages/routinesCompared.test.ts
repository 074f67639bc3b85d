import assert from "node:assert/strict";
import { centreRoutine, chordRoutine } from "../../lib/shaping/grinding/routine.ts";
import { depthsAlong, grindBy, routinesCompared } from "../../lib/stages/routinesCompared.ts";

Deno.test("slips: chance does no harm, habit does, never turning ruins", () => {
  const usual = chordRoutine(150);
  const rows = routinesCompared(
    [
      { name: "usual", routine: usual },
      { name: "chance", routine: { ...usual, strokeScatter: 0.3 } },
      { name: "habit", routine: { ...usual, strokes: [20, 20, 40] } },
      { name: "never", routine: { ...usual, upperTurn: 0 } },
    ],
    150,
    120,
  ).text.split("\n").slice(2).map((row) => row.split(" | ").map(Number));
  const [plain = 0, chance = 0, habit = 0, never = 0] = rows.map((row) => row[2] ?? NaN);
  // CROSS-CHECK the brute-force judge of tests/shaping, 240 sets: 0.73, 6.25, 206 um; by chance 0.7 (another stepper, 24 rings);
  // this grid is coarse, hence a tenth
  assert.ok(plain < 1.5 && chance < 1.5, `${plain}, ${chance}`);
  assert.ok(Math.abs(habit / 6.25 - 1) < 0.1, `${habit}`);
  assert.ok(Math.abs(never / 206 - 1) < 0.1, `${never}`);
  // DERIVED: two hours in closed form, 1122.7 um, and the upper disc's lead of 19 um
  assert.ok(Math.abs((rows[0]?.[1] ?? 0) - 1.142) < 0.012);
});

Deno.test("the two discs change alike, one each way; the first minutes run fast, then evenly", () => {
  const hour = grindBy(chordRoutine(150), 150, 60);
  assert.ok(Math.abs(hour.mirror.removal / hour.tool.removal - 1) < 1e-6);
  // DERIVED: 12 m <d^2> / a^2 for both together, m = 325.949 um, <d^2> / a^2 = 0.287037
  const apart = 1000 * (hour.mirror.sagitta - hour.tool.sagitta);
  assert.ok(Math.abs(apart / (12 * 325.949 * 0.287037) - 1) < 0.01, `${apart}`);
  const rates = depthsAlong(hour, [3, 6, 12, 24, 60]).text.split("\n").slice(2)
    .map((row) => Number(row.split(" | ")[2]));
  assert.ok(rates.every((rate, i) => i === 0 || rate <= (rates[i - 1] ?? 0)), `${rates}`);
  assert.ok((rates[0] ?? 0) / (rates[4] ?? 1) > 1.25, `${rates}`);
});

Deno.test("minutes that do not rise, or were not ground, are refused", () => {
  const short = grindBy(centreRoutine(150), 150, 3);
  assert.throws(() => depthsAlong(short, [2, 2]), /rise from above 0 to 3, got 2, 2/);
  assert.throws(() => depthsAlong(short, [2, 4]), RangeError);
  assert.throws(() => grindBy({ ...centreRoutine(150), offset: 74 }, 150, 3), /at which it tips/);
  assert.throws(() => grindBy({ ...centreRoutine(150), travel: 151 }, 150, 3), /no longer than/);
});
