import fc from "fast-check";
import assert from "node:assert/strict";
import {
  digitsOf,
  extent,
  fixed,
  roundStep,
  scale,
  signed,
  ticks,
} from "../../lib/figures/scale.ts";

const ends = fc.tuple(
  fc.double({ min: -1e6, max: 1e6, noNaN: true }),
  fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
);

Deno.test("a scale hits its ends and is straight between", () => {
  const at = scale(-5, 5, 100, 300);
  assert.deepEqual([-5, 0, 5, 10].map(at), [100, 200, 300, 400]);
  assert.equal(scale(0, 1, 300, 0)(0.5), 150);
});

Deno.test("a domain without width puts its value in the middle", () => {
  assert.equal(scale(7, 7, 0, 100)(7), 50);
});

Deno.test("ends that are not finite are refused", () => {
  assert.throws(() => scale(0, NaN, 0, 1), /scale requires finite ends, got from=0, to=NaN/);
});

Deno.test("ticks are round, rising, inside the ends, and about as many as asked", () => {
  fc.assert(fc.property(ends, fc.integer({ min: 2, max: 12 }), ([low, span], count) => {
    const high = low + span, marks = ticks(low, high, count), step = roundStep(span, count);
    assert.ok(
      marks.length <= 2 * count + 2 && marks.length >= Math.floor(count / 3),
      `${marks.length} of ${count}`,
    );
    marks.forEach((mark, i) => {
      assert.ok(mark >= low - 1e-6 * span && mark <= high + 1e-6 * span);
      if (i > 0) {
        assert.ok(
          Math.abs(mark - (marks[i - 1] ?? NaN) - step) < 1e-6 * step + 1e-9 * Math.abs(mark),
        );
      }
    });
  }));
});

Deno.test("a step is 1, 2 or 5 times a power of ten", () => {
  fc.assert(fc.property(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (span) => {
    const step = roundStep(span, 5), mantissa = step / 10 ** Math.floor(Math.log10(step) + 1e-9);
    assert.ok([1, 2, 5].some((m) => Math.abs(mantissa - m) < 1e-6), String(step));
  }));
  assert.equal(roundStep(0, 5), 1);
});

Deno.test("decimal ticks print as they read", () => {
  assert.deepEqual(ticks(0, 1, 5), [0, 0.2, 0.4, 0.6, 0.8, 1]);
  assert.deepEqual(ticks(2380, 2420, 4), [2380, 2390, 2400, 2410, 2420]);
});

Deno.test("an extent holds its values with room, and is never empty", () => {
  fc.assert(fc.property(fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true })), (values) => {
    const [low, high] = extent(values);
    assert.ok(high > low);
    values.forEach((value) => assert.ok(value >= low && value <= high));
  }));
  assert.deepEqual(extent([]), [0, 1]);
  assert.deepEqual(extent([0], 0.1), [-0.1, 0.1]);
});

Deno.test("fixed digits, a true minus, no minus zero", () => {
  assert.equal(fixed(1.172), "1");
  assert.equal(fixed(-1.5, 1), "−1.5");
  assert.equal(fixed(-0.04, 1), "0.0");
  assert.equal(fixed(0, 2), "0.00");
  assert.equal(fixed(2400), "2400");
  for (const hole of [NaN, Infinity]) assert.throws(() => fixed(hole), RangeError);
});

Deno.test("heights carry their sign, zero does not", () => {
  assert.deepEqual([20, 0, -20, 0.4, -0.4].map((x) => signed(x)), ["+20", "0", "−20", "0", "0"]);
  assert.equal(signed(0.05, 2), "+0.05");
});

Deno.test("a step needs as many digits as it has", () => {
  const wanted: [number, number][] = [[20, 0], [1, 0], [0.5, 1], [0.2, 1], [0.05, 2], [0.002, 3], [
    2.5,
    1,
  ]];
  for (const [step, digits] of wanted) assert.equal(digitsOf(step), digits, String(step));
  assert.equal(digitsOf(1 / 3), 8);
});
