import { figureOf } from "../../../lib/knowledge/quantities.ts";
import assert from "node:assert/strict";
import { course } from "../../../lib/lessons/course.ts";
import { stemOf } from "../../stems.ts";
import {
  kindOfGrade,
  knownStages,
  probabilityText,
  stageOfNextStep,
  stageStates,
} from "../../../lib/book/pages/status.ts";
import type { BookFacts } from "../../../lib/book/pages/facts.ts";
import { states } from "../sampleBook.ts";

/** What is told of a stage, without markup. */
const toldOf = (facts: BookFacts, stem: string): string | undefined =>
  [...knownStages(facts)].find(([stage]) => stage.stem === stem)?.[1].markup.replace(
    /<[^>]*>/g,
    "",
  );
const knownOf = (name: keyof typeof states): string[] =>
  [...knownStages(states[name]).keys()].map((stage) => stage.name);

Deno.test("a record without readings knows its plan only; each reading makes stages known", () => {
  const plan = ["open-record", "choose-mirror", "prepare-discs"];
  assert.deepEqual(knownOf("empty"), plan);
  assert.deepEqual(knownOf("halfway"), [...plan, "grind-hollow", "measure-curve", "correct-depth"]);
  assert.deepEqual(knownOf("finished"), [
    ...plan,
    "grind-hollow",
    "measure-curve",
    "weigh-readings",
    "correct-depth",
    "smooth-surface",
    "polish-surface",
    "measure-zones",
    "judge-mirror",
  ]);
});

Deno.test("what is known is told with its uncertainty and where it comes from", () => {
  const told = (name: keyof typeof states, stem: string): string | undefined =>
    toldOf(states[name], stem);
  assert.equal(
    told("finished", stemOf("measure-curve")),
    "R 2396.6 ± 2.4\u2009mm from 22 readings by 3 methods",
  );
  assert.equal(
    told("finished", stemOf("judge-mirror")),
    "yes, of the whole surface, probability above 0.99",
  );
  assert.equal(
    told("halfway", stemOf("measure-curve")),
    "R 2900 ± 40\u2009mm from 7 readings by 1 method",
  );
  assert.equal(told("empty", stemOf("measure-curve")), undefined);
});

Deno.test("rough grinding has minutes so far while it lasts, and minutes when it is over", () => {
  assert.match(toldOf(states.halfway, stemOf("grind-hollow")) ?? "", /^120 min so far/);
  assert.match(toldOf(states.finished, stemOf("grind-hollow")) ?? "", /^\d+ min(?! so far)/);
  const next = (stage: string): BookFacts => {
    const { summary } = states.halfway;
    return {
      ...states.halfway,
      summary: { ...summary, nextStep: { ...summary.nextStep, stage } },
    };
  };
  assert.match(toldOf(next("correct depth"), stemOf("grind-hollow")) ?? "", /^120 min so far/);
  assert.match(toldOf(next("fine grinding"), stemOf("grind-hollow")) ?? "", /^120 min,/);
});

Deno.test("what nobody wrote of the discs is told as assumed, and makes no stage done", () => {
  const { record } = states.empty;
  const assuming = (...keys: string[]): BookFacts => ({
    ...states.empty,
    record: { ...record, defaults: keys.map((key) => `${key}: as usual`) },
  });
  const discs = (facts: BookFacts): string | undefined => toldOf(facts, stemOf("prepare-discs"));
  assert.equal(discs(assuming()), "soda-lime, 150 × 25 mm, bevel 1.0 mm");
  assert.match(discs(assuming("bevel")) ?? "", /, bevel 1\.0 mm; bevel assumed$/);
  assert.match(discs(assuming("thickness", "bevel")) ?? "", /; thickness and bevel assumed$/);
  const none = assuming("glass", "thickness", "bevel");
  assert.match(discs(none) ?? "", /; glass, thickness and bevel assumed$/);
  const early = {
    ...none,
    summary: { ...none.summary, nextStep: { ...none.summary.nextStep, stage: "choose mirror" } },
  };
  assert.equal(stageStates(early).get(stemOf("prepare-discs")), "ahead");
  const told = { ...early, record: { ...early.record, defaults: ["glass: as usual"] } };
  assert.equal(stageStates(told).get(stemOf("prepare-discs")), "done");
});

Deno.test("grades are rough, fine or polish by their letter and number", () => {
  const kinds = ["F80", "P80", "#100", "F120", "#400", "F1200", "cerium oxide", "rouge"].map(
    kindOfGrade,
  );
  assert.deepEqual(kinds, ["rough", "rough", "rough", "fine", "fine", "fine", "polish", "polish"]);
});

Deno.test("a probability is never told as certain", () => {
  assert.deepEqual([1, 0.991, 0.99, 0.78, 0.003].map(probabilityText), [
    "above 0.99",
    "above 0.99",
    "0.99",
    "0.78",
    "below 0.01",
  ]);
});

Deno.test("the figure spoken of is that of the zones, else the first photograph that was not refused", () => {
  const { summary } = states.finished;
  assert.equal(figureOf(summary), summary.figure?.zones);
  const photos = [{ photo: "a.jpg", refused: "too dark" }, { photo: "b.jpg" }];
  assert.equal(figureOf({ ...summary, figure: { photos } })?.photo, "b.jpg");
  assert.equal(figureOf(states.empty.summary), undefined);
});

Deno.test("every stage a next step can name is a stage of the course", async () => {
  const files = ["nextStep.ts", "nextStepJudged.ts"];
  const source = (await Promise.all(
    files.map((name) =>
      Deno.readTextFile(new URL(`../../../lib/knowledge/${name}`, import.meta.url))
    ),
  )).join("\n");
  const named = [...source.matchAll(/stage:(?: over \?)? "([^"]+)"(?: : "([^"]+)")?/g)]
    .flatMap(([, one = "", other]) => other === undefined ? [one] : [one, other]);
  assert.ok(named.length >= 10, `${named.length} stages named`);
  for (const stage of named) {
    const { summary } = states.empty;
    const found = stageOfNextStep({ ...summary, nextStep: { ...summary.nextStep, stage } });
    assert.ok(found !== undefined && course.includes(found), stage);
  }
});
