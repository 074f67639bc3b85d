/** The forms of a stage's page and the panel of what is kept, as the book writes them. */
import assert from "node:assert/strict";
import { readingsPart, workPart } from "../../../lib/book/pages/readingsPart.ts";
import { openRecord } from "../../../lib/knowledge/open.ts";
import { course } from "../../../lib/lessons/course.ts";
import { TABLES } from "../../../lib/record/schema.ts";

const { record, summary } = (await openRecord("halfway-200-f6")).yours;
const facts = { record, summary, builtOn: new Date("2026-11-30T12:00:00Z"), today: "2026-11-30" };

Deno.test("every table of the record is written at some stage, and each stage's page has its forms", () => {
  const taken = new Set(course.flatMap(({ tables = [] }) => tables));
  assert.deepEqual([...taken].sort(), [...TABLES].sort());
  for (const { name, tables = [] } of course) {
    const html = readingsPart(name, facts, new Map())?.markup ?? "";
    const forms = [...html.matchAll(/<form data-table="(\w+)"/g)].map(([, table]) => table);
    assert.deepEqual(forms, tables, name);
    // the first form is open
    assert.equal(
      html.match(/<details class="fold" open>/g)?.length ?? 0,
      Math.min(1, forms.length),
    );
    assert.equal(html.match(/ data-next-step /g)?.length ?? 0, forms.length === 0 ? 0 : 1);
  }
});

Deno.test("the day on which the book was built stands in no form, the minutes so far do", () => {
  const html = readingsPart("measure-curve", facts, new Map())?.markup ?? "";
  assert.doesNotMatch(html, /value="2026-11-30"/);
  const soFar = record.grinding.reduce((sum, { minutes }) => sum + minutes, 0);
  assert.match(html, new RegExp(`name="after_min"[^>]* value="${soFar}"`));
});

Deno.test("the next step stands there with its caution before it, as text", () => {
  const evil = '<img src=x onerror="1">';
  const nextStep = { ...summary.nextStep, do: evil, caution: `mind ${evil}` };
  const html = readingsPart("measure-curve", {
    ...facts,
    summary: { ...summary, nextStep },
  }, new Map())?.markup ?? "";
  assert.ok(html.indexOf('data-told="caution"') < html.indexOf("data-next-step"));
  assert.doesNotMatch(html, /<img/);
});

Deno.test("a page with cells has its notebook to take along, the front has none", () => {
  assert.match(workPart(true).markup, /Take the notebook/);
  assert.doesNotMatch(workPart(false).markup, /Take the notebook/);
  for (const name of ["Take my work", "Put work in", "Put a record in", "Write into my folder"]) {
    assert.ok(workPart(false).markup.includes(name), name);
  }
});
