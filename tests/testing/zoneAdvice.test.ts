import assert from "node:assert/strict";
import { reduceZones } from "../../lib/testing/zones.ts";
import { JUNE, SPELL_1, SPELL_2, zoneTest } from "./story.ts";

Deno.test("near the goal no reasonable number of runs settles it", () => {
  const { verdict, advice, moreRuns } = reduceZones(zoneTest(SPELL_1));
  assert.equal(verdict, "not shown");
  assert.equal(moreRuns, false);
  assert.match(advice ?? "", /polish/);
});

Deno.test("farther from the goal a few more runs would, and the zone that matters is named", () => {
  const { verdict, advice, moreRuns } = reduceZones(
    zoneTest(SPELL_1, undefined, { goalSurfaceWaves: 0.128 }),
  );
  assert.equal(verdict, "not shown");
  assert.equal(moreRuns, true);
  assert.match(advice ?? "", /about \d+ runs in all should settle it; .* zone \d+-\d+/);
});

Deno.test("wide windows over rough glass: narrower ones are asked for", () => {
  const runs = Array.from(
    { length: 40 },
    (_, i) => [12, 12.75, 12.2].map((v, z) => v + 0.01 * Math.sin(7 * i + 3 * z)),
  );
  const figure = reduceZones(zoneTest(runs, [0, 44, 62, 74], { goalSurfaceWaves: 0.18 }));
  assert.equal(figure.verdict, "not shown");
  assert.match(figure.advice ?? "", /more runs cannot settle it.*narrower openings/);
  assert.equal(figure.moreRuns, false);
});

Deno.test("no advice where the verdict stands", () => {
  assert.equal(reduceZones(zoneTest(SPELL_2)).advice, undefined);
  assert.equal(reduceZones(zoneTest(JUNE)).advice, undefined);
  assert.equal(reduceZones(zoneTest(JUNE)).moreRuns, undefined);
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
