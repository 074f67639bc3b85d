/** The exercises with the reader's own numbers: made from the folder, answered by the library, sealed as the others are. */
import assert from "node:assert/strict";
import { parseHTML } from "linkedom";
import type { NumberExercise } from "../../lib/lessons/exercise.ts";
import { judge } from "../../lib/lessons/grader.ts";
import { unseal } from "../../lib/lessons/sealed.ts";
import { radiusFromSagitta } from "../../lib/optics/sphere.ts";
import { ownExercise } from "../../lib/stages/ownExercise.ts";
import type { Mirror } from "../../lib/knowledge/open.ts";
import { demo, empty, halfway, mirror } from "./mirrors.ts";

/** The two of each stage: whether an empty folder already knows enough, for disc and glass are in its settings. */
const asking = {
  "choose-mirror": [true, true],
  "prepare-discs": [true, true],
  "grind-hollow": [false, false],
  "measure-curve": [false, false],
  "weigh-readings": [false, false],
  "correct-depth": [false, false],
  "smooth-surface": [false, false],
  "pour-lap": [true, true],
  "polish-surface": [false, false],
  "read-bands": [false, false],
  "measure-zones": [false, false],
  "judge-mirror": [false, false],
  "shape-surface": [false, false],
  "coat-mirror": [true, false],
  "place-flat": [false, false],
  "carry-weight": [false, false],
  "align-mirrors": [false, false],
  "read-star": [true, true],
  "observe-sky": [false, false],
} as const;
const all = Object.entries(asking).flatMap(([stage, both]) =>
  both.map((always, i) => ({ stage, which: (i + 1) as 1 | 2, always }))
);

function exerciseOf(of: Mirror, stage: string, which: 1 | 2 = 1): NumberExercise | undefined {
  const { document } = parseHTML(
    `<body>${ownExercise(of, stage, which).html}</body>`,
  ) as unknown as {
    readonly document: {
      querySelector(selector: string): { getAttribute(name: string): string } | null;
    };
  };
  const kept = document.querySelector("form[data-exercise]")?.getAttribute("data-sealed");
  return kept === undefined ? undefined : JSON.parse(unseal(kept));
}

Deno.test("the demo's folder has readings for every one; an empty folder is told what is wanted", () => {
  for (const { stage, which, always } of all) {
    const { html } = ownExercise(demo, stage, which), name = `${stage} ${which}`;
    assert.ok(exerciseOf(demo, stage, which) !== undefined, name);
    assert.match(html, which === 1 ? /data-exercise="\d\d-yours"/ : /data-exercise="\d\d-yours-2"/);
    if (always) continue;
    assert.match(ownExercise(empty, stage, which).text, /^With .* an exercise stands here/, name);
    assert.equal(exerciseOf(empty, stage, which), undefined, name);
  }
  assert.throws(() => ownExercise(demo, "compare-class"), /requires one of choose-mirror/);
});

Deno.test("each is right by its own answer, rounded to two figures too, and each of its slips meets its hint", () => {
  for (const from of [demo, halfway]) {
    for (const { stage, which } of all) {
      const asked = exerciseOf(from, stage, which);
      if (asked === undefined) continue;
      for (const typed of [asked.answer, Number(asked.answer.toPrecision(2))]) {
        assert.equal(judge(asked, typed).is, "right", `${stage} ${which}: ${typed}`);
      }
      for (const { value, hint } of asked.traps) {
        const said = judge(asked, value);
        assert.deepEqual(
          [said.is, said.say.includes(hint)],
          ["off", true],
          `${stage} ${which}: ${value}: ${said.say}`,
        );
      }
      for (const hint of asked.hints) {
        assert.ok(!ownExercise(from, stage, which).html.includes(hint), `${stage}: in plain words`);
        assert.doesNotMatch(hint, /undefined|NaN/);
      }
    }
  }
});

