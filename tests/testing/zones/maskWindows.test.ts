/** Bands of a mask: an eighth of the radius high, lower where narrow openings in the middle would run into one another. */
import assert from "node:assert/strict";
import fc from "fast-check";
import { bandHalfHeight } from "../../../lib/testing/zones/maskWindows.ts";

Deno.test("two neighbours at one edge keep 4 mm of card between them, or 0.6 of a smaller edge", () => {
  const edge = fc.double({ min: 2, max: 60, noNaN: true });
  fc.assert(fc.property(edge, fc.double({ min: 130, max: 600, noNaN: true }), (r, aperture) => {
    const h = bandHalfHeight([{ inner: 0, outer: r }, { inner: r, outer: r + 10 }], aperture);
    assert.ok(h > 0 && h <= aperture / 16);
    // DERIVED: from the long edge of the band across the middle, at h, to the corner of the window above it
    const card = Math.sqrt(r * r - h * h) - h;
    assert.ok(card >= Math.min(4, 0.6 * r) - 1e-9, `${card}`);
  }));
});

Deno.test("an opening alone has the usual height", () => {
  // DERIVED: 150 / 16
  assert.equal(bandHalfHeight([{ inner: 0, outer: 30 }], 150), 9.375);
});
