import assert from "node:assert/strict";
import { chaptersOf } from "../../../lib/book/pages/chapters.ts";
import { course } from "../../../lib/lessons/course.ts";
import { stemOf } from "../../stems.ts";

Deno.test("all stages are there in course order, written or not", () => {
  const all = chaptersOf([stemOf("measure-zones"), stemOf("measure-curve")]);
  assert.deepEqual(all.map(({ number }) => number), course.map(({ number }) => number));
  assert.deepEqual(all.flatMap(({ file }) => file ?? []), [
    `${stemOf("measure-curve")}.html`,
    `${stemOf("measure-zones")}.html`,
  ]);
});

Deno.test("a notebook's own title goes before the course's", () => {
  const all = chaptersOf(
    [stemOf("measure-curve")],
    new Map([[stemOf("measure-curve"), "How deep?"], [stemOf("pour-lap"), "Pitch"]]),
  );
  assert.deepEqual([all[4]?.title, all[8]?.title], ["How deep?", "The pitch lap"]);
});
