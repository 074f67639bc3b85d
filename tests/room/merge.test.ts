/** Two copies of a record made one again. Readings are INVENTED. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { Findings } from "../../lib/record/errors.ts";
import { BenchFolder } from "../../lib/room/benchFolder.ts";
import type { History } from "../../lib/room/history.ts";
import { mergedTable } from "../../lib/room/merge.ts";
import { assertForPeople, inFolder, run } from "../commands/run.ts";
import { BENCH, writeClass } from "./roomServer.ts";

const none: History = { entries: [], torn: 0 };
const head = "distance_mm,note\n2398,\n";

function merged(ours: string, theirs: string): string | string[] {
  const findings = new Findings();
  return mergedTable("lamp", ours, theirs, [none, none], findings) ??
    findings.refusals.map(({ line, message }) => `${line}: ${message}`);
}

Deno.test("what either has more is kept, ours first; remarks and rows between stay where they are", () => {
  assert.equal(merged(head, head), head);
  assert.equal(merged(head, `${head}2400,\n`), `${head}2400,\n`);
  assert.equal(merged(`${head}2401,\n`, `${head}2400,\n2400,\n`), `${head}2401,\n2400,\n2400,\n`);
  assert.equal(
    merged(`${head}2401,\n`, `# wet\n${head}2401,\n`),
    `# wet\n${head}2401,\n`,
  );
  assert.equal(merged(`${head}2401,\r\n`, `${head}2401,\n2402,`), `${head}2401,\n2402,\n`);
});

Deno.test("a line of old that both have changed is a contradiction, with its line and both texts", () => {
  const [one = ""] = merged(`${head}2401,a\n2403,\n`, `${head}2401,b\n2403,\n`);
  assert.match(one, /^3: found "2401,a" here and "2401,b" in the other copy.*by hand/);
});

const row = (minutes: string): Record<string, string> => ({
  ...{ date: "2026-11-30", abrasive: "F80", position: "mirror on top", minutes },
});
const day = "2026-11-30";

Deno.test("a whole record: phones' rows once by id, what was taken back is gone, pictures come over; then it is the same both ways", () =>
  inFolder(async (folder) => {
    const [a, b] = [join(folder, "a"), join(folder, "b")];
    await writeClass(a, BENCH);
    const first = new BenchFolder(a);
    for (const id of ["both", "undone"]) {
      await first.addRows("grinding", id, "bench", [row("5")], day);
    }
    await writeClass(b, {
      ...BENCH,
      "grinding.csv": await Deno.readTextFile(join(a, "grinding.csv")),
      "history.csv": await Deno.readTextFile(join(a, "history.csv")),
    });
    const other = new BenchFolder(b);
    await first.addRows("grinding", "sent to both", "bench", [row("7")], day);
    await other.addRows("grinding", "sent to both", "bench", [row("7")], day);
    await first.addRows("grinding", "only a", "bench", [row("1")], day);
    await other.addRows("grinding", "only b", "bench", [row("2")], day);
    await other.undo("grinding", "undone", "bench");
    await other.addRows("lamp", "lamp", "bench", [{ distance_mm: "2398" }], day);
    const jpeg = new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 1]);
    const { path } = await other.addPhoto("p", "bench", jpeg, "image/jpeg") as { path: string };
    const before = await Deno.readTextFile(join(b, "grinding.csv"));
    const dry = await run("merge", [a, b, "--dry"], folder);
    assert.equal(dry.code, 0, dry.err);
    assert.match(dry.out, /lamp\.csv: all of it[\s\S]*nothing was written/);
    const done = await run("merge", [a, b], folder);
    assert.equal(done.code, 0, done.err);
    const minutes = (text: string): string[] =>
      text.trim().split("\n").slice(1).map((line) => line.split(",")[3] ?? "");
    assert.deepEqual(minutes(await Deno.readTextFile(join(a, "grinding.csv"))), [
      ...["20", "5", "7", "1", "2"],
    ]);
    assert.deepEqual(await Deno.readFile(join(a, path)), jpeg);
    assert.equal(await Deno.readTextFile(join(b, "grinding.csv")), before, "B is not changed");
    const same = await new BenchFolder(a).addRows("grinding", "only b", "bench", [row("2")], day);
    assert.equal(same.status, 200, "an id of B counts in A");
    const again = await run("merge", [a, b], folder);
    assert.match(again.out, /has all that/);
    const check = await run("check", [a, "--today", day], folder);
    assert.equal(check.code, 0, check.err);
  }));

Deno.test("contradictions of two records: nothing is written, each is told", () =>
  inFolder(async (folder) => {
    const [a, b] = [join(folder, "a"), join(folder, "b")];
    await writeClass(a, BENCH);
    await new BenchFolder(a).addRows("grinding", "x", "bench", [row("5")], day);
    const table = await Deno.readTextFile(join(a, "grinding.csv"));
    await writeClass(b, {
      ...BENCH,
      "mirror.yaml": (BENCH["mirror.yaml"] ?? "").replace("1200", "1100"),
      "grinding.csv": table.replace("top,5,", "top,6,"),
      "history.csv": await Deno.readTextFile(join(a, "history.csv")),
    });
    const { code, err } = await run("merge", [a, b], folder);
    assert.equal(code, 1);
    assertForPeople(err);
    assert.match(err, /^mirror\.yaml, line 3: .*1100/m);
    assert.match(err, /^grinding\.csv, line 3: .*changed by hand in the other/m);
    assert.equal(await Deno.readTextFile(join(a, "grinding.csv")), table);
    assert.equal((await run("merge", [a, a], folder)).code, 1);
    assert.equal((await run("merge", [a], folder)).code, 2);
  }));
