/** What an eye says: brightness between neighbours, luck, the closest pair told. */
import assert from "node:assert/strict";
import { closestTold, luckAlone, magnitudeBetween } from "../../lib/sky/byEye.ts";

Deno.test("brightness between two neighbours: ends, middle, and what is refused", () => {
  assert.equal(magnitudeBetween(3.35, 4.19, 0), 3.35);
  assert.equal(magnitudeBetween(3.35, 4.19, 10).toFixed(2), "4.19");
  assert.equal(magnitudeBetween(3.35, 4.19, 5).toFixed(2), "3.77");
  assert.throws(() => magnitudeBetween(4.2, 3.4, 5), /a fainter neighbour of greater magnitude/);
  assert.throws(() => magnitudeBetween(3.4, 4.2, 11), /0 to 10 tenths/);
});

Deno.test("luck: all of the cases are counted", () => {
  // DERIVED: 1 + 10 of 2^10; half and the middle term; certainty
  assert.equal(luckAlone(9, 10), 11 / 1024);
  assert.equal(luckAlone(5, 10), (1024 / 2 + 252 / 2) / 1024);
  assert.ok(Math.abs(luckAlone(0, 20) - 1) < 1e-12);
  assert.throws(() => luckAlone(11, 10), RangeError);
  assert.throws(() => luckAlone(1, 0), RangeError);
});

Deno.test("the closest pair told: a wider one missed ends the ladder, looks at one pair add up", () => {
  const rung = (
    gap: number,
    right: number,
    tries = 10,
  ): { gap: number; right: number; tries: number } => ({
    ...{ gap, right, tries },
  });
  const [told] = [closestTold([rung(0.8, 10), rung(2.5, 10), rung(1.2, 6)])];
  assert.equal(told?.gap, 2.5, "0.8 after a miss at 1.2 is luck or another star");
  assert.equal(told?.u?.toFixed(2), "0.65");
  assert.deepEqual(closestTold([rung(2.5, 10), rung(1, 9)]), { gap: 1 });
  assert.equal(closestTold([rung(2.5, 6)]), undefined);
  assert.equal(closestTold([]), undefined);
  assert.equal(closestTold([rung(1, 4, 5), rung(1, 5, 5)])?.gap, 1);
});
