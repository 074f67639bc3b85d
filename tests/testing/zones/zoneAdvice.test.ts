import assert from "node:assert/strict";
import { random } from "../../../lib/numeric/random.ts";
import { furtherReadings } from "../../../lib/testing/zones/zoneAdvice.ts";
import { poolRuns } from "../../../lib/testing/zones/zoneRuns.ts";
import { reduceZones } from "../../../lib/testing/zones/zones.ts";
import { JUNE, SPELL_1, SPELL_2, zoneTest } from "../story.ts";

Deno.test("near the goal no reasonable number of runs settles it", () => {
  const { verdict, advice, moreRuns } = reduceZones(zoneTest(SPELL_1));
  assert.equal(verdict, "not shown");
  assert.equal(moreRuns, false);
  assert.match(advice ?? "", /polish/);
});

const FINE = [0, 10, 20, 30, 38, 45, 51, 57, 62, 67, 74];
/** A mirror three quarters of the goal off through fine openings, read noisily: INVENTED, by dice. */
const halfGood = (runs: number, noise: number): number[][] => {
  const dice = random(12);
  return Array.from({ length: runs }, () =>
    FINE.slice(1).map((b, i) => {
      const square = ((FINE[i] ?? 0) ** 2 + b * b) / 2;
      return 12 + (0.4 * square) / 2 / 2396.6 + noise * dice.normal();
    }));
};

Deno.test("edges that were typed in inches are told in mm a hand can cut", () => {
  // DERIVED: 25.4 times a decimal has a long tail in binary
  const edges = [0, 1.18, 1.77, 2.24, 2.64, 2.91].map((inch) => inch * 25.4);
  const { advice } = reduceZones(zoneTest(SPELL_2, edges));
  assert.match(advice ?? "", /edges at 0, /);
  assert.doesNotMatch(advice ?? "", /\d\.\d\d/);
});

Deno.test("where more runs would settle it, so many are asked for, and with them it is surer", () => {
  const few = reduceZones(zoneTest(halfGood(3, 0.2), FINE, { goalSurfaceWaves: 0.1 }));
  assert.equal(few.verdict, "not shown");
  assert.equal(few.moreRuns, true);
  const runs = Number(/about (\d+) runs in all/.exec(few.advice ?? "")?.[1]);
  assert.ok(runs > 3);
  const many = reduceZones(zoneTest(halfGood(runs, 0.2), FINE, { goalSurfaceWaves: 0.1 }));
  assert.ok(many.probabilityWithinGoal > few.probabilityWithinGoal);
});

Deno.test("a wide first opening: narrower ones are asked for, and through them it is a yes", () => {
  const figure = reduceZones(zoneTest(SPELL_2));
  assert.equal(figure.verdict, "not shown");
  assert.match(
    figure.advice ?? "",
    /more runs through these openings cannot settle it.*narrower ones/,
  );
  assert.equal(figure.moreRuns, false);
  const edges = (/edges at ([\d., ]+) mm/.exec(figure.advice ?? "")?.[1] ?? "").split(", ").map(
    Number,
  );
  assert.ok(edges.length > 6);
  const through = [1, 2, 3, 4, 5].map((k) =>
    edges.slice(1).map((b, i) =>
      12 + (0.67 * (((edges[i] ?? 0) ** 2 + b * b) / 2)) / 2 / 2396.6 +
      0.03 * Math.sin(7 * k + 3 * i)
    )
  );
  assert.equal(reduceZones(zoneTest(through, edges)).verdict, "yes");
});

Deno.test("no advice where the verdict stands", () => {
  const bad = reduceZones(zoneTest(JUNE, undefined, { goalSurfaceWaves: 0.08 }));
  assert.equal(bad.verdict, "no");
  assert.equal(bad.advice, undefined);
  assert.equal(bad.moreRuns, undefined);
});

Deno.test("unquiet air and a drift are told", () => {
  const shaky = SPELL_1.map((run, i) => run.map((v, z) => v + 0.15 * Math.sin(5 * i + 11 * z)));
  assert.match(reduceZones(zoneTest(shaky)).cautions.join(), /wait for still air/);
  const drifting = [0, 1, 2, 3, 4].map((i) =>
    [12, 12.2, 12.4, 12.5, 12.7].map((v, z) => v + 0.04 * i + 0.03 * Math.sin(9 * i + 5 * z))
  );
  const told = reduceZones(zoneTest(drifting)).cautions.join();
  assert.match(told, /whole runs are shifted/);
  assert.match(told, /drift one way, 0\.159 mm from first to last/);
});

Deno.test("runs that go up and down are shifted, and do not drift", () => {
  const wandering = [0, 0.1, 0.02, 0.12, 0.1].map((off, i) =>
    [12, 12.2, 12.4, 12.5, 12.7].map((v, z) => v + off + 0.03 * Math.sin(9 * i + 5 * z))
  );
  const told = reduceZones(zoneTest(wandering)).cautions.join();
  assert.match(told, /whole runs are shifted/);
  assert.doesNotMatch(told, /drift one way/);
});

Deno.test("the ways to read on are asked in turn: more runs, runs both ways, narrower openings, polishing", () => {
  const pooled = poolRuns(zoneTest(SPELL_2).readings, () => 0);
  const told = (settles: Parameters<typeof furtherReadings>[0]): string =>
    furtherReadings(settles, pooled, 74).says;
  assert.match(told(() => true), /^about 7 runs in all through these openings should settle it$/);
  assert.match(
    told((_, __, isDriftShown) => isDriftShown),
    /every second one from the rim inward/,
  );
  assert.match(
    told((openings) => openings.length > 5),
    /edges at 0, 10, 20, 30, .* 74 mm/,
  );
  assert.match(told(() => false), /too near the goal.*polish on/);
});
