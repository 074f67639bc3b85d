import assert from "node:assert/strict";
import fc from "fast-check";
import { cosineOfTurns, phaseSumSquared, phasors } from "../../lib/numeric/phasors.ts";
import { near } from "../references/reference.ts";

const arrows = fc.array(
  fc.tuple(
    fc.double({ min: -50, max: 50, noNaN: true }),
    fc.double({ min: 0.01, max: 1, noNaN: true }),
  ),
  { minLength: 1, maxLength: 40 },
).map((pairs) => ({
  turns: Float64Array.from(pairs, ([turns]) => turns),
  weights: Float64Array.from(pairs, ([, weight]) => weight),
}));

Deno.test("many angles at once: what the built-in pair gives, as far as asked for, and refused beyond an array's end", () => {
  const turns = Float64Array.from({ length: 4001 }, (_, k) => (k - 2000) / 160);
  const re = new Float64Array(4001).fill(7), im = re.slice();
  phasors(turns, re, im, 4000);
  for (let k = 0; k < 4000; k++) {
    const angle = 2 * Math.PI * (turns[k] ?? NaN);
    near(re[k] ?? NaN, Math.cos(angle), 3e-13, "cosine", "absolute");
    near(im[k] ?? NaN, Math.sin(angle), 3e-13, "sine", "absolute");
    near(cosineOfTurns(turns[k] ?? NaN), Math.cos(angle), 3e-13, "one cosine", "absolute");
  }
  assert.deepEqual([re[4000], im[4000]], [7, 7]);
  assert.throws(
    () => phasors(turns, re, new Float64Array(3)),
    /requires arrays of 4001 numbers or more/,
  );
});

Deno.test("law: a sum of arrows is what the built-in sine and cosine give", () => {
  fc.assert(fc.property(arrows, ({ turns, weights }) => {
    let real = 0, imaginary = 0, all = 0;
    turns.forEach((t, i) => {
      const weight = weights[i] ?? 0;
      real += weight * Math.cos(2 * Math.PI * t);
      imaginary += weight * Math.sin(2 * Math.PI * t);
      all += weight;
    });
    // 2 pi t itself is rounded to 50 turns x 1e-16
    near(
      phaseSumSquared(turns, weights, 1),
      real * real + imaginary * imaginary,
      3e-13 * all * all,
      "reach",
      "absolute",
    );
  }));
});

Deno.test("law, a sum of arrows: whole turns and a turn of all arrows change nothing", () => {
  fc.assert(
    fc.property(
      arrows,
      fc.integer({ min: -9, max: 9 }),
      fc.double({ min: -1, max: 1, noNaN: true }),
      ({ turns, weights }, whole, all) => {
        const here = phaseSumSquared(turns, weights, 1),
          most = weights.reduce((a, b) => a + b) ** 2;
        const moved = turns.map((t, i) => t + (i % 3) * whole + all);
        near(phaseSumSquared(moved, weights, 1), here, 1e-12 * most, "reach", "absolute");
      },
    ),
  );
});

Deno.test("one arrow reaches its weight wherever it points, all around", () => {
  for (let k = -1000; k <= 1000; k++) {
    const reach = phaseSumSquared(Float64Array.of(k / 400), Float64Array.of(1), 1);
    near(reach, 1, 3e-13, `${k} / 400 of a turn`, "absolute");
  }
});

Deno.test("opposite arrows cancel; values without a weight are passed over; what is not a number stays so", () => {
  near(
    phaseSumSquared(Float64Array.of(3, 278), Float64Array.of(1, 1), 1 / 550),
    0,
    1e-12,
    "opposite",
    "absolute",
  );
  assert.equal(phaseSumSquared(Float64Array.of(0, 7), Float64Array.of(2), 1), 4);
  assert.ok(Number.isNaN(phaseSumSquared(Float64Array.of(NaN), Float64Array.of(1), 1)));
});
