import assert from "node:assert/strict";
import {
  evening,
  gapDepth,
  lightBetween,
  mirrorKeeps,
  planetImages,
} from "../../../lib/figures/live/planetImage.ts";
import { planetSeen, planetView } from "../../../lib/figures/live/planetSeen.ts";
import { saturnLight } from "../../../lib/figures/drawings/saturn.ts";
import { contrastAt } from "../../../lib/optics/contrast.ts";
import { extendedImage } from "../../../lib/optics/extendedImage.ts";

const still = { ...planetSeen.start, seeing: 0, obstruction: 0, error: 0 };

Deno.test("the mirror keeps as much contrast as the library's integral over its face says", () => {
  // CROSS-CHECK contrastAt of lib/optics/contrast.ts: quadrature of the shifted faces, no Fourier sum; cut-off D / wavelength in cycles an arcsecond
  const cutOff = 150 / 550e-6 / 206264.806;
  for (const [obstruction, error] of [[0, 0], [0.3, 0], [0.2, 0.5]] as const) {
    const keeps = mirrorKeeps({ obstruction, error });
    for (const k of [5, 20, 40, 60, 75]) {
      const waves = (q: number): number => 4 * error * (q * q - q);
      const wanted = contrastAt(k / 64 / cutOff, obstruction, waves);
      assert.ok(Math.abs((keeps[k] ?? 0) - wanted) < 0.005, `${obstruction} ${error} ${k}`);
    }
  }
});

Deno.test("no light is lost by blurring, and none comes from nowhere", () => {
  const sum = (values: Float64Array): number => values.reduce((all, v) => all + v, 0);
  const sharp = planetImages(still, 0.01, 0.01),
    blurred = planetImages({ ...still, seeing: 3 }, 1, 2);
  for (const image of [sharp.felt, blurred.seen, blurred.felt]) {
    assert.ok(Math.abs(sum(image) / sum(sharp.seen) - 1) < 1e-9);
    assert.ok(image.every((v) => v > -0.03 && v < 1.1));
  }
});

Deno.test("the picture is the library's own image of the planet, by another route, place by place", () => {
  // CROSS-CHECK extendedImage of lib/optics/extendedImage.ts: contrast by quadrature instead of the pupil's light, a square of its own, single pixels
  const size = 256, pixel = 0.25, through = { obstruction: 0.2, error: 0.3, seeing: 1 };
  const values = Float64Array.from({ length: size * size }, (_, k) => {
    const x = (k % size) - size / 2, y = Math.floor(k / size) - size / 2;
    let sum = 0;
    for (let i = 0; i < 16; i++) {
      const dx = (i % 4 + 0.5) / 4 - 0.5, dy = (Math.floor(i / 4) + 0.5) / 4 - 0.5;
      sum += saturnLight(evening, pixel * (x + dx), pixel * (y + dy));
    }
    return sum / 16;
  });
  const wanted = extendedImage({ size, values }, pixel, {
    ...{ aperture: 150, obstruction: 0.2, seeingArcsec: Math.hypot(1, 0.5) },
    waves: (q) => 4 * 0.3 * (q * q - q),
  }).values;
  const { felt } = planetImages({ ...still, ...through }, 1, 0.5);
  for (let y = -20; y <= 20; y += 2) {
    for (let x = -100; x <= 100; x++) {
      const here = lightBetween(felt, pixel * x, pixel * y);
      assert.ok(Math.abs(here - (wanted[(128 + y) * size + 128 + x] ?? NaN)) < 0.004, `${x} ${y}`);
    }
  }
});

Deno.test("size grows with the power; the gap shows with power in still air, and in bad air never", () => {
  const views = [25, 10, 6, 4].map((eyepiece) => planetView({ ...still, eyepiece }));
  views.forEach(({ exitPupil, magnification }) => {
    assert.ok(Math.abs(exitPupil * magnification - 150) < 1e-9);
  });
  const gaps = views.map(({ gap }) => gap), finest = views.map((view) => view.finest);
  assert.ok((gaps[0] ?? 1) < 0.06 && (gaps[3] ?? 0) > 0.4, gaps.join());
  // from 200 to 300 times the size grows by half, the finest detail by an eighth
  assert.ok(
    (finest[2] ?? 0) / (finest[3] ?? 1) < 1.15 && (finest[0] ?? 0) / (finest[1] ?? 1) > 1.9,
  );
  for (const eyepiece of [25, 10, 6, 4]) {
    assert.ok(planetView({ ...still, eyepiece, seeing: 3 }).gap < 0.02);
  }
});

Deno.test("a flat and an error of the mirror take contrast from the gap", () => {
  const depth = (changes: Record<string, number>): number =>
    gapDepth(planetImages({ ...still, ...changes }, 0.1, 0.1).felt);
  assert.ok(depth({ error: 0.5 }) < depth({}) - 0.03);
  assert.ok(depth({ obstruction: 0.4, error: 0.25 }) < depth({ error: 0.25 }));
});
