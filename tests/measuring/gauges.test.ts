import assert from "node:assert/strict";
import { chordOf } from "../../lib/measuring/gauges.ts";

Deno.test("a straight-edge rests inside both bevels, unless the row says where", () => {
  // INVENTED: the row's own chord
  assert.equal(chordOf({ aperture: 150, bevel: 1 }), 148);
  assert.equal(chordOf({ aperture: 150, bevel: 0 }), 150);
  assert.equal(chordOf({ aperture: 150, bevel: 1 }, 146.5), 146.5);
});

Deno.test("a chord wider than the disc, or none, is refused", () => {
  assert.throws(
    () => chordOf({ aperture: 150, bevel: 1 }, 152),
    /requires 0 < chord <= aperture in mm, got chord=152, aperture=150/,
  );
  assert.throws(() => chordOf({ aperture: 150, bevel: 75 }), /got chord=0/);
  assert.throws(() => chordOf({ aperture: 150, bevel: 1 }, NaN), /got chord=NaN/);
});
