import assert from "node:assert/strict";
import { classPage } from "../../../lib/book/pages/classPage.ts";
import { isClassPage } from "../../../lib/commands/check.ts";
import { openClass } from "../../../lib/knowledge/classOfRecords.ts";
import { kestrelLane } from "../../record/classBench.ts";

Deno.test("the page of a class: one file, every bench, nothing loaded", async () => {
  const page = classPage(await openClass(kestrelLane));
  assert.ok(isClassPage(page));
  for (let bench = 1; bench <= 12; bench++) assert.ok(page.includes(`Bench ${bench},`), `${bench}`);
  // what to mind stands above everything that names a next step
  assert.ok(page.indexOf("Mind, before the next step") < page.indexOf("Whom to go to first"));
  assert.ok(page.indexOf("Mind, before the next step") < page.indexOf("Decide:"));
  assert.match(page, /Safety glasses on[\s\S]*FFP2/);
  assert.doesNotMatch(page, /\bundefined\b|\bNaN\b|<link|src="http|\[object /);
});

Deno.test("a class with only what cannot be read has a page too, and its words are text", () => {
  const page = classPage({
    name: "<b>x</b>",
    rows: [],
    unreadable: [{ record: "a", why: ["found <i>"], refusals: 1 }],
  });
  assert.match(page, /&lt;b&gt;x&lt;\/b&gt;/);
  assert.doesNotMatch(page, /<b>x<\/b>|found <i>/);
  assert.match(page, /1 record that cannot be read/);
});

Deno.test("told in inches where every record of it is, heads of tables too", async () => {
  const many = await openClass(kestrelLane);
  const page = classPage({ ...many, rows: many.rows.map((row) => ({ ...row, shownIn: "inch" })) });
  assert.match(page, /Focal length<br>in<\/th>/);
  assert.match(page, /Too deep by<br>thou<\/th>/);
  assert.match(page, /The makers lie 0\.\d+ in apart/);
});
