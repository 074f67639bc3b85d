import assert from "node:assert/strict";
import fc from "fast-check";
import { sunlightAtFocus } from "../../lib/sky/sunlight.ts";

const near = (got: number, wanted: number, within = 1e-3): void =>
  assert.ok(Math.abs(got - wanted) <= within * Math.abs(wanted), `${got}, wanted ${wanted}`);

Deno.test("150 f/8 in clear sunlight: coated, and bare", () => {
  // DERIVED: 900 W/m2 x area = 15.904 W; over the image of 11.166 mm: 146.2 and 6.84 kW/m2
  const coated = sunlightAtFocus({ aperture: 150, focalLength: 1200 }, 0.9);
  near(coated.power, 15.904, 1e-4);
  near(coated.image, 11.166, 1e-4);
  near(coated.kwPerM2, 146.2, 1e-3);
  near(sunlightAtFocus({ aperture: 150, focalLength: 1200 }, 0.0421).kwPerM2, 6.84, 1e-3);
  // DERIVED geometric concentration (150 / 11.166)^2
  near(coated.kwPerM2 / 0.9 / 0.9, 180.46, 1e-3);
});

Deno.test("law: only the focal ratio counts in the image, only the area in the power", () => {
  fc.assert(fc.property(fc.double({ min: 50, max: 400, noNaN: true }), (aperture) => {
    const one = sunlightAtFocus({ aperture, focalLength: 8 * aperture }, 0.9);
    near(one.kwPerM2, sunlightAtFocus({ aperture: 150, focalLength: 1200 }, 0.9).kwPerM2, 1e-9);
    near(
      sunlightAtFocus({ aperture: 2 * aperture, focalLength: 900 }, 0.9).power,
      4 * one.power,
      1e-9,
    );
  }));
});

Deno.test("refuses what cannot be", () => {
  assert.throws(() => sunlightAtFocus({ aperture: 0, focalLength: 1200 }, 0.9), RangeError);
  assert.throws(() => sunlightAtFocus({ aperture: 150, focalLength: 1200 }, 1.1), /from 0 to 1/);
});
