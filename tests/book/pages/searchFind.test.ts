import assert from "node:assert/strict";
import fc from "fast-check";
import { findPlaces, type Place } from "../../../lib/book/pages/searchPage.ts";

const place = (head: string, text: string, page = "Page"): Place => ({
  to: `${head}.html`,
  page,
  head,
  text,
});
const places = [
  place("Three feet", "A spherometer stands on three balls. The bevel is out of its way."),
  place("The bevel", "Stone it wet, all round."),
  place("The Sun", "Hold a white card; naïve eyes see nothing. F80 and 1.172 mm, f/8."),
  place("sagitta s", "How deep the hollow is.", "Glossary"),
];
const heads = (typed: string): string[] =>
  findPlaces(places, typed, 10).map(({ place }) => place.head);

Deno.test("a word is found by its beginning, in any case, with or without accents; a heading comes first", () => {
  assert.deepEqual(heads("bev"), ["The bevel", "Three feet"]);
  assert.deepEqual(heads("NAIVE"), ["The Sun"]);
  assert.deepEqual(heads("evel"), [], "not in the middle of a word");
});

Deno.test("all words must be there, wherever they stand", () => {
  assert.deepEqual(heads("spherometer bevel"), ["Three feet"]);
  assert.deepEqual(heads("spherometer sun"), []);
  assert.deepEqual(heads("glossary hollow"), ["sagitta s"]);
});

Deno.test("numbers, grades and ratios are words", () => {
  for (const typed of ["F80", "f80", "1.172", "f/8"]) {
    assert.deepEqual(heads(typed), ["The Sun"], typed);
  }
});

Deno.test("the words round the first hit are told as they stand", () => {
  const [found] = findPlaces(places, "card", 10);
  assert.deepEqual([found?.before, found?.hit], ["Hold a white ", "card"]);
  assert.match(found?.after ?? "", /^; naïve eyes/);
});

Deno.test("nothing typed finds nothing, and no typing is too odd", () => {
  assert.deepEqual(findPlaces(places, "  ", 10), []);
  fc.assert(fc.property(fc.string(), (typed) => {
    const found = findPlaces(places, typed, 3);
    return found.length <= 3 && found.every(({ place }) => places.includes(place));
  }));
});

Deno.test("its source runs alone, as the page runs it", () => {
  const alone = new Function(`${findPlaces}; return findPlaces`)() as typeof findPlaces;
  assert.deepEqual(alone(places, "bevel", 10), findPlaces(places, "bevel", 10));
});
