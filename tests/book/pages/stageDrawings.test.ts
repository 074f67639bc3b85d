import assert from "node:assert/strict";
import { course } from "../../../lib/lessons/course.ts";
import { stageDrawing } from "../../../lib/book/pages/stageDrawings.ts";

Deno.test("every stage has a drawing of its own, hidden from screen readers, without text", () => {
  const drawings = course.map(({ name }) => stageDrawing(name).markup);
  assert.equal(new Set(drawings).size, course.length);
  for (const drawing of drawings) {
    assert.match(drawing, /^<svg viewBox="0 0 84 34" aria-hidden="true"><(path|circle)/);
    assert.doesNotMatch(drawing, /<text|NaN|undefined/);
  }
});

Deno.test("a name that is no stage gets an empty drawing", () => {
  assert.equal(
    stageDrawing("bake-bread").markup,
    '<svg viewBox="0 0 84 34" aria-hidden="true"></svg>',
  );
});
