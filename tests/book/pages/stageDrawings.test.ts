import assert from "node:assert/strict";
import { course } from "../../../lib/lessons/course.ts";
import { stageDrawing } from "../../../lib/book/pages/stageDrawings.ts";

Deno.test("every stage has a drawing, hidden from screen readers, without text; no two of their own are alike", () => {
  const drawings = course.map(({ name }) => stageDrawing(name).markup);
  const own = drawings.filter((drawing) => drawing !== stageDrawing("").markup);
  assert.equal(new Set(own).size, own.length);
  assert.ok(own.length >= 20);
  for (const drawing of drawings) {
    assert.match(drawing, /^<svg viewBox="0 0 84 34" aria-hidden="true"><(path|circle)/);
    assert.doesNotMatch(drawing, /<text|NaN|undefined/);
  }
});

Deno.test("a stage without a drawing of its own gets a plain disc", () => {
  assert.match(
    stageDrawing("bake-bread").markup,
    /^<svg [^>]*><path class="body" d="M6,8Q42,8 78,8/,
  );
});
