/** Every claim of a figure has a command that shows it. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { against, allClaims, claimsOf, root, shown } from "./claims.ts";

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
  for (const claim of shown()) {
    const { file, words, shownBy, printed, within } = claim;
    assert.ok(
      said.some((one) => one.file === file && one.sentence.includes(plain(words))),
      `${file} no longer claims ${words}`,
    );
    const [, task, part] = /^deno task (\w+)(?: (\w+))?$/.exec(shownBy) ?? [];
    if (task !== undefined) {
      assert.ok(task in tasks, shownBy);
      assert.notEqual(printed, "", `${words}: what finds the figure in ${shownBy}, or by hand`);
      assert.match(within, /^(\d+ %|at least)?$/);
      const folder = { trial: "trials", bench: "bench" }[task];
      if (folder !== undefined) await Deno.stat(join(root, "tests", folder, `${part}.${task}.ts`));
    } else if (shownBy.endsWith(".txt")) {
      // what its cells print is held by the snapshots' own test
      assert.equal(against(claim, await Deno.readTextFile(join(root, shownBy))), undefined, file);
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

Deno.test("a figure that is printed otherwise contradicts its claim", () => {
  const claim = { file: "a.md", words: "it takes 0.2 s", shownBy: "", printed: "([\\d.]+) s" };
  const of = (text: string, within = ""): string | undefined => against({ ...claim, within }, text);
  assert.equal(of("0.24 s"), undefined);
  assert.equal(of("0.15 s"), undefined);
  assert.match(of("0.26 s") ?? "", /but 0.26 was printed/);
  assert.equal(of("0.26 s", "30 %"), undefined);
  assert.match(of("0.27 s", "30 %") ?? "", /0.27/);
  assert.equal(of("9 s", "at least"), undefined);
  assert.match(of("0.1 s", "at least") ?? "", /0.1/);
  assert.match(of("quick") ?? "", /nothing like/);
});
