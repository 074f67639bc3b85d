import assert from "node:assert/strict";
import fc from "fast-check";
import { filmSeen, filmThickness } from "../../../lib/figures/live/filmThickness.ts";
import { metalIndex } from "../../../lib/optics/film.ts";

const anywhere = fc.record({
  thickness: fc.integer({ min: 10, max: 150 }),
  metal: fc.integer({ min: 0, max: 1 }),
  misread: fc.constant(0),
});

Deno.test("more metal sends back more and lets through less, blue more easily than red", () => {
  fc.assert(fc.property(anywhere, (values) => {
    const film = filmSeen(values),
      thicker = filmSeen({ ...values, thickness: values.thickness + 5 });
    const [blue, green, red] = film.through;
    assert.ok(blue > green && (values.metal === 1 || green > red));
    // a film of a few tens of nanometres of aluminium overshoots the thick metal by less than one part in a million
    assert.ok(thicker.reflected > film.reflected - 1e-6 && thicker.through[1] < green);
    assert.ok(film.reflected + green <= 1);
  }));
});

Deno.test("the lamp tells the thickness back, and half of its light misjudged is a few nanometres", () => {
  fc.assert(fc.property(anywhere, (values) => {
    assert.ok(Math.abs(filmSeen(values).told - values.thickness) < 1e-6);
  }));
  for (const metal of [0, 1]) {
    const { im } = metalIndex(metal === 0 ? "silver" : "aluminium", 550);
    for (const misread of [-50, 50]) {
      const { told } = filmSeen({ thickness: 100, metal, misread });
      // DERIVED: deep in metal light falls as e^(-4 pi k t / wavelength), so a factor m is -ln m wavelength / 4 pi k
      const off = -Math.log(1 + misread / 100) * 550 / (4 * Math.PI * im);
      assert.ok(Math.abs(told - 100 - off) < 0.01, `${told}`);
    }
  }
});

Deno.test("what the figure exposes: 68, 96 and 98 percent of green for 20, 50 and 100 nm of silver", () => {
  // CROSS-CHECK the figures printed in notebooks/14-coat-mirror.ipynb
  for (const [thickness, percent] of [[20, 68], [50, 96], [100, 98]] as const) {
    const value = filmThickness.value({ ...filmThickness.start, thickness });
    assert.equal(Math.round(100 * value), percent);
  }
});
