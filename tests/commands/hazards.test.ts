/** `deno task hazards` as a person runs it. */
import assert from "node:assert/strict";
import { course } from "../../lib/lessons/course.ts";
import { hazards } from "../../lib/knowledge/hazards.ts";
import { run } from "./run.ts";

Deno.test("hazards prints the whole list: who, caution, alone, pages by title, steps and sheets", async () => {
  const { code, out, err } = await run("hazards", []);
  assert.deepEqual([code, err], [0, ""]);
  const all = hazards();
  assert.match(out, new RegExp(`^${all.length} hazards\\. Local rules`));
  for (const { hazard, who, short, pages, steps, sheets, alone, aloneWhat } of all) {
    const block = out.split("\n\n").find((one) => one.startsWith(`${hazard}: `)) ?? "";
    for (const wanted of [who, short, `${alone}: ${aloneWhat}`, ...steps, ...sheets]) {
      assert.ok(block.includes(wanted), `${hazard}: ${wanted}`);
    }
    for (const page of pages) {
      const { stem, title } = course.find(({ name }) => name === page) ?? { stem: "?", title: "?" };
      assert.ok(block.includes(`${stem.slice(0, 2)} ${title}`), `${hazard}: ${page}`);
    }
  }
  assert.doesNotMatch(out, /undefined|no page of the course/);
});

Deno.test("hazards reads one folder of the kit and may do nothing else", async () => {
  const { tasks } = JSON.parse(
    await Deno.readTextFile(new URL("../../deno.json", import.meta.url)),
  );
  assert.equal(
    tasks.hazards.command,
    "deno run --allow-read=data/tables lib/commands/hazards.ts",
  );
});

Deno.test("hazards --help, and a word too many", async () => {
  assert.match((await run("hazards", ["--help"])).out, /^deno task hazards\n/);
  const { code, err } = await run("hazards", ["pitch"]);
  assert.equal(code, 2);
  assert.match(err, /Try: deno task hazards --help/);
});
