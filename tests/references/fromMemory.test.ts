/** What is left from memory is marked where a reader sees it, and what is common practice moves results by so much and no more. */
import assert from "node:assert/strict";
import { stemOf } from "../stems.ts";
import { doublesFor } from "../../lib/stages/sky.ts";
import { actsOfStar } from "../../lib/stages/star.ts";
import { demo } from "../stages/mirrors.ts";
import { moved, printedFromMemory, saidFromMemory } from "./fromMemory.ts";

Deno.test("nothing is from memory but what is said of double stars, and their table says so to the reader", () => {
  const left = [...saidFromMemory()].filter(([path]) => path !== "data/tables/double_stars.csv");
  // the other files speak of the mark: what it means, who wants it, and its words
  assert.deepEqual([...new Set(left.map(([path]) => path))], [
    "lib/knowledge/observed.ts",
    "lib/record/rows.ts",
    "lib/record/tables.ts",
    "lib/stages/sky.ts",
  ]);
});

Deno.test("no page prints a number from memory without saying so to its reader", () => {
  const printed = printedFromMemory();
  assert.ok(printed.length > 0, "the search finds the double stars where they are printed");
  assert.deepEqual(printed.filter(({ isMarked }) => !isMarked), []);
  // a row that the pages print and that no mark stands by is found: a planet's, were it from memory
  const planets = [{ name: "Saturn", numbers: ["0", "1", "2"] }];
  assert.ok(printedFromMemory(planets).some(({ isMarked }) => !isMarked));
});

Deno.test("the mark stands in the page's own words, not only in a screen reader's", () => {
  const { html } = doublesFor(demo);
  assert.match(html.replace(/<[^>]*>/g, ""), /Written from memory, not looked up: the magnitudes of 15 of these 24 pairs, good to 0\.3, and how far apart 13 of them are/);
});

Deno.test("what nobody measured or read is marked where a reader meets it", () => {
  const page = (name: string): string => Deno.readTextFileSync(new URL(`../../notebooks/${stemOf(name)}.ipynb`, import.meta.url));
  assert.match(actsOfStar().text, /Minutes are common practice, not measured/);
  assert.match(page("read-star"), /How likely an act shows what with which cause is common practice, not measured/);
  assert.match(page("smooth-surface"), /rule of thumb, a quarter to a third of the grain, and of a fine grade the grain itself is sure to a sixth only/);
  assert.match(page("smooth-surface"), /The minutes rest on a rate that is assumed/);
});

Deno.test("what common practice leaves open: every result at both ends, none without a bound", () => {
  const all = moved();
  assert.ok(all.length > 20);
  for (const { what, ends: [low, high] } of all) {
    assert.ok(Number.isFinite(low) && Number.isFinite(high) && high >= low, what);
  }
  // measured: a third for hours of polishing and for a bearing, which their own ranges say; a tenth at most for the rest
  const wide = all.filter(({ ends: [low, high] }) => high - low > 0.25 * (low + high))
    .map(({ what }) => what);
  assert.deepEqual(wide.filter((what) => !/grain of/.test(what)), [
    "Preston's coefficient, 1/Pa",
    "friction of the pads",
    "the Moon's rim, km",
  ]);
});
