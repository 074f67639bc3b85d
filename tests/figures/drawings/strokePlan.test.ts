/** The stroke from above: places to scale, and a pressure that balances the upper disc. */
import assert from "node:assert/strict";
import fc from "fast-check";
import { pressureAcross, strokePlan } from "../../../lib/figures/drawings/strokePlan.ts";
import { lens, liftOff } from "../../shaping/overlap.ts";
import { assertFigure, assertNoHoles } from "../soundFigure.ts";

const usual = { aperture: 150, offset: 37.5, travel: 50 };

Deno.test("law: the load stands on the upper disc's centre, whatever the overhang", () => {
  fc.assert(fc.property(fc.double({ min: 0, max: 70, noNaN: true }), (offset) => {
    const strips = pressureAcross(150, offset);
    const sum = (of: (x: number) => number): number =>
      strips.reduce((all, { x, half, pressure }) => all + half * pressure * of(x), 0);
    const area = strips.reduce((all, { half }) => all + half, 0);
    assert.ok(Math.abs(sum(() => 1) / area - 1) < 1e-9, "the mean is 1");
    assert.ok(Math.abs(sum((x) => x - offset)) < 1e-4 * sum(() => 75), "no moment");
    assert.ok(strips.every(({ pressure }) => pressure >= 0));
  }));
});

Deno.test("before lift-off the ends are those of the straight pressure in closed form", () => {
  for (const offset of [5, 10, 20, 28]) {
    const strips = pressureAcross(150, offset), { outer, inner } = lens(150, offset);
    // a strip's middle lies half a strip inside the end
    const half = (outer - inner) / strips.length / 2;
    assert.ok(Math.abs((strips.at(-1)?.pressure ?? 0) - (outer - half)) < 0.01, `${offset}`);
    assert.ok(Math.abs((strips[0]?.pressure ?? 0) - (inner + half)) < 0.01, `${offset}`);
  }
  const off = liftOff(150);
  assert.ok((pressureAcross(150, off - 1)[0]?.pressure ?? 0) > 0);
  assert.equal(pressureAcross(150, off + 1)[0]?.pressure, 0);
});

Deno.test("both discs and the stroke stand to one scale", () => {
  const shown = strokePlan(usual);
  assertNoHoles(shown.html);
  for (const svg of assertFigure(shown, { titles: [/^lower$/, /^upper$/, /37\.5 beside/] })) {
    const circles = [...svg.querySelectorAll("circle")].map((one) =>
      ["cx", "cy", "r"].map((key) => Number(one.getAttribute(key)))
    );
    const [lower = [], first = [], second = [], upper = []] = circles;
    const k = (lower[2] ?? NaN) / 75;
    assert.ok(Math.abs((upper[0] ?? 0) - (lower[0] ?? 0) - 37.5 * k) < 0.11, "offset");
    assert.ok(Math.abs((second[1] ?? 0) - (first[1] ?? 0) - 50 * k) < 0.21, "ends of the stroke");
    assert.equal(upper[2], lower[2]);
    const width = Number(svg.getAttribute("width"));
    assert.ok((upper[0] ?? 0) + (upper[2] ?? 0) <= width && (lower[0] ?? 0) >= (lower[2] ?? 0));
  }
});

Deno.test("what is told: the rim's share, or that all carries alike", () => {
  assert.match(strokePlan(usual).text, /rim carries 2\.[34] times the mean/);
  assert.match(strokePlan({ ...usual, offset: 0 }).text, /0 mm beside.*carries alike everywhere/);
  for (const one of [{ aperture: 60, offset: 10, travel: 60 * 2 / 3 }, { ...usual, travel: 1 }]) {
    assertFigure(strokePlan(one));
  }
});

Deno.test("strokes longer than the disc, and an overhang at which it tips, are refused", () => {
  assert.throws(() => strokePlan({ ...usual, travel: 151 }), /no longer than the disc.*travel=151/);
  assert.throws(() => strokePlan({ ...usual, offset: 72 }), /at which it tips/);
  assert.throws(() => strokePlan({ ...usual, offset: -1 }), RangeError);
  assert.throws(() => strokePlan({ ...usual, aperture: NaN }), RangeError);
});
