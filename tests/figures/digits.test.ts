import assert from "node:assert/strict";
import { digitsOf, fixed, signed } from "../../lib/figures/digits.ts";

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
