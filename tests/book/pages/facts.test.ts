import assert from "node:assert/strict";
import { counted, dayOf, depthNow, plainNumber, told } from "../../../lib/book/pages/facts.ts";
import { states } from "../sampleBook.ts";

Deno.test("a quantity is told by its uncertainty, or to four digits without one", () => {
  assert.equal(
    told({ value: 2396.47, unit: "mm", u: 3.3 }).markup,
    '<span class="q">2396 <i>± 3</i>\u2009mm</span>',
  );
  assert.equal(told({ value: 1.17221, unit: "mm" }).markup, '<span class="q">1.172\u2009mm</span>');
  assert.equal(told({ value: 8, unit: "" }).markup, '<span class="q">8</span>');
  assert.equal(told({ value: 5, unit: "mm", u: 0 }).markup, '<span class="q">5\u2009mm</span>');
});

Deno.test("a unit that somebody wrote is escaped", () => {
  assert.doesNotMatch(told({ value: 1, unit: "<b>" }).markup, /<b>/);
  assert.doesNotMatch(told({ value: 1, unit: "<b>", u: 0.1 }).markup, /<b>/);
});

Deno.test("plain numbers keep their whole part and have a true minus", () => {
  // DERIVED: the same number, rounded to the digits asked for
  assert.deepEqual([12345.6, 286.04, -0.5, 0, 68.75].map((x) => plainNumber(x)), [
    "12346",
    "286",
    "−0.5",
    "0",
    "68.75",
  ]);
  assert.equal(plainNumber(68.75, 2), "69");
});

Deno.test("the sign is drawn with the measured depth where there is one", () => {
  // DERIVED: 1200 x 2 - sqrt(2400^2 - 75^2) = 1.1722 mm, the plan's sagitta
  assert.deepEqual(depthNow(states.empty.summary), { depth: 1.1722, measured: false });
  assert.deepEqual(depthNow(states.halfway.summary), { depth: 0.965, measured: true });
});

Deno.test("days and counts in words", () => {
  assert.equal(dayOf(new Date(2026, 10, 25)), "25 November 2026");
  assert.deepEqual([counted(1, "reading"), counted(0, "reading"), counted(2, "way", "ways")], [
    "1 reading",
    "0 readings",
    "2 ways",
  ]);
});
