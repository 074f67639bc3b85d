import assert from "node:assert/strict";
import { checkRoutine, chordRoutine, type Routine } from "../../../lib/shaping/grinding/routine.ts";

const usual = chordRoutine(150);
const check = (changes: Partial<Routine>): ReturnType<typeof checkRoutine> =>
  checkRoutine({ ...usual, ...changes }, 150);

Deno.test("the usual routine is even, uses 86 % of the overhang, and can only leave a trefoil", () => {
  const { isEven, faults, limitShare, overhang, upper, lower } = check({});
  assert.deepEqual([isEven, faults], [true, []]);
  // DERIVED root of 37.5^2 + 50^2 / 12, and 3 x 0.287037
  assert.equal(overhang.toFixed(2), "40.18");
  assert.equal(limitShare.toFixed(3), "0.861");
  assert.ok(upper.one < 1e-9 && upper.two < 1e-9 && lower.one < 1e-9 && lower.two < 1e-9);
  // three places only: three-cornered, wholly
  assert.equal(upper.three.toFixed(6), "1.000000");
  assert.equal(check({ carried: true }).upper.three.toFixed(6), "0.000000");
});

Deno.test("turns left out are named, with what they grow", () => {
  assert.match(
    check({ upperTurn: 0 }).faults[0] ?? "",
    /upper disc is never turned: it grows astigmatic/,
  );
  assert.match(check({ lowerTurn: 0 }).faults[0] ?? "", /lower disc is never turned/);
  assert.match(check({ upperTurn: Math.PI }).faults[0] ?? "", /only two places/);
  assert.equal(check({ upperTurn: 0, lowerTurn: 0 }).faults.length, 2);
});

Deno.test("unequal strokes by place tell, unequal strokes at random do not", () => {
  // DERIVED |20 + 20 w + 40 w^2| / 80 = 20 / 80, w a third of a turn
  assert.equal(check({ strokes: [20, 20, 40] }).upper.two.toFixed(6), "0.250000");
  assert.match(check({ strokes: [20, 20, 40] }).faults[0] ?? "", /25 % stronger along one line/);
  assert.ok(check({ strokeScatter: 0.3 }).upper.two < 0.05);
  assert.equal(check({ strokeScatter: 0.3 }).isEven, true);
});

Deno.test("hanging over too far, a stroke too long, a disc that tips", () => {
  assert.match(
    check({ offset: 45 }).faults[0] ?? "",
    /hangs over too far: 1\d\d % of what leaves a sphere/,
  );
  assert.match(check({ offset: 74, travel: 40 }).faults[0] ?? "", /tips/);
  assert.match(check({ offset: 0, travel: 151 }).faults[0] ?? "", /longer than the disc/);
});

Deno.test("places: three and eight; without end where turns never repeat", () => {
  assert.deepEqual([check({}).upperPlaces, check({}).lowerPlaces], [3, 8]);
  assert.equal(check({ turnScatter: 0.3 }).upperPlaces, undefined);
});

Deno.test("bad input", () => {
  assert.throws(() => check({ travel: -5 }), /got offset=37.5, travel=-5/);
  assert.throws(() => checkRoutine(usual, 0), /aperture above 0/);
  assert.throws(() => checkRoutine({ ...usual, strokes: 0 }, 150), /strokes above 0/);
});
