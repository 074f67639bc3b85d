import assert from "node:assert/strict";
import type { PhotoFit } from "../../../lib/testing/photo/photoState.ts";
import { OWN, OWN_COUNT } from "../../../lib/testing/photo/photoModel.ts";
import { findOutline } from "../../../lib/testing/photo/photoOutline.ts";
import { pixelsOf } from "../../../lib/testing/photo/photoPixels.ts";
import { seenIn } from "../../../lib/testing/photo/photoSeen.ts";
import { makePhoto } from "../photoGenerator.ts";

const photo = makePhoto({
  ...{ aperture: 150, radius: 2400, conic: -0.7, offset: -6, linesPerMm: 4, light: [550] },
  ...{ width: 240, height: 220, x: 131, y: 104, r: 80, noise: 0.01, uneven: 0.1 },
});
const bench = {
  radius: 2400,
  half: 75,
  setUp: "same grating",
  linesPerMm: 4,
  wavelength: 550,
} as const;

Deno.test("the face beside the fit: each pixel that was looked at in its place, less what the fit left", () => {
  const outline = findOutline(photo);
  assert.ok(outline !== undefined);
  const pixels = pixelsOf(photo, outline, bench, { offset: -6, offsetU: 0.5 });
  const own = pixels.start.slice(), size = OWN_COUNT + 1;
  own[OWN.power] = 0.5;
  const left = pixels.value.map((_, i) => i % 7 / 100);
  const fit: PhotoFit = {
    ...{
      conic: -0.7,
      terms: [],
      amounts: new Float64Array(0),
      axes: 0,
      own: [own],
      weightedModels: [],
    },
    ...{
      covariance: new Float64Array(size * size),
      size,
      scatter: 0.02,
      cluster: 1,
      pixels: left.length,
    },
    residuals: [left],
  };
  const { face: { across, photo: seen, fit: fitted }, gamma, misfit } = seenIn(
    fit,
    0,
    outline,
    pixels,
  );
  // DERIVED the square around the disc, whose pixels were drawn together for the fit
  const disc = pixels.outline;
  assert.ok(across >= 2 * disc.radius + 2 && across < 2 * disc.radius + 4, `${across}`);
  assert.equal(seen.length, across * across);
  const told = [...seen].filter((v) => !Number.isNaN(v));
  assert.equal(told.length, pixels.value.length, "no pixel outside, none over another");
  // the square's first pixel lies half its width left of and above the disc's middle
  const from = [disc.x, disc.y].map((middle) => Math.floor(middle - across / 2));
  for (const i of [0, left.length >> 1, left.length - 1]) {
    const column = Math.floor(pixels.x[i] ?? NaN) - (from[0] ?? NaN);
    const row = Math.floor(pixels.y[i] ?? NaN) - (from[1] ?? NaN);
    assert.equal(seen[row * across + column], pixels.value[i]);
    assert.equal(fitted[row * across + column], (pixels.value[i] ?? NaN) - (left[i] ?? NaN));
  }
  assert.equal(gamma, 2);
  // DERIVED what is left over what varies, by squares
  const mean = pixels.value.reduce((sum, v) => sum + v, 0) / left.length;
  const spread = pixels.value.reduce((sum, v) => sum + (v - mean) ** 2, 0);
  const off = left.reduce((sum, v) => sum + v * v, 0);
  assert.ok(Math.abs(misfit - Math.sqrt(off / spread)) < 1e-9);
});
