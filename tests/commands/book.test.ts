import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import type { Progress } from "../../lib/book/runner.ts";
import { Watch } from "../../lib/commands/book.ts";
import { stemOf } from "../stems.ts";

const command = fileURLToPath(new URL("../../lib/commands/book.ts", import.meta.url));
const config = fileURLToPath(new URL("../../deno.json", import.meta.url));

async function book(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  const { code, stdout, stderr } = await new Deno.Command(Deno.execPath(), {
    args: ["run", "-A", "--no-check", "--config", config, command, ...args],
    env: { NO_COLOR: "1" },
  }).output();
  const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
  return { code, out: text(stdout), err: text(stderr) };
}

Deno.test("book --help says what it does, in plain words, and ends well", async () => {
  const { code, out } = await book("--help");
  assert.equal(code, 0);
  assert.match(out, /^deno task book \[RECORD \| CLASS\] \[--learner\] \[--out DIR\]/);
  for (const line of out.split("\n")) assert.ok(line.length <= 100, line);
});

Deno.test("book mistyped is told so, with another status than a failed build", async () => {
  const wrong = await book("--ouch");
  assert.equal(wrong.code, 2);
  assert.match(wrong.err, /deno task book --help/);
  assert.equal((await book("one", "two")).code, 2);
});

Deno.test("a record that is not there is one sentence, without a stack trace", async () => {
  const { code, out, err } = await book("./no-such-mirror");
  assert.equal(code, 1);
  assert.equal(out, "");
  assert.match(err, /no-such-mirror/);
  assert.doesNotMatch(err, /^\s+at |file:\/\//m);
  assert.equal(err.trim().split("\n").length, 1, err);
});

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
  watch.step(step(`${stemOf("measure-curve")}.ipynb`, "running", 3));
  watch.step(step(`${stemOf("measure-zones")}.ipynb`, "running", 1, 42));
  assert.equal(
    text.split("\r\u001b[K").at(-1),
    `0 done · ${stemOf("measure-curve")} 3/14 · ${stemOf("measure-zones")} 1/14 · about 42 s left`,
  );
  watch.step(step(`${stemOf("measure-curve")}.ipynb`, "done", 14, 20));
  assert.equal(
    text.split("\r\u001b[K").at(-1),
    `1 done · ${stemOf("measure-zones")} 1/14 · about 20 s left`,
  );
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
    watch.step(step(`${stemOf("measure-curve")}.ipynb`, state, 5));
  }
  watch.end();
  assert.deepEqual(text.split("\n"), [
    `${stemOf("measure-curve")}.ipynb  starting`,
    `${stemOf("measure-curve")}.ipynb  done, 14 cells`,
    "",
  ]);
});
