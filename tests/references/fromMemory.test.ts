/** What is left from memory is marked where a reader sees it, and what is common practice moves results by so much and no more. */
import assert from "node:assert/strict";
import { stemOf } from "../stems.ts";
import { actsOfStar } from "../../lib/stages/star.ts";
import { moved, saidFromMemory } from "./fromMemory.ts";

Deno.test("nothing is from memory but what is said of double stars, and their table says so to the reader", () => {
  const left = [...saidFromMemory()].filter(([path]) => path !== "data/tables/double_stars.csv");
  assert.deepEqual(left.map(([path, , line]) => [path, line]), [
    ["lib/record/tables.ts", "/** A row of double_stars.csv; what of it is from memory its last column says. */"],
    ["lib/stages/sky.ts", '"Double stars (from memory)",'],
  ]);
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
