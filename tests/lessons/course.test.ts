import assert from "node:assert/strict";
import { course, findStage, numberedLinks, stageNameOf } from "../../lib/lessons/course.ts";
import { stemOf } from "../stems.ts";

Deno.test("stages are named by a verb and a noun, and numbered by their place", () => {
  course.forEach(({ number, name, stem }, index) => {
    assert.equal(number, index);
    assert.match(name, /^[a-z]+-[a-z]+$/);
    assert.equal(stem, `${String(index).padStart(2, "0")}-${name}`);
    assert.equal(stageNameOf(stem), name);
  });
});

Deno.test("links between notebooks get their numbers, whatever number they had", () => {
  assert.equal(
    numberedLinks(`[a](measure-curve.ipynb), [b](${77}-pour-lap.ipynb#x), [c](bake-bread.ipynb)`),
    `[a](${stemOf("measure-curve")}.ipynb), [b](${
      stemOf("pour-lap")
    }.ipynb#x), [c](bake-bread.ipynb)`,
  );
});

Deno.test("parts follow one another, none comes back", () => {
  const parts = course.map(({ part }) => part).filter((part, i, all) => part !== all[i - 1]);
  assert.equal(parts.length, new Set(parts).size);
  assert.deepEqual(parts, ["Plan", "Shape", "Polish", "Test", "Build", "Look"]);
});

Deno.test("every stage has a line, a question that asks, and names nobody else has", () => {
  for (const { line, question } of course) {
    assert.match(line, /\.$/);
    assert.match(question, /\?$/);
  }
  const names = course.flatMap((
    { title, name, stem, names },
  ) => [title.toLowerCase(), name, stem, ...names]);
  assert.equal(names.length, new Set(names).size);
});

Deno.test("a stage is found by any of its names, in any case, with either apostrophe", () => {
  for (const stage of course) {
    for (
      const name of [
        stage.title,
        stage.name,
        stage.stem,
        stage.title.toUpperCase(),
        ` ${stage.title} `,
        ...stage.names,
      ]
    ) {
      assert.equal(findStage(name), stage, name);
    }
  }
  assert.equal(findStage("your mirror's page")?.number, 0);
  assert.equal(findStage(""), undefined);
});
