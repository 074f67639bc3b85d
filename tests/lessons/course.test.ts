import assert from "node:assert/strict";
import { course, findStage } from "../../lib/lessons/course.ts";

Deno.test("twenty stages, numbered from 1, named by their two digits and a verb and a noun", () => {
  assert.equal(course.length, 20);
  course.forEach(({ number, stem }, index) => {
    assert.equal(number, index + 1);
    assert.match(stem, /^\d\d-[a-z]+-[a-z]+$/);
    assert.equal(Number(stem.slice(0, 2)), index);
  });
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
  const names = course.flatMap(({ title, stem, names }) => [title.toLowerCase(), stem, ...names]);
  assert.equal(names.length, new Set(names).size);
});

Deno.test("a stage is found by any of its names, in any case, with either apostrophe", () => {
  for (const stage of course) {
    for (
      const name of [
        stage.title,
        stage.stem,
        stage.title.toUpperCase(),
        ` ${stage.title} `,
        ...stage.names,
      ]
    ) {
      assert.equal(findStage(name), stage, name);
    }
  }
  assert.equal(findStage("your mirror's page")?.number, 1);
  assert.equal(findStage(""), undefined);
});

Deno.test("every notebook of the kit is a stage of the course", async () => {
  const folder = new URL("../../notebooks/", import.meta.url);
  const stems = new Set(course.map(({ stem }) => `${stem}.ipynb`));
  for await (const { name } of Deno.readDir(folder)) {
    if (name.endsWith(".ipynb")) assert.ok(stems.has(name), name);
  }
});
