/** The reader's own program: what it is given, and how each step is judged. */
import assert from "node:assert/strict";
import { parseHTML } from "linkedom";
import type { Exercise } from "../../lib/lessons/exercise.ts";
import { judge } from "../../lib/lessons/grader.ts";
import { unseal } from "../../lib/lessons/sealed.ts";
import type { Mirror } from "../../lib/knowledge/open.ts";
import { ownProgram, programReadings, type ProgramStage } from "../../lib/stages/ownProgram.ts";
import { demo, empty, halfway, mirror, mirrorOf } from "./mirrors.ts";

const stages: readonly ProgramStage[] = [
  "measure-curve",
  "weigh-readings",
  "polish-surface",
  "read-bands",
  "measure-zones",
  "judge-mirror",
  "shape-surface",
];

function askedOf(of: Mirror, stage: ProgramStage): Exercise {
  const { document } = parseHTML(`<body>${ownProgram(of, demo, stage).html}</body>`) as unknown as {
    readonly document: {
      querySelector(selector: string): { getAttribute(name: string): string } | null;
    };
  };
  const kept = document.querySelector("form[data-exercise]")?.getAttribute("data-sealed");
  return JSON.parse(unseal(kept ?? ""));
}

Deno.test("each step is right by its own answer, and each known mistake meets its hint", () => {
  for (const from of [demo, halfway, empty]) {
    for (const stage of stages) {
      const asked = askedOf(from, stage);
      assert.equal(judge(asked, asked.answer).is, "right", stage);
      for (const { value, hint } of asked.traps) {
        const said = judge(asked, value);
        assert.deepEqual(
          [said.is, said.say.includes(hint)],
          ["off", true],
          `${stage}: ${said.say}`,
        );
      }
      assert.doesNotMatch(`${asked.ask} ${asked.hints.join(" ")}`, /undefined|NaN/);
    }
  }
});

Deno.test("bands by hand, for a lamp that travels and one that stays", () => {
  const radius = Math.round(demo.summary.curve?.radius?.value ?? NaN);
  for (const [source, k] of [["moves with knife", 2], ["fixed", 1]] as const) {
    const { record } = demo, { settings } = record, tester = { ...settings.tester, source };
    const own = { ...demo, record: { ...record, settings: { ...settings, tester } } };
    // DERIVED: R ÷ (k d p) from band to band on a sphere, 148 mm of glass, 8 mm from the centre, 4 lines to the millimetre
    const many = 148 * k * 8 * 4 / radius;
    assert.equal(judge(askedOf(own, "read-bands"), many).is, "right", source);
    assert.match(judge(askedOf(own, "read-bands"), k === 2 ? many / 2 : 2 * many).say, /lamp/);
  }
});

Deno.test("R and its doubt by hand, from other leaves", async () => {
  const own = await mirror({
    "sagitta.csv": "after_min,go_mm,nogo_mm\n120,0.88+0.25,0.85+0.30\n",
  });
  const given = programReadings(own, demo, "measure-curve");
  assert.deepEqual([given.go, given.nogo], [1.13, 1.15]);
  const { chord, leaf } = given;
  // DERIVED: s = 1.14 + w² ÷ 8R; R = (c² ÷ 4 + s²) ÷ 2s; u = R ÷ s x 0.01 ÷ √3
  const flat = chord ** 2 / (8 * 1.14), s = 1.14 + leaf ** 2 / (8 * flat);
  const radius = (chord ** 2 / 4 + s * s) / (2 * s), u = radius / s * 0.01 / Math.sqrt(3);
  assert.equal(judge(askedOf(own, "measure-curve"), radius).is, "right");
  assert.equal(judge(askedOf(own, "weigh-readings"), u).is, "right");
  assert.ok(Math.abs(Number(askedOf(own, "weigh-readings").answer) / u - 1) < 1e-3);
});

Deno.test("a bevel forgotten and a leaf's width left out are no right answers", () => {
  const { go, nogo, chord } = programReadings(demo, demo, "measure-curve"), s = (go + nogo) / 2;
  const plain = (chord ** 2 / 4 + s * s) / (2 * s);
  assert.match(
    ownProgram(demo, demo, "measure-curve", plain).text,
    /The leaf has a width/,
  );
  const wide = ((chord + 2) ** 2 / 4 + s * s) / (2 * s);
  assert.notEqual(judge(askedOf(demo, "measure-curve"), wide).is, "right");
});

