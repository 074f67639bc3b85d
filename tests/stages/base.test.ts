import assert from "node:assert/strict";
import { countOf, ownOrDemo, type Part, type Whose } from "../../lib/stages/base.ts";
import { demo, empty, halfway, hostile, marks } from "./mirrors.ts";

/** A kind of readings of which some mirrors have some. */
const part = (counts: ReadonlyMap<unknown, number>, seen: Whose[] = []): Part => ({
  name: "marbles",
  count: (mirror) => counts.get(mirror) ?? 0,
  show: (mirror, whose) => {
    seen.push(whose);
    return [`of ${mirror.record.name}`];
  },
  how: "Take marbles and count them.",
});

Deno.test("one is one, the others are many, zero too", () => {
  assert.equal(countOf(1), "1 reading");
  assert.equal(countOf(0), "0 readings");
  assert.equal(countOf(7, "run"), "7 runs");
});

Deno.test("the reader's own where there are any, told whose and how many", () => {
  const seen: Whose[] = [];
  const shown = ownOrDemo(part(new Map([[halfway, 1], [demo, 9]]), seen), halfway, demo);
  assert.equal(marks(shown), "y");
  assert.match(shown.text, /^Yours · Bram's mirror, .* · marbles, 1 reading\nof halfway-200-f6$/);
  assert.deepEqual(seen, ["yours"]);
});

Deno.test("without own readings: how to take them, then the demo's, drawn as the demo's", () => {
  const seen: Whose[] = [];
  const shown = ownOrDemo(part(new Map([[demo, 9]]), seen), empty, demo);
  assert.equal(marks(shown), "nd");
  assert.match(shown.text, /^Yours · marbles · nothing yet\nTake marbles and count them\./);
  assert.match(shown.text, /Demo mirror, not yours · Asha's mirror, .*\nof demo-150-f8$/);
  assert.deepEqual(seen, ["demo"]);
});

Deno.test("where the demo has none either, only how to take them", () => {
  const shown = ownOrDemo(part(new Map()), empty, demo);
  assert.equal(marks(shown), "n");
  assert.doesNotMatch(shown.text, /Demo/);
});

Deno.test("a title that means harm is text", () => {
  const { html } = ownOrDemo(part(new Map([[hostile, 2]])), hostile, demo);
  assert.match(html, /&lt;img src=x/);
  assert.doesNotMatch(html, /<img|<script/);
});
