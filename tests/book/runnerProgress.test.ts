import assert from "node:assert/strict";
import { Pace, progressText } from "../../lib/book/runnerProgress.ts";

Deno.test("pace: nothing to go by is no estimate", () => {
  assert.equal(new Pace(10).secondsLeft(), undefined);
});

Deno.test("pace: the cells left take as long as those done", () => {
  let now = 1000;
  const pace = new Pace(10, () => now);
  now += 4000;
  pace.finish(2);
  // DERIVED 4 s for 2 cells is 2 s a cell; 8 cells are left
  assert.equal(pace.secondsLeft(), 16);
  now += 1;
  pace.finish(7);
  // DERIVED 4.001 s / 9 cells x 1 cell = 0.44 s, rounded up
  assert.equal(pace.secondsLeft(), 1);
  pace.finish();
  assert.equal(pace.secondsLeft(), 0);
});

Deno.test("pace: more cells than were said do not make the time negative", () => {
  const pace = new Pace(1, () => 0);
  pace.finish(3);
  assert.equal(pace.secondsLeft(), 0);
});

Deno.test("progress: one line for each state", () => {
  const step = { notebook: "02-read.ipynb", cell: 3, cells: 14 };
  const texts = (["starting", "running", "done", "failed"] as const).map((state) =>
    progressText({ ...step, state })
  );
  assert.deepEqual(texts, [
    "02-read.ipynb  starting",
    "02-read.ipynb  cell 3 of 14",
    "02-read.ipynb  done, 14 cells",
    "02-read.ipynb  failed in cell 3 of 14",
  ]);
});

Deno.test("progress: the time left in seconds, then in minutes", () => {
  const text = (secondsLeft: number): string =>
    progressText({ notebook: "a", state: "running", cell: 1, cells: 2, secondsLeft });
  assert.match(text(59), /about 59 s left$/);
  assert.match(text(61), /about 1 min 01 s left$/);
});
