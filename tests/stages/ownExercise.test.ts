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

/** Each with how many it has, and whether an empty folder already knows enough for one: disc and glass are in its settings. */
const asking = {
  "prepare-discs": [2, true],
  "grind-hollow": [2, false],
  "measure-curve": [1, false],
  "weigh-readings": [1, false],
  "correct-depth": [2, false],
  "smooth-surface": [2, false],
  "pour-lap": [2, true],
  "polish-surface": [1, false],
  "read-bands": [2, false],
  "measure-zones": [1, false],
  "judge-mirror": [1, false],
  "shape-surface": [1, false],
  "place-flat": [1, false],
  "carry-weight": [2, false],
  "read-star": [1, true],
  "observe-sky": [1, false],
} as const;
const all = Object.entries(asking).flatMap(([stage, [count, always]]) =>
  Array.from({ length: count }, (_, i) => ({ stage, which: (i + 1) as 1 | 2, always }))
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
  assert.throws(() => ownExercise(demo, "coat-mirror"), /requires one of prepare-discs/);
  assert.throws(() => ownExercise(demo, "observe-sky", 2), /a second only where it has one/);
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
});
