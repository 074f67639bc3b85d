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

const stages = [
  "grind-hollow",
  "measure-curve",
  "weigh-readings",
  "correct-depth",
  "measure-zones",
  "judge-mirror",
  "place-flat",
  "observe-sky",
];

function exerciseOf(of: Mirror, stage: string): NumberExercise | undefined {
  const { document } = parseHTML(`<body>${ownExercise(of, stage).html}</body>`) as unknown as {
    readonly document: {
      querySelector(selector: string): { getAttribute(name: string): string } | null;
    };
  };
  const kept = document.querySelector("form[data-exercise]")?.getAttribute("data-sealed");
  return kept === undefined ? undefined : JSON.parse(unseal(kept));
}

Deno.test("the demo's folder has readings for every one; an empty folder is told what is wanted", () => {
  for (const stage of stages) {
    const asked = exerciseOf(demo, stage);
    assert.ok(asked !== undefined, stage);
    assert.match(ownExercise(demo, stage).html, new RegExp(`data-exercise="\\d\\d-yours"`));
    assert.match(ownExercise(empty, stage).text, /^With .* a second exercise stands here/, stage);
    assert.equal(exerciseOf(empty, stage), undefined, stage);
  }
  assert.throws(() => ownExercise(demo, "pour-lap"), /requires one of grind-hollow/);
});

Deno.test("each is right by its own answer, rounded to two figures too, and each of its slips meets its hint", () => {
  for (const from of [demo, halfway]) {
    for (const stage of stages) {
      const asked = exerciseOf(from, stage);
      if (asked === undefined) continue;
      for (const typed of [asked.answer, Number(asked.answer.toPrecision(2))]) {
        assert.equal(judge(asked, typed).is, "right", `${stage}: ${typed}`);
      }
      for (const { value, hint } of asked.traps) {
        const said = judge(asked, value);
        assert.deepEqual(
          [said.is, said.say.includes(hint)],
          ["off", true],
          `${stage}: ${value}: ${said.say}`,
        );
      }
      for (const hint of asked.hints) {
        assert.ok(!ownExercise(from, stage).html.includes(hint), `${stage}: in plain words`);
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
