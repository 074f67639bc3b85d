/** What stands above each lesson of the reader's own: short, and without any result. */
import assert from "node:assert/strict";
import { today } from "../../lib/stages/today.ts";
import { cellTags, isCode, readNotebook } from "../../lib/book/notebook.ts";
import { notebookPaths } from "../notebooks/notebookPaths.ts";
import { demo, empty, halfway } from "./mirrors.ts";

Deno.test("it counts rows, says where they are shown, and tells nothing of what they say", () => {
  // DERIVED: rows of the demo's files, counted by their loader
  const { sagitta, sun } = demo.record;
  assert.equal(
    today(demo, "sagitta", "sun").text,
    `Your folder holds ${sagitta.length} rows of sagitta.csv and ${sun.length} rows of sun.csv. What they say stands at the end of this page.`,
  );
  assert.doesNotMatch(today(halfway, "sagitta", "spherometer", "sun").text, /sun\.csv/);
  for (const mirror of [demo, halfway, empty]) {
    assert.doesNotMatch(today(mirror, "sagitta", "zones").text, /\d[.,]\d|±/);
  }
});

Deno.test("a folder without readings is told to read first, and a lesson without tables has the plan", () => {
  assert.match(today(empty, "sagitta").text, /^Nothing of this is in your folder yet\. Read first/);
  assert.match(today(empty).text, /^Your plan: \d+ mm wide, \d+ mm to the focus\./);
});

Deno.test("every lesson of one mirror shows it above, under its own heading, and the whole before the decision", async () => {
  const own = (await notebookPaths()).filter((path) =>
    !/-(open-record|compare-class)\./.test(path)
  );
  // COMMON PRACTICE: a course of twenty-one, of which the mirror's page and the class page are none of these
  assert.equal(own.length, 19);
  for (const path of own) {
    const { cells } = await readNotebook(path);
    const first = cells.findIndex(({ source }) => source.startsWith("## "));
    assert.match(cells[first]?.source ?? "", /^## Your [^\n]+ (today|tonight)$/, path);
    assert.match(cells[first + 1]?.source ?? "", /^show\(today\(yours/m, path);
    const exercise = cells.findLastIndex((cell) =>
      isCode(cell) && cellTags(cell).includes("exercise")
    );
    const whole = cells.findIndex(({ source }, at) =>
      at > exercise && source.startsWith("## Your ")
    );
    const decide = cells.findIndex((cell) => cellTags(cell).includes("decide"));
    assert.ok(whole > exercise && decide > whole, path);
    const shown = cells.slice(whole, decide).filter(isCode).map(({ source }) => source).join("\n");
    assert.match(shown, /show\((await )?\w+\(yours/, path);
    const between = cells.slice(first + 2, whole).filter(isCode).map(({ source }) => source).join(
      "\n",
    );
    assert.doesNotMatch(between, /\btoday\(/, path);
  }
});