Deno.test("the numbers asked are those of the folder: other leaves, another radius", async () => {
  const own = await mirror({
    "sagitta.csv": "after_min,go_mm,nogo_mm\n100,0.88,0.88+0.06\n120,0.88+0.25,0.85+0.30\n",
  });
  const asked = exerciseOf(own, "measure-curve");
  assert.match(asked?.ask ?? "", /1\.13 mm passes, 1\.15 mm does not/);
  const { aperture, bevel, gauges } = own.record.settings, chord = aperture - 2 * bevel;
  // DERIVED: the middle of the two stacks, and w² ÷ 8R for a leaf of width w, R taken from the middle itself
  const flat = radiusFromSagitta(1.14, chord), deep = 1.14 + gauges.leaves.width ** 2 / (8 * flat);
  assert.ok(Math.abs((asked?.answer ?? 0) / radiusFromSagitta(deep, chord) - 1) < 1e-3);
  const rate = exerciseOf(own, "grind-hollow");
  assert.match(rate?.ask ?? "", /after 100 minutes, .* after 120\./);
});

Deno.test("sums of the second ones by hand", () => {
  const { aperture, bevel } = demo.record.settings;
  // DERIVED: 150 and 1 mm: (150 / 148)² = 1.02721
  assert.deepEqual([aperture, bevel], [150, 1]);
  assert.equal(exerciseOf(demo, "prepare-discs")?.answer.toFixed(2), "2.72");
  // DERIVED: pi x 75² x 25 mm³ x 2500 kg/m³ = 1.104 kg
  assert.equal(exerciseOf(demo, "prepare-discs", 2)?.answer.toFixed(2), "1.10");
  // DERIVED: (1.1 + 2) kg x 9.80665 / (pi x 0.075²) = 1720 Pa
  assert.equal(exerciseOf(demo, "pour-lap", 2)?.answer.toFixed(0), "1720");
  // DERIVED: 6 h at 0.9 um an hour
  assert.equal(exerciseOf(demo, "polish-surface")?.answer.toFixed(1), "5.4");
  // DERIVED: 2397 mm ÷ (2 x 8 mm x 4 lines in a mm) = 37.4 mm, and ± 0.5 of 8 mm
  assert.equal(exerciseOf(demo, "read-bands")?.answer.toFixed(0), "37");
  assert.equal(exerciseOf(demo, "read-bands", 2)?.answer.toFixed(2), "6.25");
  // DERIVED from the log: 112 minutes on top, 92 below
  assert.equal(exerciseOf(demo, "smooth-surface")?.answer.toFixed(1), (100 * 112 / 204).toFixed(1));
  // DERIVED: 75² / 4800 = 1.1719 mm, and 0.26 of 0.25 wave
  assert.equal(exerciseOf(demo, "choose-mirror")?.answer.toFixed(3), "1.172");
  assert.equal(exerciseOf(demo, "choose-mirror", 2)?.answer.toFixed(2), "1.04");
  // DERIVED: 360 min x 40 strokes x 2 x 50 mm = 1.44 km
  assert.equal(exerciseOf(demo, "polish-surface", 2)?.answer.toFixed(2), "1.44");
  // DERIVED: (0.115 - 0.25) / 0.024
  assert.equal(exerciseOf(demo, "judge-mirror", 2)?.answer.toFixed(2), "-5.63");
  // DERIVED: 6.6 nm / (1300 / 60)
  assert.equal(exerciseOf(demo, "shape-surface", 2)?.answer.toFixed(3), "0.305");
  // DERIVED: 0.915² x (1 - 0.21²) = 0.800
  assert.equal(exerciseOf(demo, "coat-mirror", 2)?.answer.toFixed(1), "80.1");
  // DERIVED: 150 mm x 178 / 1198 = 22.3 mm
  assert.equal(exerciseOf(demo, "place-flat", 2)?.answer.toFixed(1), "22.3");
  // DERIVED: 1 mm over 90 mm = 38.2 arcminutes; 15.6 / 38.2
  assert.equal(exerciseOf(demo, "align-mirrors")?.answer.toFixed(1), "38.2");
  assert.equal(exerciseOf(demo, "align-mirrors", 2)?.answer.toFixed(2), "0.41");
  // DERIVED: 1.4 mm at f/7.99, and 150 mm / 47.9
  assert.equal(exerciseOf(demo, "read-star", 2)?.answer.toFixed(3), "0.175");
  assert.equal(exerciseOf(demo, "observe-sky", 2)?.answer.toFixed(2), "3.13");
});
