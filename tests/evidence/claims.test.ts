/** Every claim of a figure has a command that shows it. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { allClaims, claimsOf, root, shown } from "./claims.ts";

const plain = (text: string): string => text.replace(/\s+/g, " ");

Deno.test("every claim of README, pages, help texts and docstrings says what shows it", () => {
  const rows = shown();
  const bare = allClaims().filter(({ file, sentence }) =>
    !rows.some((row) => row.file === file && sentence.includes(plain(row.words)))
  );
  assert.deepEqual(bare.map(({ file, sentence }) => `${file}: ${sentence}`), []);
});

Deno.test("every row stands for words that are there, and for something that can be run", async () => {
  const { tasks } = JSON.parse(await Deno.readTextFile(join(root, "deno.json"))) as {
    tasks: Readonly<Record<string, unknown>>;
  };
  const said = allClaims();
  for (const { file, words, shownBy } of shown()) {
    assert.ok(
      said.some((one) => one.file === file && one.sentence.includes(plain(words))),
      `${file} no longer claims ${words}`,
    );
    const [, task, part] = /^deno task (\w+)(?: (\w+))?$/.exec(shownBy) ?? [];
    if (task !== undefined) {
      assert.ok(task in tasks, shownBy);
      const folder = { trial: "trials", bench: "bench" }[task];
      if (folder !== undefined) await Deno.stat(join(root, "tests", folder, `${part}.${task}.ts`));
    } else if (shownBy.startsWith("tests/")) await Deno.stat(join(root, shownBy));
    else assert.match(shownBy, /^(derived|no claim): \S/, `${file}: ${shownBy}`);
  }
});

Deno.test("what reads as a claim, and what does not", () => {
  const found = (text: string): string[] => claimsOf("a.md", text).map(({ sentence }) => sentence);
  assert.deepEqual(found("It takes 0.2 s. Sand for a while."), ["It takes 0.2 s."]);
  assert.equal(found("Of such mirrors 35 of 40 came there.").length, 1);
  assert.equal(found("The book weighs 12 MB.").length, 1);
  assert.equal(found("Press for 30 minutes at 2 kg; R is 2400 mm.").length, 0);
});
