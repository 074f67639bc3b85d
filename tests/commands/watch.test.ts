import assert from "node:assert/strict";
import type { Progress } from "../../lib/book/runnerProgress.ts";
import { Watch } from "../../lib/commands/watch.ts";

const step = (
  notebook: string,
  state: Progress["state"],
  cell: number,
  secondsLeft?: number,
): Progress => ({
  notebook,
  state,
  cell,
  cells: 14,
  ...(secondsLeft === undefined ? {} : { secondsLeft }),
});

Deno.test("in a terminal one line rewrites itself: what is done, what runs, the time left", () => {
  let text = "";
  const watch = new Watch(true, (more) => text += more);
  watch.step(step("04-measure-curve.ipynb", "running", 3));
  watch.step(step("11-measure-zones.ipynb", "running", 1, 42));
  assert.equal(
    text.split("\r\u001b[K").at(-1),
    "0 done · 04-measure-curve 3/14 · 11-measure-zones 1/14 · about 42 s left",
  );
  watch.step(step("04-measure-curve.ipynb", "done", 14, 20));
  assert.equal(text.split("\r\u001b[K").at(-1), "1 done · 11-measure-zones 1/14 · about 20 s left");
  watch.end();
  assert.ok(text.endsWith("\r\u001b[K"));
  assert.doesNotMatch(text, /\n/);
});

Deno.test("the line never breaks, however long the names", () => {
  let text = "";
  const watch = new Watch(true, (more) => text += more);
  for (const name of ["a", "b", "c"]) watch.step(step(`${name.repeat(60)}.ipynb`, "running", 1));
  assert.ok(text.split("\r\u001b[K").every((line) => line.length <= 78));
});

Deno.test("elsewhere plain lines, when a notebook begins and when it ends, without control codes", () => {
  let text = "";
  const watch = new Watch(false, (more) => text += more);
  for (const state of ["starting", "running", "running", "done"] as const) {
    watch.step(step("04-measure-curve.ipynb", state, 5));
  }
  watch.end();
  assert.deepEqual(text.split("\n"), [
    "04-measure-curve.ipynb  starting",
    "04-measure-curve.ipynb  done, 14 cells",
    "",
  ]);
});
