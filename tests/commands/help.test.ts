/** Every command answers `--help` in plain words, and a mistyped one in a sentence. */
import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import { assertForPeople, run } from "./run.ts";

const COMMANDS = [
  "check",
  "book",
  "new",
  "note",
  "print",
  "lab",
  "doctor",
  "test",
  "bench",
  "trial",
  "verify",
  "hazards",
  "course",
  "licences",
  "stages",
  "room",
  "merge",
];

const { tasks } = JSON.parse(
  await Deno.readTextFile(fileURLToPath(new URL("../../deno.json", import.meta.url))),
) as { tasks: Record<string, { description: string; command: string }> };

Deno.test("the tasks are the commands, each with a line on what it is for", () => {
  for (const name of COMMANDS) {
    const task = tasks[name];
    assert.match(task?.description ?? "", /^[A-Z].{10,}/, name);
    const flags = "(--v8-flags=--max-semi-space-size=\\d+ )?--allow-[^ ]+( --allow-[^ ]+)*";
    assert.match(task?.command ?? "", new RegExp(`^deno run ${flags} lib/commands/${name}\\.ts$`));
  }
});

Deno.test("check has no door to the network or to other programs: a stranger's record is only read", () => {
  const command = tasks["check"]?.command ?? "";
  assert.doesNotMatch(command, / -A\b|--allow-(all|net|run|sys|import)/);
  assert.match(command, / --allow-env=[\w,]+ /, "only the names it needs");
});

for (const name of COMMANDS) {
  Deno.test(`${name} --help and -h: plain words, short lines, ends well, does nothing else`, async () => {
    const [long, short] = await Promise.all([run(name, ["--help"]), run(name, ["-h"])]);
    assert.deepEqual(long, short);
    assert.equal(long.code, 0);
    assert.equal(long.err, "");
    const lines = long.out.trimEnd().split("\n");
    assert.ok(lines[0]?.startsWith(`deno task ${name}`), lines[0]);
    assert.equal(lines[1], "", "the first line says how to type it");
    const words = lines.slice(2).join(" ").split(/\s+/);
    assert.ok(words.length >= 25, `${words.length} words`);
    for (const line of lines) assert.ok(line.length <= 110, line);
    assert.doesNotMatch(long.out, /TODO|foo|stderr|argv|stack|Promise/);
  });

  Deno.test(`${name} mistyped: a sentence, status 2, nothing done`, async () => {
    const { code, out, err } = await run(name, ["--no-such-word"]);
    assert.equal(code, 2, err);
    assert.equal(out, "");
    assertForPeople(err);
    assert.match(err, new RegExp(`Try: deno task ${name} --help`));
  });
}

Deno.test("bench of a name there is none: a sentence", async () => {
  const { code, err } = await run("bench", ["no-such-bench"]);
  assert.equal(code, 2);
  assertForPeople(err);
  assert.match(err, /begins with "no-such-bench"\.\n/);
});
