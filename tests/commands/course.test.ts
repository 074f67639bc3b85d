/** `deno task course` as a person runs it. */
import assert from "node:assert/strict";
import { course } from "../../lib/lessons/course.ts";
import { run } from "./run.ts";

Deno.test("course prints a row for every stage, its reading age, and no word that should not stand", async () => {
  const { code, out, err } = await run("course", []);
  assert.deepEqual([code, err], [0, ""]);
  for (const { stem } of course) {
    assert.match(out, new RegExp(`^${stem} +\\d\\d:\\d+ \\(\\d+\\)`, "m"), stem);
    assert.match(out, new RegExp(`^${stem} +\\d+ +\\d+\\.\\d +\\d+\\.\\d$`, "m"), stem);
  }
  assert.match(out, /No word of the dialect stands on any page\.\nEvery term is explained/);
  assert.doesNotMatch(out, /EMPTY|undefined|NaN/);
});

Deno.test("course --help, and a word too many", async () => {
  assert.match((await run("course", ["--help"])).out, /^deno task course\n/);
  const { code, err } = await run("course", ["04"]);
  assert.equal(code, 2);
  assert.match(err, /Try: deno task course --help/);
});
