import assert from "node:assert/strict";
import { course } from "../../../lib/lessons/course.ts";
import {
  figureOf,
  kindOfGrade,
  knownStages,
  probabilityText,
  stageOfNextStep,
} from "../../../lib/book/pages/status.ts";
import { states } from "../sampleBook.ts";

const numbers = (name: keyof typeof states): number[] =>
  [...knownStages(states[name]).keys()].map((stage) => stage.number);

Deno.test("a record without readings knows its plan only; each reading makes stages known", () => {
  assert.deepEqual(numbers("empty"), [1, 2, 3]);
  assert.deepEqual(numbers("halfway"), [1, 2, 3, 4, 5, 7]);
  assert.deepEqual(numbers("finished"), [1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 13]);
});

Deno.test("what is known is told with its uncertainty and where it comes from", () => {
  const told = (name: keyof typeof states, stem: string): string | undefined =>
    [...knownStages(states[name])].find(([stage]) => stage.stem === stem)?.[1].markup.replace(
      /<[^>]*>/g,
      "",
    );
  assert.equal(
    told("finished", "04-measure-curve"),
    "R 2396.6 ± 2.4\u2009mm from 22 readings by 3 methods",
  );
  assert.equal(told("finished", "12-judge-mirror"), "yes, probability above 0.99");
  assert.equal(
    told("halfway", "04-measure-curve"),
    "R 2900 ± 40\u2009mm from 7 readings by 1 method",
  );
  assert.equal(told("empty", "04-measure-curve"), undefined);
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
  const files = ["nextStep.ts", "nextStepFine.ts", "nextStepJudged.ts"];
  const source = (await Promise.all(
    files.map((name) => Deno.readTextFile(new URL(`../../../lib/record/${name}`, import.meta.url))),
  )).join("\n");
  const named = [...source.matchAll(/stage:(?: over \?)? "([^"]+)"(?: : "([^"]+)")?/g)]
    .flatMap(([, one = "", other]) => other === undefined ? [one] : [one, other]);
  assert.ok(named.length >= 10, `${named.length} stages named`);
  for (const stage of named) {
    const { summary } = states.empty;
    const found = stageOfNextStep({ ...summary, next_step: { ...summary.next_step, stage } });
    assert.ok(found !== undefined && course.includes(found), stage);
  }
});
