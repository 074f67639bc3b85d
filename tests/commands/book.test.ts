import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";

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
  assert.match(out, /^deno task book \[RECORD\] \[--learner\] \[--out DIR\]/);
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
