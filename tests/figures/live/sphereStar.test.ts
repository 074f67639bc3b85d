import assert from "node:assert/strict";
import { sphereStar } from "../../../lib/figures/live/sphereStar.ts";
import { starPixels } from "../../../lib/figures/live/starPlan.ts";
import { airyIntensity } from "../../optics/airyPattern.ts";

const at = (aperture: number, focal: number, eyepiece = 0): ReturnType<typeof sphereStar> =>
  sphereStar({ aperture, focal, eyepiece, wavelength: 550 });

Deno.test("a 150 mm f/8 sphere at its best focus: crossings, patch, Strehl", () => {
  const { rays, spot, strehl, defocusWaves } = at(150, 1200);
  // DERIVED: rays of a sphere cross r² ÷ 4R short of the focus; 75² ÷ 9600 = 0.586 mm for the rim, a quarter of it for
  // half the rim; the best focus by RMS lies half-way: +0.293 ... -0.293.
  assert.ok(Math.abs((rays[0]?.crosses ?? 0) + 0.293) < 0.002);
  assert.ok(Math.abs((rays[0]?.crosses ?? 0) - (rays[2]?.crosses ?? 0) + 0.75 * 0.586) < 0.002);
  // DERIVED: the rim's ray is 0.293 mm from its crossing and nears the axis by 1 ÷ 16: 2 x 0.293 ÷ 16 = 0.0366.
  assert.ok(Math.abs(spot - 0.0367) < 0.0003);
  // DERIVED: 0.260 wave P-V is 0.0775 RMS (P-V ÷ 1.5√5): exp(-(2π x 0.0775)²) = 0.789, the exact a little below.
  assert.ok(strehl > 0.78 && strehl < 0.789);
  assert.equal(defocusWaves, 0);
});

Deno.test("the paraboloid's star is Airy's, and alike on both sides of the focus; the sphere's is not", () => {
  const { paraboloid } = at(150, 1200);
  paraboloid.distances.forEach((v, i) =>
    assert.ok(Math.abs((paraboloid.brightness[i] ?? 0) - airyIntensity(v)) < 1e-9)
  );
  const inside = at(150, 1200, -0.8), outside = at(150, 1200, 0.8);
  const apart = (a: Float64Array, b: Float64Array): number =>
    Math.max(...a.map((v, i) => Math.abs(v - (b[i] ?? 0))));
  assert.ok(apart(inside.paraboloid.brightness, outside.paraboloid.brightness) < 1e-9);
  const brightest = Math.max(...inside.sphere.brightness, ...outside.sphere.brightness);
  assert.ok(apart(inside.sphere.brightness, outside.sphere.brightness) > 0.3 * brightest);
});

Deno.test("moving the eyepiece by a wave of defocus takes the middle of a perfect star away", () => {
  // DERIVED: Strehl of pure defocus W is sin²(πW) ÷ (πW)²: nothing at one wave, which is 8λN² = 0.2816 mm at f/8.
  assert.ok((at(150, 1200, 0.2816).paraboloid.brightness[0] ?? 1) < 1e-6);
});

Deno.test("the fastest mirror of the sliders is reckoned finely enough", () => {
  const { sphere, paraboloid, strehl } = at(250, 900, 1);
  assert.ok(Math.abs(strehl - (sphere.brightness[0] ?? 1)) < 1e-9);
  // DERIVED as above: 1 mm at f/3.6 is 17.5 waves
  const w = 1 / (8 * 550e-6 * 3.6 ** 2), wanted = (Math.sin(Math.PI * w) / (Math.PI * w)) ** 2;
  assert.ok(Math.abs((paraboloid.brightness[0] ?? 1) - wanted) < 1e-9);
});

Deno.test("the star's picture is round, white in the middle and never brighter", () => {
  // DERIVED: brightness is given over its own peak
  const { width, values } = starPixels(at(150, 1200).paraboloid, 21);
  assert.equal(values[10 * width + 10]?.toFixed(9), "1.000000000");
  assert.ok(values.every((v) => v >= 0 && v <= 1));
  for (let i = 0; i < 21; i++) {
    assert.ok(Math.abs((values[10 * width + i] ?? 0) - (values[i * width + 10] ?? 1)) < 1e-12);
  }
});
