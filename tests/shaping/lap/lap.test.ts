import assert from "node:assert/strict";
import fc from "fast-check";
import {
  isFacet,
  type Lap,
  lapContact,
  pitchNeeded,
  requireLap,
  usualLap,
} from "../../../lib/shaping/lap/lap.ts";

function lapOf(diameter: number, spacing: number, channel: number, offset: [number, number]): Lap {
  return { diameter, thickness: 7, spacing, channel, offset };
}

Deno.test("pitch for a lap", () => {
  // DERIVED: pi D^2 t / 4 and 1.10 g/cm3, by hand to the digits shown
  const wanted = [[150, 7, 123.7, 136.07], [200, 7, 219.911, 241.9], [250, 8, 392.699, 431.97]];
  for (const [diameter = 0, thickness = 0, cm3 = 0, grams = 0] of wanted) {
    const pitch = pitchNeeded({ diameter, thickness });
    assert.ok(Math.abs(pitch.volume / 1000 / cm3 - 1) < 1e-4, `${pitch.volume}`);
    assert.ok(Math.abs(pitch.grams / grams - 1) < 1e-4, `${pitch.grams}`);
    assert.ok(pitch.melt.least > pitch.grams && pitch.melt.most <= 1.5 * pitch.grams);
  }
  assert.throws(() => pitchNeeded({ diameter: 150, thickness: 0 }), /^RangeError: pitchNeeded/);
});

Deno.test("contact share of the grid on a round lap", () => {
  // CROSS-CHECK a 4000 x 4000 raster and a chord integral, both in numpy 1.24; they agree to 0.0001. Tolerance 0.0005
  const wanted: [Lap, number][] = [
    [lapOf(150, 25, 5, [6, 9]), 0.6366],
    [lapOf(150, 25, 5, [0, 0]), 0.6523],
    [lapOf(150, 25, 5, [12.5, 12.5]), 0.6364],
    [lapOf(200, 30, 6, [15, 15]), 0.64824],
    [lapOf(200, 30, 6, [0, 0]), 0.63179],
  ];
  for (const [lap, share] of wanted) {
    assert.ok(Math.abs(lapContact(lap) - share) < 5e-4, `${lapContact(lap)} beside ${share}`);
  }
});

Deno.test("contact by lines agrees with counting places one by one", () => {
  const offset = fc.double({ min: -30, max: 30, noNaN: true });
  const law = fc.property(offset, offset, fc.double({ min: 1, max: 9, noNaN: true }), (x, y, w) => {
    const lap = lapOf(150, 25, w, [x, y]);
    let inside = 0, facets = 0;
    for (let i = 0; i < 200; i++) {
      for (let j = 0; j < 200; j++) {
        const px = (i + 0.5) * 0.75 - 75, py = (j + 0.5) * 0.75 - 75;
        if (Math.hypot(px, py) >= 75) continue;
        inside++;
        if (isFacet(lap, px, py)) facets++;
      }
    }
    // a raster of 0.75 mm places an edge of a channel to half a step: 12 edges of 25 mm, 1.5 %
    assert.ok(Math.abs(facets / inside - lapContact(lap)) < 0.03);
  });
  fc.assert(law, { numRuns: 20 });
});

Deno.test("laws of the contact share: a whole spacing aside changes nothing, many facets come to the endless grid", () => {
  const share = lapContact(lapOf(150, 25, 5, [6, 9]));
  assert.ok(Math.abs(lapContact(lapOf(150, 25, 5, [31, -16])) - share) < 1e-9);
  assert.ok(Math.abs(lapContact(lapOf(1000, 10, 2, [3, 1])) - 0.64) < 1e-3);
});

Deno.test("the usual lap can be made at every size, and never stands on its centre", () => {
  for (let diameter = 40; diameter <= 400; diameter += 10) {
    const lap = requireLap(usualLap(diameter));
    const [x, y] = lap.offset;
    assert.ok(lap.spacing >= diameter / 8 && lap.spacing <= diameter / 3.5, `${diameter}`);
    for (const from of [0, lap.spacing / 2]) {
      assert.ok(Math.abs(x - from) > 0.05 * lap.spacing && Math.abs(y - from) > 0.05 * lap.spacing);
    }
  }
});

Deno.test("laps that cannot be made are refused", () => {
  const lap = usualLap(150);
  const bad: [Partial<Lap>, RegExp][] = [
    [{ disc: 149 }, /no wider than its disc in mm, got diameter=150, disc=149/],
    [{ channel: 12.5 }, /channels narrower than the facets .* got channel=12.5, facet=12.5/],
    [{ channel: 40 }, /channels narrower/],
    [{ spacing: 150, channel: 5 }, /more than one facet/],
    [{ thickness: 0 }, /sizes above 0/],
    [{ offset: [NaN, 0] }, /finite offset/],
  ];
  for (const [change, says] of bad) {
    assert.throws(() => requireLap({ ...lap, ...change }), (error: unknown) => {
      assert.ok(error instanceof RangeError);
      assert.match(error.message, says);
      return true;
    });
    assert.throws(() => lapContact({ ...lap, ...change }), RangeError);
  }
});
