import assert from "node:assert/strict";
import fc from "fast-check";
import { flatHad } from "../../../lib/telescope/flat.ts";
import { landing } from "../../telescope/rays.ts";
import {
  flatAndTube,
  flatPlan,
  foldedRay,
  litField,
} from "../../../lib/figures/live/flatAndTube.ts";

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

Deno.test("the field from the front: each ring has the light that exact rays bring there", () => {
  // CROSS-CHECK tests/telescope/rays.ts: a paraboloid and a tilted ellipse, off the middle along the tube and across it;
  // the rings are round, the rays' field a little lopsided along the tube: 0.035, and 0.007 across
  for (const flat of [21, 22, 25, 31]) {
    const plan = flatPlan({ tube: 180, height: 70, flat }), f = 1198.3, L = plan.flatToFocus;
    const { offset } = flatHad({ aperture: 150, focalLength: f }, L, flat);
    const m = { f, aperture: 150, toFocus: L, minor: flat, offset };
    const rings = litField(plan, 10);
    assert.equal(rings.length, 10);
    for (const { radius, share } of rings) {
      const h = radius - 10.5 / 20; // the ring's middle
      const across = landing(m, 0, h, 300), along = landing(m, h, 0, 300);
      assert.ok(Math.abs(share - across) < 0.007, `${flat}, ${h} mm: ${share}, rays ${across}`);
      assert.ok(Math.abs(share - along) < 0.035, `${flat}, ${h} mm: ${share}, rays ${along}`);
    }
  }
});

Deno.test("the field is drawn as a disc: grey by its light, a ring round what is fully lit, no line of light over distance", () => {
  const html = (values: Record<string, number>): string =>
    flatAndTube.picture(values, () => {
      throw new Error("no pixels in this figure");
    }).markup;
  const usual = html(flatAndTube.start);
  assert.ok((usual.match(/<circle[^>]*rgb\(/g) ?? []).length >= 20);
  assert.doesNotMatch(usual, /From the middle of the field/);
  assert.match(usual, /from the front, a disc/);
  assert.match(usual, /middle 100 %[\s\S]*edge 59 %/);
  const lit = (markup: string): boolean => /<circle class="mine"/.test(markup);
  assert.deepEqual([lit(usual), lit(html({ ...flatAndTube.start, flat: 21 }))], [true, false]);
});
