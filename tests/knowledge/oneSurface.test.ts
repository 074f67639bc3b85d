/** Tests of one surface reconciled: by hand, over many draws, and in the demo. */
import assert from "node:assert/strict";
import { reconcileTests, type SurfaceReading } from "../../lib/knowledge/oneSurface.ts";
import { openRecord } from "../../lib/knowledge/open.ts";
import { close } from "../optics/close.ts";
import { otherDice } from "../testing/photoOther.ts";

const reading = (test: SurfaceReading["test"], value: number, u: number): SurfaceReading => ({
  test,
  value,
  u,
  uAfter: u * Math.SQRT1_2,
});

Deno.test("two tests that agree: the weighted mean, its doubt, their say", () => {
  const { value, u, weights, birgeRatio, consistent, oddOne } = reconcileTests([
    reading("zones", 0.02, 0.01),
    reading("star", 0.05, 0.02),
  ]);
  // DERIVED weights 4 to 1: 0.026, u 0.01 / sqrt 1.25; chi-square (0.03)^2 / 0.0005 = 1.8, Birge sqrt 1.8 = 1.3416
  close(value, 0.026, 1e-12);
  close(birgeRatio, Math.sqrt(1.8), 1e-9);
  close(u, (0.01 / Math.sqrt(1.25)) * Math.sqrt(1.8), 1e-9);
  weights.forEach((weight, k) => close(weight, [0.8, 0.2][k] ?? NaN, 1e-12));
  assert.ok(consistent && oddOne === undefined);
});

Deno.test("the next test is the one that lessens the doubt most for its minutes", () => {
  // DERIVED now 1 / sqrt(1/0.05^2 + 1/0.05^2) = 0.0354; a star pair of 0.025 in 30 min: 0.0204; zones again: 0.0289 in 45; bands again: 0.0289 in 25
  const { next } = reconcileTests([reading("zones", 0, 0.05), reading("bands", 0, 0.05)]);
  assert.equal(next.test, "star");
  close(next.u, 1 / Math.sqrt(2 / 0.05 ** 2 + 1 / 0.025 ** 2), 1e-12);
});

Deno.test("over two thousand draws: the mean is nearer than the best test, intervals hold, an odd test is named", () => {
  const dice = otherDice(8);
  let better = 0, held = 0, named = 0, wrongly = 0, bestSquares = 0, squares = 0;
  const count = 2000, us = [0.012, 0.02, 0.03], tests = ["zones", "bands", "star"] as const;
  for (let k = 0; k < count; k++) {
    const truth = dice.from(-0.1, 0.1);
    const fair = tests.map((test, i) =>
      reading(test, truth + (us[i] ?? 0) * dice.bell(), us[i] ?? 0)
    );
    const { value, u } = reconcileTests(fair), off = Math.abs(value - truth);
    const best = Math.abs((fair[0]?.value ?? NaN) - truth);
    if (off < best) better++;
    squares += off * off;
    bestSquares += best * best;
    if (off < 1.96 * u) held++;
    // one of them is off by six of its own u
    const odd = k % 3,
      spoilt = fair.map((one, i) => i === odd ? { ...one, value: one.value + 6 * one.u } : one);
    const { oddOne } = reconcileTests(spoilt);
    if (oddOne === tests[odd]) named++;
    else if (oddOne !== undefined) wrongly++;
  }
  // deno-lint-ignore no-console -- the promised figures are printed
  console.log(
    `    nearer than the best test in ${better} of ${count}, RMS ${
      Math.sqrt(squares / bestSquares).toFixed(2)
    } of its; held in ${held}; an odd test of 6 u named in ${named}, another in ${wrongly}`,
  );
  // DERIVED the mean of least variance is 0.82 of the best test's RMS: 1 / sqrt(1 + 0.36 + 0.16)
  close(Math.sqrt(squares / bestSquares), 1 / Math.sqrt(1 + 0.36 + 0.16), 0.03);
  assert.ok(held >= 0.92 * count);
  assert.ok(named > 0.75 * count && wrongly < 0.15 * count);
  assert.throws(() => reconcileTests([reading("zones", 0, 1)]), RangeError);
});

Deno.test("the demo's zones and bands are told together", async () => {
  const { together } = (await openRecord()).demo.summary.figure ?? {};
  assert.deepEqual(together?.tests.map(({ test }) => test), ["zones", "bands"]);
  close(together?.tests.reduce((sum, { weight }) => sum + weight, 0) ?? NaN, 1, 1e-12);
});
