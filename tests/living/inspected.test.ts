/** Plain values in words, as the kernel says them. */
import assert from "node:assert/strict";
import { inspected } from "../../lib/living/inspected.ts";

class Disc {
  constructor(readonly mm: number) {}
}

/** Values that a cell may end in. */
const values: readonly unknown[] = [
  1.171875,
  -0,
  NaN,
  12n,
  "deep",
  'say "so"',
  `it's "so"`,
  "two\nlines",
  true,
  null,
  undefined,
  [],
  [1, "two", [3]],
  {},
  { depth: 1.17, "in mm": true, nested: { a: [1, 2] } },
  new Disc(150),
  [new Disc(150), new Disc(200)],
  new Map([["a", 1]]),
  new Set([1, 2]),
  Float64Array.of(1, 2.5),
  /a+/g,
  (x: number) => x,
  Disc,
  Array.from(
    { length: 3 },
    (_, i) => ({ reading: i, note: "a text of some length", mm: 1.17 * i }),
  ),
];
for (const value of values) {
  Deno.test(`inspected: ${Deno.inspect(value).slice(0, 50).replaceAll("\n", " ")}`, () => {
    assert.equal(inspected(value), Deno.inspect(value));
  });
}

Deno.test("inspected: what holds itself ends, long lists are cut, deep things are named", () => {
  const round: Record<string, unknown> = {};
  round["self"] = round;
  assert.equal(inspected(round), "{ self: [Circular] }");
  assert.match(inspected(new Array(500).fill(7)), /\.\.\. 400 more items/);
  assert.match(inspected({ a: { b: { c: { d: { e: { f: 1 } } } } } }), /\[Object\]/);
});
