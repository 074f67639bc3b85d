import assert from "node:assert/strict";
import { SURE_ENOUGH, verdictOf } from "../../../lib/testing/zones/zoneFigure.ts";

Deno.test("the course's rule at its borders", () => {
  // COMMON PRACTICE: yes from 0.95, no up to 0.05
  const cases = {
    "0": "no",
    "0.05": "no",
    "0.051": "not shown",
    "0.5": "not shown",
    "0.949": "not shown",
    "0.95": "yes",
    "1": "yes",
  };
  for (const [p, verdict] of Object.entries(cases)) assert.equal(verdictOf(Number(p)), verdict, p);
  assert.equal(SURE_ENOUGH, 0.95);
});

Deno.test("a leader may ask for more or less", () => {
  assert.equal(verdictOf(0.97, 0.99), "not shown");
  assert.equal(verdictOf(0.2, 0.8), "no");
  for (const bad of [-0.1, 1.1, NaN]) assert.throws(() => verdictOf(bad), RangeError);
  assert.throws(() => verdictOf(0.5, 0.5), RangeError);
});
