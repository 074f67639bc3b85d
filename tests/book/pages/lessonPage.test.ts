import assert from "node:assert/strict";
import { chaptersOf } from "../../../lib/book/pages/chapters.ts";
import { lessonBody } from "../../../lib/book/pages/lessonBody.ts";
import { lessonPage } from "../../../lib/book/pages/lessonPage.ts";
import { lesson, notebookOf, prose, states } from "../sampleBook.ts";
import { course, findStage, stageNameOf } from "../../../lib/lessons/course.ts";
import { stemOf } from "../../stems.ts";

const chapters = chaptersOf([
  stemOf("grind-hollow"),
  stemOf("measure-curve"),
  stemOf("measure-zones"),
]);

function pageOf(stem: string, notebook = lesson, state: keyof typeof states = "halfway"): string {
  const chapter = chapters.find((one) => one.stem === stem);
  assert.ok(chapter !== undefined);
  const body = lessonBody(notebook, stageNameOf(stem));
  return lessonPage({ body, chapter, chapters, facts: states[state] });
}

Deno.test("the page says which stage it is, by its file’s number, in which part, and asks its question", () => {
  const page = pageOf(stemOf("measure-curve"));
  const { number } = findStage("measure-curve") ?? { number: NaN };
  assert.ok(
    page.includes(
      `<p class="kicker">Stage ${number} · Shape</p>\n<h1>Measuring the curve</h1>`,
    ),
  );
  assert.match(page, /<p class="standfirst">How deep is the hollow now/);
  assert.match(page, /<title>Measuring the curve · First Mirror<\/title>/);
});

Deno.test("a notebook without a heading gets the course's title and question", () => {
  const page = pageOf(stemOf("measure-zones"), notebookOf([prose("Only prose.")]));
  assert.match(page, /<h1>The zone test<\/h1>\n<p class="standfirst">How many nanometres/);
});

Deno.test("back and next lead over stages that are not written; the last leads to the report", () => {
  const pager = (stem: string): string =>
    /<nav class="pager"[\s\S]*?<\/nav>/.exec(pageOf(stem))?.[0] ?? "";
  assert.match(
    pager(stemOf("measure-curve")),
    /href="\d\d-grind-hollow\.html" rel="prev"[\s\S]*href="\d\d-measure-zones\.html" rel="next"/,
  );
  assert.doesNotMatch(pager(stemOf("grind-hollow")), /rel="prev"/);
  assert.match(pager(stemOf("measure-zones")), /href="report\.html" rel="next"/);
});

Deno.test("the contents menu names every stage and marks the page itself", () => {
  const menu =
    /<nav aria-label="Stages of the job">[\s\S]*?<\/nav>/.exec(pageOf(stemOf("measure-curve")))
      ?.[0] ??
      "";
  assert.equal(menu.match(/<li/g)?.length, course.length);
  assert.match(menu, /<a href="\d\d-measure-curve\.html" aria-current="page">/);
  assert.match(menu, /<li class="unwritten">Fine grinding \(not written yet\)<\/li>/);
});

Deno.test("links to notebooks become links to pages, or words where there is none", () => {
  const page = pageOf(stemOf("measure-curve"));
  assert.match(page, /<a href="\d\d-grind-hollow\.html">Rough grinding<\/a>: at least/);
  assert.doesNotMatch(page, /\.ipynb/);
});

Deno.test("the curve under the title is the mirror's own where it was measured, else the one wanted", () => {
  assert.match(
    pageOf(stemOf("measure-curve")),
    /your mirror’s curve[^.]*\. It is 150 mm across and 0\.965 mm deep\./,
  );
  assert.match(
    pageOf(stemOf("measure-curve"), lesson, "empty"),
    /the curve you are after[^.]*\. It is 150 mm across and 1\.172 mm deep\./,
  );
});

Deno.test("the page holds all it needs: no file, no address, nothing loaded", () => {
  const page = pageOf(stemOf("measure-curve"));
  assert.doesNotMatch(page, /<link|src="(?!data:)|@import|url\((?!['"]?(#|data:))/);
  assert.doesNotMatch(
    page.replaceAll("http://www.w3.org/1998/Math/MathML", "").replaceAll(
      "http://www.w3.org/2000/svg",
      "",
    ),
    /https?:\/\//,
  );
});

Deno.test("told in inches, the sign says so and what stays in millimetres", () => {
  const chapter = chapters.find((one) => one.stem === stemOf("measure-curve")) ?? assert.fail();
  const { record } = states.halfway, settings = { ...record.settings, shownIn: "inch" as const };
  const facts = { ...states.halfway, record: { ...record, settings } };
  const page = lessonPage({ body: lessonBody(lesson, "measure-curve"), chapter, chapters, facts });
  assert.match(page, /Lengths on this page are in inches, .* stay in millimetres\.<\/p>/);
  assert.doesNotMatch(pageOf(stemOf("measure-curve")), /in inches/);
});
