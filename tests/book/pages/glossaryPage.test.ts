import assert from "node:assert/strict";
import { chaptersOf } from "../../../lib/book/pages/chapters.ts";
import { explained, glossaryPage, wordsOfPage } from "../../../lib/book/pages/glossaryPage.ts";
import { textOf } from "../../../lib/book/pages/textOf.ts";
import { glossary, termId } from "../../../lib/lessons/glossary.ts";
import { stemOf } from "../../stems.ts";

Deno.test("every word stands there once, with its place, its meaning and the pages that explain it", () => {
  const chapters = chaptersOf([stemOf("prepare-discs"), stemOf("measure-curve")]);
  const page = glossaryPage(chapters, new Map([[stemOf("prepare-discs"), new Set(["bevel"])]]));
  for (const { term } of glossary) {
    assert.equal(page.split(`<div id="${termId(term)}">`).length, 2, term);
  }
  const bevel = /<div id="word-bevel">[\s\S]*?<\/div>/.exec(page)?.[0] ?? "";
  assert.match(bevel, /In: <a href="\d\d-prepare-discs\.html">Discs and abrasives<\/a><\/span>/);
  assert.doesNotMatch(bevel, /04-measure/);
});

const dotted = (html: string): string[] =>
  [...html.matchAll(/<button type="button" class="term"[^>]*>(.*?)<\/button>/g)].map((m) =>
    m[1] ?? ""
  );

Deno.test("the first use on a page is dotted and carries its meaning, later ones are left alone", () => {
  const seen = new Set<string>();
  const html = explained("<p>A Bevel, two bevels.</p>", seen) +
    explained("<p>The bevel.</p>", seen);
  assert.deepEqual(dotted(html), ["Bevel"]);
  assert.match(
    html,
    /popovertarget="word-bevel".*<span class="meaning" id="word-bevel" popover><b>bevel<\/b> The narrow/,
  );
  assert.equal(
    textOf(html.replace(/<span class="meaning"[\s\S]*?<\/span>/g, "")),
    "A Bevel, two bevels.The bevel.",
  );
});

Deno.test("headings, links, code, formulas, drawings and bold words are left alone", () => {
  for (
    const tag of ["h2", "a", "code", "math", "svg", "strong", "summary", "dt", "pre", "button"]
  ) {
    const html = `<${tag}>the bevel</${tag}>`;
    assert.equal(explained(html, new Set()), html);
  }
  assert.deepEqual(dotted(explained("<h2>Bevel</h2><p>x <b>bevel</b></p>", new Set())), ["bevel"]);
});

Deno.test("the longest word wins, and a word inside another is none", () => {
  assert.deepEqual(dotted(explained("<p>A chord stroke.</p>", new Set(), "grind-hollow")), [
    "chord stroke",
  ]);
  assert.deepEqual(dotted(explained("<p>wavefronts, microwave, strokes-of-luck</p>", new Set())), [
    "wavefronts",
  ]);
});

Deno.test("an everyday word is explained only in the notebooks where it is a word of the trade", () => {
  assert.deepEqual(dotted(explained("<p>pitch</p>", new Set(), "pour-lap")), ["pitch"]);
  assert.deepEqual(dotted(explained("<p>pitch of a screw</p>", new Set(), "align-mirrors")), []);
});

Deno.test("markup in attributes is never touched, and the text is the same before and after", () => {
  const html = '<p title="bevel">x</p><img alt="the bevel and the lap">';
  assert.equal(explained(html, new Set()), html);
});

Deno.test("the page's own words are listed for paper, by the alphabet; a page without any has no list", () => {
  const list = wordsOfPage(new Set(["zone", "bevel"])).markup;
  assert.deepEqual([...list.matchAll(/<dt>(.*?)<\/dt>/g)].map((m) => m[1]), ["bevel", "zone"]);
  assert.equal(wordsOfPage(new Set()).markup, "");
});
