import assert from "node:assert/strict";
import fc from "fast-check";
import { effectiveRadius, windowRule } from "../../../lib/testing/zones/openings.ts";
import { close } from "../../optics/close.ts";

Deno.test("effective radii of the worked example", () => {
  // CROSS-CHECK ../secondRoute.py, effective radii: DERIVED sqrt((a^2+b^2)/2); printed to 1e-6 mm
  const edges = [0, 30, 45, 57, 67, 75],
    printed = [21.213203, 38.242646, 51.351728, 62.201286, 71.112587];
  printed.forEach((r, i) =>
    close(effectiveRadius({ inner: edges[i] ?? 0, outer: edges[i + 1] ?? 0 }), r, 6e-7)
  );
});

Deno.test("the middle of a window is wrong by (b-a)^2/4 in r^2", () => {
  // CROSS-CHECK ../secondRoute.py, middle of a window: centre zone 0-33.5, R 2400, moving: -0.0585 mm of ideal reading
  const r = effectiveRadius({ inner: 0, outer: 33.5 });
  close((16.75 ** 2 - r * r) / 4800, -0.0585, 5e-5);
});

Deno.test("both closed forms are the balance of the window for L ~ r^2", () => {
  const zones = fc.record({
    inner: fc.double({ min: 0, max: 80, noNaN: true }),
    width: fc.double({ min: 0.5, max: 60, noNaN: true }),
  });
  fc.assert(
    fc.property(
      zones,
      fc.constantFrom("bands" as const, "sectors" as const),
      ({ inner, width }, shape) => {
        const opening = { inner, outer: inner + width },
          { radii, weights } = windowRule(opening, shape);
        const mean = radii.reduce((sum, r, i) => sum + (weights[i] ?? 0) * r * r, 0);
        close(effectiveRadius(opening, shape), Math.sqrt(mean), 1e-9);
        close(weights.reduce((a, b) => a + b), 1, 1e-12);
      },
    ),
  );
});

Deno.test("sectors weigh the outside more", () => {
  assert.ok(
    effectiveRadius({ inner: 0, outer: 30 }, "sectors") > effectiveRadius({ inner: 0, outer: 30 }),
  );
});

Deno.test("edges out of order are refused", () => {
  for (const bad of [{ inner: 30, outer: 30 }, { inner: -1, outer: 3 }, { inner: 0, outer: NaN }]) {
    assert.throws(() => effectiveRadius(bad), RangeError);
    assert.throws(() => windowRule(bad, "bands"), RangeError);
  }
});
