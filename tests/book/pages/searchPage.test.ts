import assert from "node:assert/strict";
import { lessonBody } from "../../../lib/book/pages/lessonBody.ts";
import { glossaryPlaces, placesOf, placesOfPage } from "../../../lib/book/pages/searchPage.ts";
import { glossary } from "../../../lib/lessons/glossary.ts";
import { lesson } from "../sampleBook.ts";
import { stemOf } from "../../stems.ts";

const places = placesOf(lessonBody(lesson, "measure-curve"), {
  file: `${stemOf("measure-curve")}.html`,
  title: "Measuring",
});

Deno.test("each section of a page is a place, with its heading and its words", () => {
  assert.deepEqual(places.map(({ head }) => head), [
    "Measuring",
    "What a straight-edge sees",
    "From depth to radius",
    "Your readings",
    "Decide: go on",
  ]);
  assert.match(
    places[1]?.text ?? "",
    /^Lay a straight-edge across .* That depth is the sagitta\.$/,
  );
  assert.ok(places.every(({ to }) => /^\d\d-measure-curve\.html(#[\w-]+)?$/.test(to)));
});

Deno.test("no markup, no meaning twice, no code and nothing that is folded away", () => {
  const all = places.map(({ text }) => text).join(" ");
  assert.doesNotMatch(
    all,
    /<(div|span|p|button)|popover|import \{|The chord is what the straight-edge rests on/,
  );
  assert.match(all, /<6>/, "what was escaped reads as it was written");
});

Deno.test("every word of the glossary is a place of its own", () => {
  assert.equal(glossaryPlaces().length, glossary.length);
  assert.equal(new Set(glossaryPlaces().map(({ to }) => to)).size, glossary.length);
});

Deno.test("a page that is no lesson is found by its main part; one that is not there gives nothing", () => {
  const page =
    '<header><p>Bar</p></header><main id="text"><p>Masks.</p></main><footer>Foot</footer>';
  assert.deepEqual(placesOfPage(page, "print.html", "To print"), [
    { to: "print.html", page: "To print", head: "To print", text: "Masks." },
  ]);
  assert.deepEqual(placesOfPage(undefined, "class.html", "The class"), []);
});