Deno.test("the height of the glass: a paraboloid none, a rim that reads long turned down by its ring", () => {
  const { zones, radius, k } = programReadings(demo, demo, "judge-mirror");
  const [first] = demo.record.zones;
  assert.ok(first !== undefined && k === 1);
  const rows = (extra: number) =>
    zones.map(({ inner, outer, ideal }, i) => ({
      ...first,
      date: "2026-07-01",
      run: "a",
      inner,
      outer,
      reading: 12 + ideal + (i === zones.length - 1 ? extra : 0),
    }));
  const of = (extra: number): Mirror =>
    mirrorOf({ ...demo.record, zones: rows(extra), grinding: [], diary: [] });
  const none = Number(askedOf(of(0), "judge-mirror").answer);
  assert.ok(none < 1e-6, `${none}`);
  const last = zones.at(-1), outer = last?.outer ?? 0, inner = zones.at(-2)?.outer ?? 0;
  const r = programReadings(of(0.2), demo, "judge-mirror").radius;
  // DERIVED: all but the last ring are off by -c, c = 0.2 x its share of the area; so the glass rises to the last ring's edge by
  // c x inner² ÷ 2R² and falls back to nothing
  const c = 0.2 * (outer ** 2 - inner ** 2) / outer ** 2,
    high = c * inner ** 2 * 1e6 / (2 * r ** 2);
  assert.ok(Math.abs(Number(askedOf(of(0.2), "judge-mirror").answer) / high - 1) < 1e-6);
  assert.ok(radius > 2000);
});

Deno.test("the zones: mean less mean, and the decision by 1.645 u", () => {
  const { zones } = programReadings(demo, demo, "measure-zones");
  for (const { readings, mean } of zones) {
    assert.ok(Math.abs(mean - readings.reduce((a, b) => a + b) / readings.length) < 1e-9);
  }
  const asked = askedOf(demo, "measure-zones");
  assert.ok(
    Math.abs(Number(asked.answer) - ((zones.at(-1)?.mean ?? 0) - (zones[0]?.mean ?? 0))) < 1e-9,
  );
  const { pv, u, goal } = programReadings(demo, demo, "shape-surface");
  const many = (goal - pv) / u;
  const word = many >= 1.645 ? "yes" : many <= -1.645 ? "no" : "not shown";
  assert.equal(askedOf(demo, "shape-surface").answer, word);
  assert.match(ownProgram(demo, demo, "shape-surface", word).text, /The kit, which draws/);
});

Deno.test("two counts of the diary make a rate; without any an example stands in and says so", () => {
  const [row] = demo.record.grinding;
  assert.ok(row !== undefined);
  const pits = (date: string, amount: number, line: number) => ({
    ...{ file: "diary.csv", line, date, what: "pits" as const, amount },
  });
  const own = mirrorOf({
    ...demo.record,
    diary: [pits("2026-05-02", 32, 2), pits("2026-05-16", 8, 3)],
  });
  const given = programReadings(own, demo, "polish-surface");
  // DERIVED from the log: two hours of oxide up to 2 May, four up to 16 May
  assert.deepEqual(given, { firstHours: 2, firstPits: 32, lastHours: 4, lastPits: 8 });
  // DERIVED: 32 to 8 is two halvings in two hours
  assert.equal(askedOf(own, "polish-surface").answer, 1);
  assert.match(ownProgram(own, demo, "polish-surface", 1).text, /The kit has 1\.00 ± 0\.\d+ h/);
  assert.match(ownProgram(empty, demo, "polish-surface").text, /these are an example/);
  assert.match(ownProgram(empty, demo, "measure-curve").text, /these are the demo’s/);
});

Deno.test("what the kit makes of it is told after a right answer only, and never what to answer", () => {
  for (const stage of stages) {
    const { answer, hints } = askedOf(demo, stage), open = ownProgram(demo, demo, stage);
    assert.doesNotMatch(open.text, /The kit|the kit has/, stage);
    for (const hint of hints) assert.ok(!open.html.includes(hint), stage);
    assert.match(ownProgram(demo, demo, stage, answer).text, /kit|paraboloid would/, stage);
  }
  assert.throws(
    () => ownProgram(demo, demo, "pour-lap" as ProgramStage),
    /requires one of measure-curve/,
  );
});
