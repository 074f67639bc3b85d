import assert from "node:assert/strict";
import { random } from "../../lib/numeric/random.ts";
import { ASSUMED_READING_S, poolRuns, type ZoneReading } from "../../lib/testing/zoneRuns.ts";
import { close } from "../optics/close.ts";
import { JUNE, SPELL_1, SPELL_2, zoneTest } from "./story.ts";

const pool = (runs: readonly (readonly number[])[]) => poolRuns(zoneTest(runs).readings, 1.14);

Deno.test("pooled scatter of the story's tables", () => {
  // CROSS-CHECK numpy 1.24.2: root of the mean of var(ddof=1) over five zones
  close(pool(JUNE).s, 0.0593858, 1e-6);
  close(pool(SPELL_1).s, 0.0599444, 1e-6);
  close(pool(SPELL_2).s, 0.0616604, 1e-6);
  assert.deepEqual([JUNE, SPELL_1, SPELL_2].map((t) => pool(t).dof), [10, 10, 20]);
  for (const table of [JUNE, SPELL_1, SPELL_2]) assert.deepEqual(pool(table).cautions, []);
});

Deno.test("zones are pooled with their own degrees of freedom where runs are incomplete", () => {
  const rows: ZoneReading[] = [[0, 12.31], [0, 12.36], [0, 12.27], [0, 12.33], [0, 12.38], [
    1,
    12.9,
  ], [1, 12.8]]
    .map(([z = 0, reading = 0], i) => ({
      run: `${i}`,
      inner: 30 * z,
      outer: 30 + 30 * z,
      reading,
    }));
  const pooled = poolRuns(rows, 1);
  // CROSS-CHECK numpy 1.24.2: s of the five 0.0430116; DERIVED s^2 = (4 x 0.00185 + 0.005) / 5
  close(pooled.zones[0]?.s ?? 0, 0.0430116, 6e-8);
  close(pooled.s, Math.sqrt((4 * 0.00185 + 0.005) / 5), 1e-9);
  assert.equal(pooled.dof, 5);
});

Deno.test("a scale touched between runs is focus, not scatter", () => {
  const dice = random(3), shifts = [0, 0.4, -0.3, 0.8];
  const runs = shifts.map((shift) =>
    [12, 12.2, 12.4, 12.6, 12.8].map((v) => v + shift + 0.03 * dice.normal())
  );
  const pooled = pool(runs);
  assert.ok(pooled.s < 0.06, `${pooled.s}`);
  assert.equal(pooled.dof, 12);
  assert.match(pooled.cautions.join(), /whole runs are shifted/);
});

Deno.test("one misread row is told and used", () => {
  const runs = SPELL_2.map((run) => [...run]);
  const third = runs[2];
  if (third) third[3] = 13.52;
  const pooled = pool(runs);
  assert.match(pooled.cautions.join(), /run 3, zone 57-67: 13.52 mm stands far/);
  assert.equal(pooled.zones[3]?.readings.length, 5);
});

Deno.test("three runs of two zones are enough to tell a misread row, a row less is not", () => {
  const table = (runs: readonly (readonly number[])[]): ZoneReading[] =>
    runs.flatMap((run, k) =>
      run.map((reading, z) => ({ run: `${k}`, inner: 30 * z, outer: 30 + 30 * z, reading }))
    );
  const readings = table([[12.31, 12.9], [12.34, 12.94], [12.33, 22.9]]);
  // DERIVED: six readings of two zones leave 4 degrees of freedom, five leave 3
  const told = (rows: readonly ZoneReading[]): string => poolRuns(rows, 1).cautions.join();
  assert.match(told(readings), /run 2, zone 30-60: 22.9 mm stands far/);
  assert.doesNotMatch(told(readings.slice(1)), /stands far/);
});

Deno.test("nothing read twice: the scatter is assumed, and said", () => {
  const pooled = pool(JUNE.slice(0, 1));
  assert.equal(pooled.s, ASSUMED_READING_S);
  assert.equal(pooled.dof, Infinity);
  assert.match(pooled.assumed.join(), /assumed/);
});

Deno.test("readings that repeat to the last digit are not taken for perfect", () => {
  const pooled = pool([JUNE[0] ?? [], JUNE[0] ?? []]);
  close(pooled.s, 0.01 / Math.sqrt(12), 1e-12);
  assert.match(pooled.assumed.join(), /0\.0029 mm/);
});

Deno.test("random tables raise a false alarm seldom", () => {
  const dice = random(9);
  let alarms = 0;
  for (let t = 0; t < 300; t++) {
    const runs = Array.from(
      { length: 5 },
      () => [12, 12.2, 12.4, 12.6, 12.8].map((v) => v + 0.05 * dice.normal()),
    );
    if (pool(runs).cautions.length > 0) alarms++;
  }
  assert.ok(alarms <= 15, `${alarms} of 300`); // one in a hundred for far readings, one for shifts: 6 expected
});
