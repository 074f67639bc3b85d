/** Seats and knives in words. */
import assert from "node:assert/strict";
import { seatsSaid } from "../../lib/knowledge/seatWords.ts";

Deno.test("one sentence for each seat, the knives of a seat together", () => {
  const said = seatsSaid([
    { angleDeg: 0, knifeDeg: 0, runs: 1 },
    { angleDeg: 90, knifeDeg: 0, runs: 2 },
    { angleDeg: 90, knifeDeg: 90, runs: 3 },
    { angleDeg: 0, knifeDeg: 30, runs: 2 },
  ]);
  assert.equal(
    said,
    "With the mirror's mark at the top: 1 run with the knife upright, then 2 runs with knife and slit turned to 30 degrees. " +
      "With the mirror turned in its stand until the mark stands at 90 degrees, counter-clockwise from the top as you " +
      "see it: 2 runs with the knife upright, then 3 runs with knife and slit on their side.",
  );
});
