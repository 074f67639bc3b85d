import assert from "node:assert/strict";
import { course } from "../../../lib/lessons/course.ts";
import { stemOf } from "../../stems.ts";
import { chaptersOf } from "../../../lib/book/pages/chapters.ts";
import { contentsPage } from "../../../lib/book/pages/contentsPage.ts";
import { states } from "../sampleBook.ts";

const chapters = chaptersOf([stemOf("grind-hollow"), stemOf("measure-curve")]);

/** The list item of a stage. */
function item(page: string, number: number): string {
  return new RegExp(`<li id="s${number}"[\\s\\S]*?</li>`).exec(page)?.[0] ?? "";
}

Deno.test("all stages stand in course order, each with its drawing; only written ones are links", () => {
  const page = contentsPage(states.halfway, chapters);
  const items = course.map(({ number }) => item(page, number));
  for (const [i, html] of items.entries()) {
    assert.match(html, /<svg viewBox="0 0 84 34" aria-hidden="true">./, String(i + 1));
    assert.equal(html.includes("<a "), [3, 4].includes(i), String(i + 1));
    assert.equal(html.includes("Not written yet."), ![3, 4].includes(i));
  }
  const places = course.map(({ title }) => page.indexOf(`>${title}<`));
  assert.deepEqual(places, places.toSorted((a, b) => a - b));
});

Deno.test("the maker's place, what lies behind and what lies ahead are told in words too", () => {
  const page = contentsPage(states.halfway, chapters);
  assert.match(
    item(page, 3),
    /class="here".*aria-current="step".*\(you are here\).*You are here: 120 min so far/s,
  );
  assert.match(item(page, 4), /class="done".*\(done\).*from 7 readings by 1 method/s);
  assert.match(item(page, 11), /class="ahead".*\(ahead\)/s);
});

Deno.test("the front says what to do, and leads to the page that says why", () => {
  const page = contentsPage(states.halfway, chapters);
  assert.match(
    page,
    /<h2 id="mirror-title"><span data-told="do">Grind 9\sminutes more, mirror on top, then measure again\.<\/span><\/h2>/,
  );
  assert.match(page, /<a href="\d\d-grind-hollow\.html">Why, and how sure<\/a>/);
  assert.match(page, /Yours stands at 0\.965, 95 percent interval 0\.941 to 0\.989/);
  assert.match(
    contentsPage(states.halfway, chaptersOf([])),
    /<a href="report\.html">Why, and how sure/,
  );
});

Deno.test("facts that are not known are left out, never nought", () => {
  const facts = (name: keyof typeof states): string[] =>
    [...contentsPage(states[name], chapters).matchAll(/<dt>(.*?)<\/dt>/g)].map(([, name]) =>
      name ?? ""
    );
  assert.deepEqual(facts("empty"), ["Aperture", "Wanted focal length", "Glass"]);
  assert.deepEqual(facts("halfway"), [
    "Aperture",
    "Wanted focal length",
    "Focal length",
    "Sagitta now",
    "Still to grind",
  ]);
  assert.deepEqual(facts("finished"), [
    "Aperture",
    "Wanted focal length",
    "Focal length",
    "Wavefront, P-V",
    "Goal met",
  ]);
  const { record } = states.empty;
  assert.match(contentsPage(states.empty, chapters), /<dt>Glass<\/dt><dd>soda-lime<\/dd>/);
  const assumed = { ...states.empty, record: { ...record, defaults: ["glass: soda-lime"] } };
  assert.match(contentsPage(assumed, chapters), /<dd>soda-lime \(assumed\)<\/dd>/);
  for (const name of ["empty", "halfway", "finished"] as const) {
    assert.doesNotMatch(contentsPage(states[name], chapters), /undefined|NaN|\[object/);
  }
});

Deno.test("a title that is markup stays text", () => {
  assert.doesNotMatch(contentsPage(states.finished, chapters), /<img/);
});

Deno.test("the front says what to mind before it says what to do", () => {
  for (const facts of Object.values(states)) {
    const page = contentsPage(facts, chapters).replace(/\s/g, " ");
    const mind = page.indexOf("<b>Mind first:</b>"), step = page.indexOf('<h2 id="mirror-title">');
    assert.ok(mind > 0 && mind < step, `${mind}, ${step}`);
    assert.ok(page.slice(mind, step).includes(facts.summary.nextStep.caution.slice(0, 20)));
  }
});

Deno.test("the leader's front says how to have the library, the learner's does not", () => {
  assert.match(contentsPage(states.finished, chapters), /<code>deno task package<\/code>/);
  const learner = { ...states.finished, edition: "learner" } as const;
  assert.doesNotMatch(contentsPage(learner, chapters), /task package/);
});
