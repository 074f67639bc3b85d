import assert from "node:assert/strict";
import { chaptersOf } from "../../../lib/book/pages/chapters.ts";

Deno.test("all stages are there in course order, written or not", () => {
  const all = chaptersOf(["11-measure-zones", "04-measure-curve"]);
  assert.deepEqual(all.map(({ number }) => number), Array.from({ length: 20 }, (_, i) => i + 1));
  assert.deepEqual(all.flatMap(({ file }) => file ?? []), [
    "04-measure-curve.html",
    "11-measure-zones.html",
  ]);
});

Deno.test("a notebook's own title goes before the course's", () => {
  const all = chaptersOf(
    ["04-measure-curve"],
    new Map([["04-measure-curve", "How deep?"], ["08-pour-lap", "Pitch"]]),
  );
  assert.deepEqual([all[4]?.title, all[8]?.title], ["How deep?", "The pitch lap"]);
});
