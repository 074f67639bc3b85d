import assert from "node:assert/strict";
import { checkRoutine, chordRoutine, type Routine } from "../../../lib/shaping/grinding/routine.ts";
import { thirds } from "../tenRoutines.ts";

const usual = chordRoutine(150);
const check = (changes: Partial<Routine>): ReturnType<typeof checkRoutine> =>
  checkRoutine({ ...usual, ...changes }, 150);

Deno.test("the usual routine is even, and uses 86 % of the overhang", () => {
  const { isEven, faults, limitShare, overhang, upper, lower } = check({});
  assert.deepEqual([isEven, faults], [true, []]);
  // DERIVED root of 37.5^2 + 50^2 / 12, and 3 x 0.287037
  assert.equal(overhang.toFixed(2), "40.18");
  assert.equal(limitShare.toFixed(3), "0.861");
  for (const { one, two, three } of [upper, lower]) assert.ok(Math.max(one, two, three) < 1e-9);
});

Deno.test("thirds of a turn: three places only, and three-cornered wholly", () => {
  const { isEven, faults, upper } = checkRoutine(thirds, 150);
  assert.ok(Math.abs(upper.three - 1) < 1e-9);
  assert.equal(isEven, false);
  assert.deepEqual(faults, ["the upper disc has only three places: it grows three-cornered"]);
  assert.equal(checkRoutine({ ...thirds, carried: true }, 150).upper.three.toFixed(6), "0.000000");
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
  const habit = { ...thirds, strokes: [20, 20, 40], carried: false };
  assert.equal(checkRoutine(habit, 150).upper.two.toFixed(6), "0.250000");
  // DERIVED |8 + 8 + ... + 8 at one place of twelve| / 104 = 8 / 104
  const oneOfTwelve = [16, ...Array.from({ length: 11 }, () => 8)];
  assert.equal(check({ strokes: oneOfTwelve }).upper.two.toFixed(6), (8 / 104).toFixed(6));
  assert.match(check({ strokes: oneOfTwelve }).faults[0] ?? "", /8 % stronger along one line/);
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

Deno.test("places: twelve and thirty-six; without end where turns never repeat", () => {
  assert.deepEqual([check({}).upperPlaces, check({}).lowerPlaces], [12, 36]);
  assert.equal(check({ turnScatter: 0.3 }).upperPlaces, undefined);
});

Deno.test("bad input", () => {
  assert.throws(() => check({ travel: -5 }), /got offset=37.5, travel=-5/);
  assert.throws(() => checkRoutine(usual, 0), /aperture above 0/);
  assert.throws(() => checkRoutine({ ...usual, strokes: 0 }, 150), /strokes above 0/);
});
