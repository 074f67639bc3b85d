import assert from "node:assert/strict";
import { random } from "../../../lib/numeric/random.ts";
import {
  ASSUMED_READING_S,
  poolRuns,
  type ZoneReading,
} from "../../../lib/testing/zones/zoneRuns.ts";
import { close } from "../../optics/close.ts";
import { JUNE, SPELL_1, SPELL_2, zoneTest } from "../story.ts";

/** Readings here are of no paraboloid: departures are the readings themselves. */
const none = (): number => 0;
const pool = (runs: readonly (readonly number[])[]) => poolRuns(zoneTest(runs).readings, none);

Deno.test("pooled scatter of the story's tables, each run at its own zero", () => {
  // DERIVED analysis of variance two ways: residuals of zone and run means, squares over (zones - 1)(runs - 1)
  for (const table of [JUNE, SPELL_1, SPELL_2]) {
    const runs = table.length, zoneCount = table[0]?.length ?? 0;
    const zoneMeans = (table[0] ?? []).map((_, z) =>
      table.reduce((sum, run) => sum + (run[z] ?? 0), 0) / runs
    );
    const grand = zoneMeans.reduce((a, b) => a + b) / zoneCount;
    const square = table.reduce((sum, run) => {
      const mean = run.reduce((a, b) => a + b) / zoneCount;
      return sum +
        run.reduce((sub, v, z) => sub + (v - (zoneMeans[z] ?? 0) - mean + grand) ** 2, 0);
    }, 0);
    const dof = (runs - 1) * (zoneCount - 1), pooled = pool(table);
    assert.equal(pooled.dof, dof);
    close(pooled.s, Math.sqrt(square / dof), 1e-6);
    assert.deepEqual(pooled.cautions, []);
  }
});

Deno.test("what is known of knife settings beforehand counts as four readings", () => {
  const pooled = pool(SPELL_2);
  // DERIVED (4 x 0.05^2 + dof s^2) / (4 + dof)
  close(pooled.believedS ** 2, (4 * 0.05 ** 2 + 16 * pooled.s ** 2) / 20, 1e-12);
  assert.equal(pooled.believedDof, 20);
});

Deno.test("runs in one order leave drift a doubt; one read inward, or the first zone again, shows it", () => {
  const size = (v: ArrayLike<number>): number => Math.hypot(...Array.from(v));
  const rows = zoneTest(SPELL_2).readings;
  const oneWay = size(poolRuns(rows, none).drift);
  const inward = rows.map((row) =>
    row.run === "2" || row.run === "4" ? { ...row, order: "inward" as const } : row
  );
  assert.ok(size(poolRuns(inward, none).drift) < 0.75 * oneWay);
  const again = SPELL_2.flatMap((_, i) => {
    const run = rows.filter((row) => row.run === `${i + 1}`), first = run[0] as ZoneReading;
    return [...run, { ...first, reading: first.reading + 0.2 }];
  });
  const pooled = poolRuns(again, none);
  assert.ok(size(pooled.drift) < 0.75 * oneWay);
  // a drift of 0.2 mm outward is taken out: the outermost zone comes nearer to the first
  const spread = (p: { departures: Float64Array }): number =>
    (p.departures.at(-1) ?? 0) - (p.departures[0] ?? 0);
  assert.ok(spread(pooled) < spread(poolRuns(rows, none)) - 0.05);
});

Deno.test("days that agree are pooled; days that do not widen all by their Birge ratio, and are named", () => {
  const day = (date: string, bend: number): ZoneReading[] =>
    zoneTest(SPELL_2.map((run) => run.map((v, z) => v + bend * z * (4 - z)))).readings.map((
      row,
    ) => ({ ...row, date }));
  const alike = poolRuns([...day("2026-06-26", 0), ...day("2026-06-27", 0)], none);
  assert.equal(alike.birge, undefined);
  assert.equal(alike.groups.length, 2);
  const other = poolRuns([...day("2026-06-26", 0), ...day("2026-06-27", 0.05)], none);
  assert.ok((other.birge ?? 0) > 1.5);
  assert.match(other.cautions.join(), /2026-06-26 and 2026-06-27 disagree/);
  assert.ok((other.covariance[0]?.[0] ?? 0) > 2 * (alike.covariance[0]?.[0] ?? 0));
});

Deno.test("the scale's zero may differ between days by a metre", () => {
  const rows = zoneTest(SPELL_2).readings;
  const moved = rows.map((row, i) =>
    i < 10 ? { ...row, date: "2026-06-25", reading: row.reading + 1000 } : row
  );
  const plain = poolRuns(rows, none).departures, other = poolRuns(moved, none).departures;
  const level = (v: Float64Array): number => v.reduce((a, b) => a + b) / v.length;
  plain.forEach((v, i) => close(v - level(plain), (other[i] ?? 0) - level(other), 1e-6));
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
  // INVENTED readings
  const table = (runs: readonly (readonly number[])[]): ZoneReading[] =>
    runs.flatMap((run, k) =>
      run.map((reading, z) => ({ run: `${k}`, inner: 30 * z, outer: 30 + 30 * z, reading }))
    );
  const readings = table([[12.31, 12.9], [12.34, 12.94], [12.33, 22.9]]);
  // DERIVED: six readings of two zones leave 4 degrees of freedom, five leave 3
  const told = (rows: readonly ZoneReading[]): string => poolRuns(rows, none).cautions.join();
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

Deno.test("two openings that stand for one radius are one zone", () => {
  // DERIVED: 20^2 + 30^2 = 21^2 + 29.3087^2
  const rows = [[20, 30], [21, 29.3087]].flatMap(([inner = 0, outer = 0]) =>
    ["1", "2"].map((run) => ({ run, inner, outer, reading: 12 }))
  );
  assert.throws(() => poolRuns(rows, none), {
    name: "CannotTell",
    message: /one zone tells only focus/,
  });
});
