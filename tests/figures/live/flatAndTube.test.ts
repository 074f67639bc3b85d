import assert from "node:assert/strict";
import fc from "fast-check";
import { flatAndTube, flatPlan, foldedRay } from "../../../lib/figures/live/flatAndTube.ts";

const anywhere = fc.record({
  flat: fc.double({ min: 15, max: 60, noNaN: true }),
  height: fc.double({ min: 30, max: 100, noNaN: true }),
  tube: fc.double({ min: 156, max: 200, noNaN: true }),
});
const rim = [75, -75];

Deno.test("every ray keeps the law of reflection at 45 degrees and ends in its point of the field", () => {
  fc.assert(
    fc.property(anywhere, fc.double({ min: -75, max: 75, noNaN: true }), (values, up) => {
      const plan = flatPlan({ ...values, flat: 60 }),
        { from, meets, ends, caught } = foldedRay(
          plan,
          up,
          3,
        );
      assert.ok(caught);
      assert.deepEqual([meets[0] === meets[1], ends], [true, [3, plan.flatToFocus]]);
      // DERIVED: a mirror along the diagonal changes the two directions over
      const before = [meets[0] - from[0], meets[1] - from[1]] as const;
      const after = [ends[0] - meets[0], ends[1] - meets[1]] as const;
      assert.ok(Math.abs(before[0] * after[0] - before[1] * after[1]) < 1e-6 * before[0] ** 2);
    }),
  );
});

Deno.test("the fully lit field is the one whose rays from the rim all meet the flat", () => {
  fc.assert(fc.property(anywhere, (values) => {
    const plan = flatPlan(values),
      lost = (height: number): number =>
        [height, -height].flatMap((h) => rim.map((up) => foldedRay(plan, up, h)))
          .filter(({ caught }) => !caught).length;
    if (plan.fullyLit > 0.1) {
      assert.equal(lost(plan.fullyLit / 2 - 0.04), 0);
      assert.ok(lost(plan.fullyLit / 2 + 0.04) > 0);
    } else if (plan.fullyLit < -0.1) assert.ok(lost(0) > 0);
  }));
});

Deno.test("what is exposed: the demo's 10.1 mm for 31 mm of flat, less with a higher focuser", () => {
  // CROSS-CHECK the table printed in notebooks/15-place-flat.ipynb
  const demo = { ...flatAndTube.start, flat: 31 };
  assert.equal(flatAndTube.value(demo).toFixed(1), "10.1");
  assert.ok(flatAndTube.value({ ...demo, height: 90 }) < 10);
});
