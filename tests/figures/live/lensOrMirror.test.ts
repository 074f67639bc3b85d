import assert from "node:assert/strict";
import fc from "fast-check";
import { cardReading, lensOrMirror } from "../../../lib/figures/live/lensOrMirror.ts";
import { singleLensColours } from "../../../lib/optics/glass.ts";

Deno.test("the patches of a 150 mm f/8 lens at the yellow focus, by hand", () => {
  const { lens, foci, mirror, disc } = cardReading({ aperture: 150, focal: 1200, card: 0 });
  // DERIVED from the crown's indices (code 517642, from memory) F 1.52238, d 1.51680, C 1.51432: f_F = 1200 x 0.51680 ÷ 0.52238
  // = 1187.2, f_C = 1205.8; the blue patch 150 x 12.8 ÷ 1187.2 = 1.62, the red 150 x 5.8 ÷ 1205.8 = 0.72.
  assert.deepEqual(foci.map((f) => f.toFixed(1)), ["-12.8", "0.0", "5.8"]);
  assert.deepEqual(lens.map((w) => w.toFixed(2)), ["1.62", "0.00", "0.72"]);
  assert.equal(mirror, 0);
  // DERIVED: 2.44 x 550 nm x 8 = 0.01074 mm
  assert.equal(disc.toFixed(4), "0.0107");
});

Deno.test("nowhere does the card catch all colours sharp: the least patch is Abbe's, whatever the focal length", () => {
  for (const focal of [600, 1200, 3000]) {
    const { blur } = singleLensColours(150, focal);
    let least = Infinity;
    for (let card = -40; card <= 40; card += 0.05) {
      least = Math.min(least, Math.max(...cardReading({ aperture: 150, focal, card }).lens));
    }
    assert.ok(Math.abs(least / blur - 1) < 0.02, `${least} beside ${blur}`);
  }
});

Deno.test("a mirror has one patch for all colours, as wide as the lens's yellow one", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 60, max: 250, noNaN: true }),
      fc.double({ min: 600, max: 3000, noNaN: true }),
      fc.double({ min: -20, max: 20, noNaN: true }),
      (aperture, focal, card) => {
        const { lens, mirror } = cardReading({ aperture, focal, card });
        assert.ok(Math.abs(lens[1] - mirror) < 1e-9);
        assert.ok(lensOrMirror.value({ aperture, focal, card }) >= mirror - 1e-9);
      },
    ),
  );
});
