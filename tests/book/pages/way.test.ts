import assert from "node:assert/strict";
import { chaptersOf } from "../../../lib/book/pages/chapters.ts";
import { mirrorsWay } from "../../../lib/book/pages/way.ts";
import { states } from "../sampleBook.ts";
import { course, findStage } from "../../../lib/lessons/course.ts";
import { stemOf } from "../../stems.ts";

const chapters = chaptersOf([
  stemOf("grind-hollow"),
  stemOf("measure-curve"),
  stemOf("coat-mirror"),
]);

function way(state: keyof typeof states, stem: string): string {
  const page = chapters.find((chapter) => chapter.stem === stem);
  assert.ok(page !== undefined);
  return mirrorsWay(states[state], page, chapters).markup;
}

/** All but the class, which is the leader's. */
const ofOne = course.length - 1;

/** Nor do the folder and the plan count as work: nobody has done two stages on the first day. */
const ofWork = ofOne - 2;

Deno.test("how far the mirror is, where it is now, and how this page lies to that", () => {
  assert.match(
    way("halfway", stemOf("measure-curve")),
    new RegExp(
      `<p>3 of ${ofWork} stages done\\. Now: ` +
        '<a href="\\d\\d-grind-hollow\\.html">Rough grinding</a>\\. This page lies behind it',
    ),
  );
  assert.match(
    way("halfway", stemOf("grind-hollow")),
    /Now: Rough grinding\. This is the page for it\./,
  );
  assert.match(way("halfway", stemOf("coat-mirror")), /This page lies ahead\./);
  assert.match(
    way("halfway", stemOf("measure-curve")),
    /<b>Next step:<\/b> <span data-told="do">Grind 9\sminutes more/,
  );
});

Deno.test("what lies before the next stage is done, also where no table tells of it", () => {
  const finished = way("finished", stemOf("measure-curve"));
  const behind = course.filter(({ number }) => number < (findStage("coat-mirror")?.number ?? 0));
  assert.ok(finished.includes(`<p>${behind.length - 2} of ${ofWork} stages done`), finished);
  assert.match(finished, /<li class="done"><span><span>The pitch lap<\/span>/);
  assert.match(finished, /<li class="here"><span><a href="\d\d-coat-mirror\.html">/);
});

Deno.test("on the first day nothing is done yet", () => {
  assert.match(
    way("empty", stemOf("measure-curve")),
    new RegExp(`<p>Planned, and nothing done yet: ${ofWork} stages lie ahead\\. Now: `),
  );
});

Deno.test("the leader's page about a class is no stage of one mirror, and a maker's title stays text", () => {
  assert.doesNotMatch(way("finished", stemOf("measure-curve")), /class at a glance|<img/i);
  assert.equal(way("empty", stemOf("grind-hollow")).match(/<li /g)?.length, ofOne);
});

Deno.test("the banner says what to mind before the next step", () => {
  for (const state of ["halfway", "finished", "empty"] as const) {
    const banner = way(state, stemOf("measure-curve")).replace(/\s/g, " ");
    const mind = banner.indexOf("<b>Mind first:</b>"), step = banner.indexOf("<b>Next step:</b>");
    assert.ok(mind > 0 && mind < step, state);
    assert.ok(
      banner.slice(mind, step).includes(states[state].summary.nextStep.caution.slice(0, 20)),
    );
  }
});

Deno.test("a page without forms for readings tells the next step here, in the words of check", () => {
  const without = way("halfway", stemOf("choose-mirror"));
  const step = states.halfway.summary.nextStep.do;
  assert.ok(without.includes(`data-next-step>${step.slice(0, 20)}`), without.slice(0, 600));
  assert.doesNotMatch(way("halfway", stemOf("measure-curve")), /data-next-step/);
});
