import assert from "node:assert/strict";
import {
  across,
  dot,
  down,
  drawing,
  element,
  group,
  linesOf,
  path,
  place,
  rect,
  stroke,
  through,
  words,
} from "../../lib/figures/pen.ts";
import { assertWellFormed } from "./soundFigure.ts";

Deno.test("places are rounded to a tenth, never minus zero, never a hole", () => {
  assert.deepEqual([10.26, -0.04, 3, -7.25].map(place), ["10.3", "0", "3", "-7.2"]);
  for (const hole of [NaN, Infinity]) {
    assert.throws(() => place(hole), /place requires a finite number/);
  }
});

Deno.test("no stroke of the pen takes a hole", () => {
  const strokes = [
    () => through([[0, NaN]]),
    () => stroke("dim", [0, 0], [Infinity, 0]),
    () => rect("body", [NaN, 0], 1, 1),
    () => dot("mine", [0, 0], NaN),
    () => words([0, NaN], "x"),
    () => across(0, NaN, 1),
    () => down(NaN, 0, 1),
    () => drawing({ width: NaN, height: 1, finding: "x", contents: [] }),
  ];
  strokes.forEach((draw) => assert.throws(draw, RangeError));
});

Deno.test("a rectangle is never narrower than nothing", () => {
  assert.match(rect("body", [5, 5], -3, 4).markup, /width="0" height="4"/);
});

Deno.test("a path through points, open or closed; none gives none", () => {
  assert.equal(through([[0, 0], [1.25, 2]], true), "M0,0L1.3,2Z");
  assert.equal(through([]), "");
});

Deno.test("words always have their anchor, and are escaped", () => {
  assert.equal(
    words([1, 2], "a < b").markup,
    '<text x="1" y="2" text-anchor="start">a &lt; b</text>',
  );
  assert.match(
    words([1, 2], "b", { anchor: "end", kind: "soft" }).markup,
    /text-anchor="end" class="soft"/,
  );
});

Deno.test("attributes are escaped, those undefined left out", () => {
  assert.equal(
    element("path", { class: 'a"b', style: undefined, d: "M0,0" }).markup,
    '<path class="a&quot;b" d="M0,0"></path>',
  );
});

Deno.test("dimension lines end in bars", () => {
  assert.match(across(10, 110, 50).markup, /M10,45V55M110,45V55M10,50H110/);
  assert.match(down(10, 20, 80).markup, /M5,20H15M10,20V80M5,80H15/);
});

Deno.test("a drawing tells its finding and is well formed", () => {
  const svg = drawing({
    width: 100,
    height: 50,
    finding: 'It is "deep" & wide',
    contents: group(path("dim", "M0,0"), false, undefined, [dot("mine", [1, 1], 2)]),
  });
  assertWellFormed(svg.markup);
  assert.match(svg.markup, /aria-label="It is &quot;deep&quot; &amp; wide"/);
  assert.throws(
    () => drawing({ width: 1, height: 1, finding: " ", contents: [] }),
    /requires a finding/,
  );
});

Deno.test("a long name is broken at its spaces", () => {
  assert.deepEqual(linesOf("one two three", 60), ["one two", "three"]);
  assert.deepEqual(linesOf("unbreakable", 10), ["unbreakable"]);
});
