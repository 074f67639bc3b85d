import assert from "node:assert/strict";
import { chaptersOf } from "../../../lib/book/pages/chapters.ts";
import { glossaryPage } from "../../../lib/book/pages/glossaryPage.ts";
import { glossary, termId } from "../../../lib/lessons/glossary.ts";

Deno.test("every word stands there once, with its place, its meaning and the pages that explain it", () => {
  const chapters = chaptersOf(["02-prepare-discs", "04-measure-curve"]);
  const page = glossaryPage(chapters, new Map([["02-prepare-discs", new Set(["bevel"])]]));
  for (const { term } of glossary) {
    assert.equal(page.split(`<div id="${termId(term)}">`).length, 2, term);
  }
  const bevel = /<div id="word-bevel">[\s\S]*?<\/div>/.exec(page)?.[0] ?? "";
  assert.match(bevel, /In: <a href="02-prepare-discs\.html">Discs and abrasives<\/a><\/span>/);
  assert.doesNotMatch(bevel, /04-measure/);
});
