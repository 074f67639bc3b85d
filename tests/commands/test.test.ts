/** `deno task test` on files of its own: what it counts, what it names, how it ends. */
import assert from "node:assert/strict";
import { inFolder, run } from "./run.ts";

const passes = 'Deno.test("holds", () => {});\n';
const fails = 'Deno.test("does not hold", () => {\n  throw new Error("no");\n});\n';
const skips = 'Deno.test({ name: "left out", ignore: true, fn: () => {} });\n';
const mistyped = 'const word: string = 1;\nDeno.test("holds", () => void word);\n';

/** Runs `deno task test` on files written for it. */
function testing(
  files: Readonly<Record<string, string>>,
  nothingSkipped = "0",
): Promise<{ code: number; last: string; out: string }> {
  return inFolder(async (folder) => {
    for (const [name, text] of Object.entries(files)) {
      await Deno.writeTextFile(`${folder}/${name}`, text);
    }
    const env = { FIRST_MIRROR_SKIP_NOTHING: nothingSkipped };
    const { code, out } = await run("test", Object.keys(files), folder, env);
    return { code, out, last: out.trimEnd().split("\n").at(-1) ?? "" };
  });
}

Deno.test("all hold: counted over the files, status 0", async () => {
  const { code, last } = await testing({ "a.test.ts": passes, "b.test.ts": passes + skips });
  assert.deepEqual([code, last], [0, "2 passed, 0 failed, 1 skipped"]);
});

Deno.test("one that fails is named with file and line, status 1", async () => {
  const { code, last, out } = await testing({ "a.test.ts": passes + fails });
  assert.deepEqual([code, last], [1, "1 passed, 1 failed, 0 skipped"]);
  assert.match(out, /^Failed: does not hold => \.\/a\.test\.ts:2:6$/m);
});

Deno.test("a file that cannot be run is a failure, and none passed is none held", async () => {
  const broken = await testing({ "a.test.ts": passes, "b.test.ts": 'throw new Error("no");\n' });
  assert.equal(broken.code, 1);
  assert.match(broken.last, /[1-9]\d* failed/);
  assert.equal((await testing({ "a.test.ts": skips })).code, 1);
});

Deno.test("types that do not hold: said, and no test is run", async () => {
  const { code, out } = await testing({ "a.test.ts": mistyped });
  assert.equal(code, 1);
  assert.match(out, /^The types do not hold: no test was run\.$/m);
  assert.doesNotMatch(out, /passed/);
});

Deno.test("where nothing may be skipped, a skipped test is a failure", async () => {
  const files = { "a.test.ts": passes + skips };
  const { code, out } = await testing(files, "1");
  assert.equal(code, 1);
  assert.match(out, /A test was skipped where none may be/);
  assert.equal((await testing(files)).code, 0);
});
