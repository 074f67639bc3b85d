import assert from "node:assert/strict";
import fc from "fast-check";
import { random } from "../../lib/numeric/random.ts";
import {
  middleInterval,
  middleOfDraws,
  shortestInterval,
  shortestOfDraws,
} from "../../lib/quantity/shortestInterval.ts";

Deno.test("a tail on one side is left out on that side", () => {
  const sorted = [...Array.from({ length: 95 }, (_, i) => i), 200, 300, 400, 500, 600];
  assert.deepEqual(shortestInterval(sorted, 0.94), [0, 94]);
  assert.deepEqual(middleInterval(sorted, 0.9), [4, 94]);
});

const draws = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 20, maxLength: 200 })
  .map((list) => list.sort((a, b) => a - b));
const share = fc.double({ min: 0.1, max: 0.94, noNaN: true });

Deno.test("law: both hold their share, and none is shorter than the shortest", () => {
  fc.assert(fc.property(draws, share, (sorted, p) => {
    const short = shortestInterval(sorted, p), middle = middleInterval(sorted, p);
    for (const [low, high] of [short, middle]) {
      assert.ok(sorted.filter((x) => x >= low && x <= high).length >= p * sorted.length);
    }
    assert.ok(short[1] - short[0] <= middle[1] - middle[0]);
  }));
});

Deno.test("law: a shift and a unit move both ends", () => {
  fc.assert(fc.property(draws, share, fc.integer({ min: -50, max: 50 }), (sorted, p, shift) => {
    const [low, high] = shortestInterval(sorted, p);
    assert.deepEqual(shortestInterval(sorted.map((x) => 4 * x + shift), p), [
      4 * low + shift,
      4 * high + shift,
    ]);
  }));
});

Deno.test("law: draws out of order have the interval of the same draws in order", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 20, max: 6000 }),
      fc.nat(),
      fc.double({ min: 0.3, max: 0.999, noNaN: true }),
      fc.constantFrom(0, 1, 2),
      (n, seed, p, shape) => {
        fc.pre(Math.round(p * n) < n);
        const source = random(seed);
        const draws = Float64Array.from(
          { length: n },
          (_, i) => shape === 0 ? source.normal() : shape === 1 ? Math.exp(source.normal()) : i % 7,
        );
        const before = [...draws];
        assert.deepEqual(
          shortestOfDraws(draws, p),
          shortestInterval([...draws].sort((a, b) => a - b), p),
        );
        assert.deepEqual(
          middleOfDraws(draws, p),
          middleInterval([...draws].sort((a, b) => a - b), p),
        );
        assert.deepEqual([...draws], before, "left as they were");
      },
    ),
    { numRuns: 60 },
  );
});

Deno.test("draws in an order that misleads a sample still give the right interval", () => {
  const rising = Float64Array.from({ length: 10000 }, (_, i) => (i / 100) ** 2);
  assert.deepEqual(shortestOfDraws(rising, 0.95), shortestInterval(rising, 0.95));
  const comb = rising.map((x, i) => i % 10 === 0 ? 1e6 : x);
  assert.deepEqual(shortestOfDraws(comb, 0.95), shortestInterval(comb.slice().sort(), 0.95));
  assert.deepEqual(middleOfDraws(comb, 0.95), middleInterval(comb.slice().sort(), 0.95));
});

Deno.test("draws that mislead a sample on one side only, in either order", () => {
  const rising = Array.from({ length: 10000 }, (_, i) => (i / 100) ** 2 + (i % 100) / 1000);
  for (const order of [rising, rising.toReversed()]) {
    for (const sign of [1, -1]) {
      // all that a sample of every tenth sees is far out; or it sees nine in a hundred far out, where there is one
      for (const last of [10000, 900]) {
        const draws = order.map((x, i) => i % 10 === 0 && i < last ? sign * 1e6 : x);
        const sorted = draws.toSorted((a, b) => a - b), what = `${order[0]} ${sign} ${last}`;
        assert.deepEqual(shortestOfDraws(draws, 0.95), shortestInterval(sorted, 0.95), what);
        assert.deepEqual(middleOfDraws(draws, 0.95), middleInterval(sorted, 0.95), what);
      }
    }
  }
});

Deno.test("too few draws are refused", () => {
  assert.throws(
    () => shortestInterval([1, 2, 3], 0.95),
    /0 < p < 1 and enough draws for it, got p=0.95, 3/,
  );
  assert.throws(() => shortestInterval([], 0.5), RangeError);
  assert.throws(() => middleInterval([1, 2, 3], 1), /p=1/);
});
