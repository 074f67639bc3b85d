/** Bands of a mask: an eighth of the radius high, lower where narrow openings in the middle would run into one another. */
import assert from "node:assert/strict";
import fc from "fast-check";
import { bandHalfHeight } from "../../lib/figures/maskWindows.ts";

Deno.test("the corners of two neighbours at one edge keep 4 mm of card between them", () => {
  const edge = fc.double({ min: 6, max: 60, noNaN: true });
  fc.assert(fc.property(edge, fc.double({ min: 130, max: 600, noNaN: true }), (r, aperture) => {
    const h = bandHalfHeight([{ inner: 0, outer: r }, { inner: r, outer: r + 10 }], aperture);
    assert.ok(h > 0 && h <= aperture / 16);
    // DERIVED: one corner at asin(h / r) from its axis, the other as far from the axis across
    const angle = Math.asin(h / r), card = 2 * r * Math.sin((Math.PI / 2 - 2 * angle) / 2);
    assert.ok(card >= 4 - 1e-9, `${card}`);
  }));
});

Deno.test("an opening alone has the usual height", () => {
  assert.equal(bandHalfHeight([{ inner: 0, outer: 30 }], 150), 9.375);
});
