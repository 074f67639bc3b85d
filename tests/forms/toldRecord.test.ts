/** What is told after a reading: the numbers that the table bears on, and the next step in the words of `check`. */
import assert from "node:assert/strict";
import { toldInInches, toldRecord } from "../../lib/forms/toldRecord.ts";
import { openRecord } from "../../lib/knowledge/open.ts";
import { tell } from "../../lib/knowledge/tell.ts";
import { TABLES } from "../../lib/record/schema.ts";

Deno.test("each table tells numbers of its own, the diary none; the next step is check's", async () => {
  const { summary } = (await openRecord("halfway-200-f6")).yours;
  const titles = Object.fromEntries(
    TABLES.map((table) => [table, toldRecord(summary, table).numbers.map(([title]) => title)]),
  );
  assert.deepEqual(titles["diary"], []);
  assert.ok(titles["sagitta"]?.includes("Focal length"), JSON.stringify(titles));
  const lines = tell(summary).join(" ").replace(/\s+/g, " ");
  const { nextStep } = toldRecord(summary, "sagitta");
  assert.ok(lines.includes(nextStep.do.split(". ")[0] ?? "?"));
  assert.equal(nextStep.do, summary.nextStep.do);
  assert.equal(nextStep.caution, summary.nextStep.caution);
});

Deno.test("a warning is told with its place", async () => {
  const { summary } = (await openRecord()).demo;
  const warned = {
    ...summary,
    warnings: [{ file: "sun.csv", line: 3, message: "is it?" }, { message: "so" }],
  };
  assert.deepEqual(toldRecord(warned).warnings, ["sun.csv, line 3: is it?", "so"]);
});

Deno.test("a record in inches is told in inches", async () => {
  const { summary } = (await openRecord("halfway-200-f6")).yours;
  const told = toldInInches(toldRecord(summary, "sagitta"));
  assert.doesNotMatch(told.numbers.map(([, value]) => value).join(), / mm/);
  assert.equal(told.nextStep.stage, summary.nextStep.stage);
});
