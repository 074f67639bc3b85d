import assert from "node:assert/strict";
import fc from "fast-check";
import { airyRadius } from "../../lib/optics/airy.ts";
import { ARCSEC } from "../../lib/sky/eyepiece.ts";
import { limitsOf } from "../../lib/sky/limits.ts";

const near = (got: number, wanted: number, within = 1e-3): void =>
  assert.ok(Math.abs(got - wanted) <= within * Math.abs(wanted), `${got}, wanted ${wanted}`);

Deno.test("closest pairs: Dawes, Rayleigh, and 1.22 wavelength / D", () => {
  // DERIVED 116/D, 138/D; CROSS-CHECK numpy 1.24.2 for the third
  const rows = [[150, 0.7733, 0.92, 0.9224], [114, 1.0175, 1.2105, 1.2137], [
    250,
    0.464,
    0.552,
    0.5535,
  ]];
  for (const [aperture = 0, dawes = 0, rayleigh = 0, airy = 0] of rows) {
    const limits = limitsOf(aperture);
    near(limits.dawesArcsec, dawes);
    near(limits.rayleighArcsec, rayleigh);
    near((airyRadius(8) / (8 * aperture)) * ARCSEC, airy);
    near(limits.rayleighArcsec, airy, 3e-3);
  }
});

Deno.test("faintest star as a range of three rules", () => {
  // DERIVED: 12.880, 12.655, 13.580 for 150 mm
  const { faintest: [low, high] } = limitsOf(150);
  near(low, 12.655, 1e-4);
  near(high, 13.58, 1e-4);
  near(limitsOf(150, 6.5).faintest[0], 12.88, 1e-4);
});

Deno.test("useful magnifications", () => {
  const [low, high] = limitsOf(150).magnification;
  near(low, 21.43);
  assert.equal(high, 300);
});

Deno.test("law: twice the glass, half the angle, a magnitude and a half", () => {
  fc.assert(fc.property(fc.double({ min: 50, max: 1000, noNaN: true }), (aperture) => {
    const one = limitsOf(aperture), two = limitsOf(2 * aperture);
    near(two.dawesArcsec, one.dawesArcsec / 2, 1e-12);
    near(two.faintest[0] - one.faintest[0], 5 * Math.log10(2), 1e-9);
    assert.ok(one.faintest[0] < one.faintest[1] && one.dawesArcsec < one.rayleighArcsec);
  }));
  assert.throws(() => limitsOf(0), /above 0 mm, got 0/);
  assert.throws(() => limitsOf(150, NaN), RangeError);
});
