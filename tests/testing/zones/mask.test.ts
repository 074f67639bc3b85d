import assert from "node:assert/strict";
import fc from "fast-check";
import { designMask, windowOutlines } from "../../../lib/testing/zones/mask.ts";
import { close } from "../../optics/close.ts";

const wish = { aperture: 148, radius: 2400, source: "moves", openings: "bands" } as const;

Deno.test("equal areas: each step changes the ideal reading alike, but for cutting to half a millimetre", () => {
  const { zones } = designMask({ ...wish, zones: 5 });
  const steps = zones.slice(1).map((zone, i) => zone.ideal - (zones[i]?.ideal ?? 0));
  const mean = steps.reduce((a, b) => a + b) / steps.length;
  for (const step of steps) close(step, mean, 0.05 * mean);
});

Deno.test("as many zones as leave a window of 7 mm at the edge", () => {
  for (const aperture of [110, 148, 198, 250]) {
    const { zones } = designMask({ ...wish, aperture }), last = zones.at(-1);
    // and none so wide that a lap's ring could hide in it
    for (const zone of zones) {
      assert.ok(zone.outer - zone.inner <= Math.max(0.15 * (aperture / 2), 9.5) + 0.5);
    }
    for (const zone of zones) assert.ok(zone.outer - zone.inner >= 4.5, `${aperture}`);
    assert.ok(last && last.outer === aperture / 2 && last.outer - last.inner > 6.4);
  }
});

Deno.test("zones touch, from the middle to the clear edge, whatever is asked", () => {
  const any = fc.record({
    aperture: fc.double({ min: 80, max: 400, noNaN: true }),
    zones: fc.integer({ min: 2, max: 12 }),
  });
  fc.assert(fc.property(any, ({ aperture, zones }) => {
    const mask = designMask({ ...wish, aperture, zones });
    assert.equal(mask.zones[0]?.inner, 0);
    mask.zones.slice(1).forEach((zone, i) => assert.equal(zone.inner, mask.zones[i]?.outer));
    mask.zones.forEach((zone) =>
      assert.ok(zone.effectiveRadius > zone.inner && zone.effectiveRadius < zone.outer)
    );
  }));
});

Deno.test("a mask 10 mm in front is cut 0.42 % smaller", () => {
  // DERIVED similar triangles: r on glass = r in mask x R / (R - t), + 0.42 % at R = 2400
  const [first] = designMask({ ...wish, standOff: 10 }).zones;
  assert.ok(first);
  close(first.outer / first.cutOuter - 1, 10 / 2390, 1e-12);
});

Deno.test("spread doubles with a fixed lamp", () => {
  close(designMask({ ...wish, source: "fixed" }).spread / designMask(wish).spread, 2, 2e-3);
});

Deno.test("outlines are closed shapes on both sides, of the height or angle of the design", () => {
  for (const openings of ["bands", "sectors"] as const) {
    const mask = designMask({ ...wish, openings });
    for (const zone of mask.zones.slice(1)) {
      const [left, right] = windowOutlines(zone, mask);
      left.forEach(([x, y], i) => assert.deepEqual([-x, y], right[i]));
      const outer = Math.max(...right.map(([x, y]) => Math.hypot(x, y)));
      close(outer, zone.cutOuter, 1e-9);
      const tall = Math.max(...right.map(([, y]) => y));
      close(
        tall,
        openings === "bands"
          ? mask.halfHeight ?? NaN
          : zone.cutOuter * Math.sin(mask.halfAngle ?? NaN),
        1e-9,
      );
    }
  }
});

Deno.test("neighbours at right angles to one another do not meet, however narrow the inner ones are", () => {
  for (const [aperture, radius] of [[98, 1600], [148, 2400], [296, 3600]] as const) {
    const { zones, halfHeight = NaN } = designMask({
      ...wish,
      aperture,
      radius,
      openings: "bands",
    });
    for (const { cutInner: r } of zones.slice(1)) {
      // DERIVED: from the long edge of the inner band, at the half height, to the corner of the next one, turned by a quarter
      assert.ok(Math.sqrt(r * r - halfHeight * halfHeight) - halfHeight > 1, `${aperture}: ${r}`);
    }
  }
});

Deno.test("refusals", () => {
  assert.throws(() => designMask({ ...wish, zones: 1 }), RangeError);
  assert.throws(() => designMask({ ...wish, aperture: 3000 }), /radius > aperture/);
  assert.throws(() => designMask({ ...wish, standOff: -1 }), RangeError);
});
