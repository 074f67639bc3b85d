import assert from "node:assert/strict";
import fc from "fast-check";
import { testerQueue } from "../../lib/knowledge/testerQueue.ts";
import { random } from "../../lib/numeric/random.ts";

Deno.test("nobody waits alone, or where each has a tester", () => {
  const alone = testerQueue({ mirrors: 1, testers: 1, testMin: 30, awayMin: 90 });
  // DERIVED: one mirror is tested 30 min of every 120
  assert.deepEqual([alone.waiting, alone.waitMin, alone.inUse], [0, 0, 0.25]);
  assert.equal(testerQueue({ mirrors: 4, testers: 4, testMin: 30, awayMin: 90 }).waiting, 0);
  assert.equal(testerQueue({ mirrors: 0, testers: 1, testMin: 30, awayMin: 90 }).waitMin, 0);
});

Deno.test("two mirrors and one tester, by hand", () => {
  // DERIVED: r = 30/90 = 1/3; p ~ 1, 2r, 2r²: 1, 2/3, 2/9, together 17/9; waiting p2 = 2/17; a wait p2 / (tests a minute),
  // where the tester is in use 8/17 of the time: (2/17) / (8/17 / 30) = 7.5 min
  const { waiting, waitMin, inUse } = testerQueue({
    ...{ mirrors: 2, testers: 1, testMin: 30, awayMin: 90 },
  });
  assert.ok(Math.abs(waiting - 2 / 17) < 1e-12);
  assert.ok(Math.abs(inUse - 8 / 17) < 1e-12);
  assert.ok(Math.abs(waitMin - 7.5) < 1e-9);
});

Deno.test("more testers, quicker tests, fewer mirrors: never more waiting", () => {
  const room = fc.record({
    mirrors: fc.integer({ min: 1, max: 30 }),
    testers: fc.integer({ min: 1, max: 6 }),
    testMin: fc.double({ min: 1, max: 120, noNaN: true }),
    awayMin: fc.double({ min: 1, max: 500, noNaN: true }),
  });
  fc.assert(fc.property(room, (room) => {
    const { waiting, inUse, waitMin, testsAnHour } = testerQueue(room);
    const least = (other: typeof room): void =>
      assert.ok(testerQueue(other).waiting <= waiting + 1e-9);
    least({ ...room, testers: room.testers + 1 });
    least({ ...room, testMin: room.testMin / 2 });
    least({ ...room, mirrors: room.mirrors - 1 });
    // DERIVED: everybody is away, waiting or tested (Little's law over the whole round)
    const round = waitMin + room.testMin + room.awayMin;
    assert.ok(Math.abs(testsAnHour / 60 * round - room.mirrors) < 1e-6 * room.mirrors);
    assert.ok(inUse >= 0 && inUse <= 1 + 1e-12);
  }));
});

Deno.test("the formula against a room played out minute by minute", () => {
  const room = { mirrors: 6, testers: 1, testMin: 30, awayMin: 90 };
  const wanted = testerQueue(room), seen = played(room, 20000);
  // DERIVED from the events below, one after another, without the formula; 20 000 tests scatter by about 1.5 %
  assert.ok(Math.abs(seen / wanted.waitMin - 1) < 0.06, `${seen}, ${wanted.waitMin}`);
});

/** Mean wait before a test, min, of mirrors that come and go. */
function played(
  { mirrors, testMin, awayMin }: { mirrors: number; testMin: number; awayMin: number },
  tests: number,
): number {
  const draw = random(8), chance = (mean: number): number => -mean * Math.log(1 - draw.uniform());
  const comes = Array.from({ length: mirrors }, () => chance(awayMin));
  let free = 0, waited = 0;
  for (let i = 0; i < tests; i++) {
    const who = comes.indexOf(Math.min(...comes)), came = comes[who] ?? 0;
    const begins = Math.max(free, came);
    waited += begins - came;
    free = begins + chance(testMin);
    comes[who] = free + chance(awayMin);
  }
  return waited / tests;
}

Deno.test("what is no room is refused", () => {
  assert.throws(
    () => testerQueue({ mirrors: 2.5, testers: 1, testMin: 1, awayMin: 1 }),
    RangeError,
  );
  assert.throws(() => testerQueue({ mirrors: 2, testers: 0, testMin: 1, awayMin: 1 }), RangeError);
  assert.throws(() => testerQueue({ mirrors: 2, testers: 1, testMin: 0, awayMin: 1 }), RangeError);
});
