import assert from "node:assert/strict";
import fc from "fast-check";
import {
  centreRoutine,
  chordRoutine,
  minutesOf,
  playRoutine,
  type Routine,
  strokesAt,
  turning,
} from "../../../lib/shaping/grinding/routine.ts";
import { thirds } from "../tenRoutines.ts";

const usual = chordRoutine(150);

Deno.test("the usual routine: eight strokes, then both turns of the one rule", () => {
  const sets = playRoutine(usual, 60);
  assert.equal(sets.reduce((sum, { strokes }) => sum + strokes, 0), 480);
  const turned = sets.reduce((sum, { upperTurn }) => sum + upperTurn, 0);
  assert.ok(Math.abs(turned - 60 * turning.upper) < 1e-12);
  assert.ok(sets.every(({ lowerTurn }) => lowerTurn === turning.lower));
  // DERIVED 480 strokes at 40 a minute
  assert.equal(minutesOf(480, usual), 12);
});

Deno.test("rough and fine differ only in the offset", () => {
  assert.deepEqual({ ...chordRoutine(200), offset: 0 }, centreRoutine(200));
  assert.equal(chordRoutine(200).offset, 50);
});

Deno.test("strokes by place of the upper disc, factors by place of the lower", () => {
  const routine: Routine = {
    ...thirds,
    strokes: [20, 20, 30],
    lowerFactors: [2, 1, 1, 1, 1, 1, 1, 1],
  };
  assert.deepEqual([0, 1, 2, 3, 4, 5].map((i) => strokesAt(routine, i)), [40, 40, 60, 20, 20, 30]);
  assert.equal(strokesAt(routine, 24), 40);
});

Deno.test("carried round with the lower disc, the upper one makes both turns", () => {
  const [, , third] = playRoutine({ ...thirds, carried: true }, 3);
  assert.ok(Math.abs((third?.upperTurn ?? 0) - (2 * Math.PI / 3 + Math.PI / 4)) < 1e-12);
});

Deno.test("slips: the same seed, the same work; another seed, another", () => {
  const sloppy: Routine = { ...usual, strokeScatter: 0.3, turnScatter: 0.2, missedTurns: 0.2 };
  assert.deepEqual(playRoutine(sloppy, 50, 4), playRoutine(sloppy, 50, 4));
  assert.notDeepEqual(playRoutine(sloppy, 50, 4), playRoutine(sloppy, 50, 5));
});

Deno.test("law: scattered strokes stay within their share, missed turns come as often as told", () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 0.9, noNaN: true }), fc.nat(), (share, seed) => {
      const sets = playRoutine({ ...usual, strokeScatter: share }, 30, seed);
      assert.ok(sets.every(({ strokes }) => Math.abs(strokes - 8) <= 8 * share + 1e-9));
    }),
  );
  const sets = playRoutine({ ...usual, missedTurns: 0.25 }, 4000, 9);
  const missed = sets.filter(({ upperTurn }) => upperTurn === 0).length / 4000;
  // five standard deviations of a share of 0.25 among 4000
  assert.ok(Math.abs(missed - 0.25) < 5 * Math.sqrt(0.25 * 0.75 / 4000), `${missed}`);
});

Deno.test("bad input: what no hand can do is refused with what stood there", () => {
  const refuse = (changes: Partial<Routine>, words: RegExp): void =>
    assert.throws(() => playRoutine({ ...usual, ...changes }, 1), words);
  refuse({ offset: -1 }, /offset of 0 or more in mm, got -1/);
  refuse({ travel: 0 }, /travel above 0 in mm, got 0/);
  refuse({ strokes: [] }, /strokes above 0/);
  refuse({ strokes: [20, -20, 20] }, /strokes above 0, got 20,-20,20/);
  refuse({ setsPerTurn: 1.5 }, /setsPerTurn of 1 or more, got 1.5/);
  refuse({ upperTurn: NaN }, /finite turns/);
  refuse({ missedTurns: 2 }, /missedTurns from 0 to 1, got 2/);
  refuse({ strokeScatter: 1 }, /strokeScatter from 0 to below 1/);
  refuse({ turnScatter: -1 }, /turnScatter of 0 or more/);
  refuse({ strokesPerMinute: 0 }, /strokesPerMinute above 0/);
  refuse({ lowerFactors: [] }, /factors/);
  assert.throws(() => playRoutine(usual, 2.5), /whole number of sets, got sets=2.5/);
  assert.throws(() => chordRoutine(0), /aperture above 0 mm, got aperture=0/);
});
