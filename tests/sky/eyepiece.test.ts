import assert from "node:assert/strict";
import fc from "fast-check";
import { ARCSEC, eyepieceShift, imageSize, viewThrough } from "../../lib/sky/eyepiece.ts";

const deg = (angle: number): number => (angle * Math.PI) / 180;
const near = (got: number, wanted: number, within = 1e-3): void =>
  assert.ok(Math.abs(got - wanted) <= within * Math.abs(wanted), `${got}, wanted ${wanted}`);

Deno.test("three eyepieces on 150 f/8", () => {
  // DERIVED f / fe, D fe / f, field / magnification
  const mirror = { aperture: 150, focalLength: 1200 };
  const rows = [
    [25, 50, 48, 3.125, 1.0417],
    [10, 50, 120, 1.25, 0.4167],
    [6, 60, 200, 0.75, 0.3],
  ] as const;
  for (const [focalLength, field, magnification, exit, trueField] of rows) {
    const view = viewThrough(mirror, { focalLength, apparentField: deg(field) });
    near(view.magnification, magnification, 1e-12);
    near(view.exitPupil, exit, 1e-12);
    near((view.trueField * 180) / Math.PI, trueField, 1e-4);
  }
});

Deno.test("an eye without its glasses: in for the short-sighted, out for the long-sighted", () => {
  // DERIVED fe^2 / 1000 a dioptre: -3.75, +2.50, -0.60 mm
  near(eyepieceShift(25, -6), -3.75, 1e-12);
  near(eyepieceShift(25, 4), 2.5, 1e-12);
  near(eyepieceShift(10, -6), -0.6, 1e-12);
  // an eye at the lens instead would ask for -3.261 / +2.778 / -.566: 1/(1/f - P/1000) - f
  for (const [fe, dioptres, wanted] of [[25, -6, -3.261], [25, 4, 2.778], [10, -6, -0.566]]) {
    const f = fe ?? 1, atLens = 1 / (1 / f - (dioptres ?? 0) / 1000) - f;
    near(atLens, wanted ?? 0);
    assert.ok(Math.abs(eyepieceShift(f, dioptres ?? 0) - atLens) < 0.5, "of one size and one sign");
  }
});

Deno.test("images at a focus of 1200 mm", () => {
  // DERIVED f x angle: Sun 11.166 mm, Jupiter .2622 mm, 171.887 arcseconds a mm
  near(imageSize(1200, 1919.3), 11.166, 1e-4);
  near(imageSize(1200, 45.07), 0.2622, 1e-3);
  near(ARCSEC / 1200, 171.887, 1e-5);
  // DERIVED 1198.3 x 19.7 / 206265 = 0.1144 mm, x 44.7 = 0.2597 mm
  assert.equal(imageSize(1198.3, 19.7).toFixed(3), "0.114");
  assert.equal(imageSize(1198.3, 44.7).toFixed(2), "0.26");
});

Deno.test("law: more magnification, less light and less sky, and their product stays", () => {
  fc.assert(fc.property(
    fc.double({ min: 3, max: 60, noNaN: true }),
    fc.double({ min: 400, max: 3000, noNaN: true }),
    (fe, f) => {
      const view = viewThrough({ aperture: 150, focalLength: f }, {
        focalLength: fe,
        apparentField: 0.9,
      });
      near(view.magnification * view.exitPupil, 150, 1e-9);
      near(view.magnification * view.trueField, 0.9, 1e-9);
      near(view.exitPupil, (fe * 150) / f, 1e-9);
    },
  ));
});

Deno.test("refuses what cannot be", () => {
  const mirror = { aperture: 150, focalLength: 1200 };
  assert.throws(
    () => viewThrough(mirror, { focalLength: 0, apparentField: 1 }),
    /above 0, got .*eyepieceFocalLength=0/,
  );
  assert.throws(() => eyepieceShift(25, NaN), RangeError);
  assert.throws(() => imageSize(1200, -1), RangeError);
});
