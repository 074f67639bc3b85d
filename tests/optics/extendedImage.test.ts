import assert from "node:assert/strict";
import { extendedImage } from "../../lib/optics/extendedImage.ts";
import { radialGrid } from "../../lib/optics/quality.ts";
import { starProfile } from "../../lib/optics/starImage.ts";
import { close } from "./close.ts";

const size = 256, middle = (size / 2) * size + size / 2;
const point = new Float64Array(size * size);
point[middle] = 1;
const ARCSEC = 206264.806;

Deno.test("a point's image is the star's, by the pupil's own diffraction, with wavefront and obstruction", () => {
  const aperture = 150, pixel = 0.1, lambdaOverD = (550e-6 / aperture) * ARCSEC;
  const cases = [[0, 0], [0.25, 0], [0, 0.25], [0.207, 0.3]] as const;
  for (const [obstruction, sphere] of cases) {
    const waves = (q: number): number => sphere * (q * q - q) * 4;
    const image = extendedImage({ size, values: point }, pixel, { aperture, obstruction, waves });
    const grid = radialGrid(60, obstruction), extent = (20 * pixel) / lambdaOverD;
    // CROSS-CHECK starProfile in lib/optics/starImage.ts: the Hankel integral of the pupil, not its overlap with itself
    const star = starProfile(grid, grid.q.map((q) => waves(q)), extent, 20).brightness;
    const peak = Math.max(...star), top = Math.max(...image.values);
    for (let k = 0; k <= 20; k++) {
      close(
        (image.values[middle + k] ?? 0) / top,
        (star[k] ?? 0) / peak,
        2e-3,
        `${obstruction} ${sphere} ${k}`,
      );
    }
  }
});

Deno.test("bad air makes a bell as wide as told, about as wide as root of both squares", () => {
  const image = extendedImage({ size, values: point }, 0.1, { aperture: 1000, seeingArcsec: 3 });
  const half = (image.values[middle] ?? 0) / 2;
  const at = Array.from({ length: 40 }, (_, k) => image.values[middle + k] ?? 0)
    .findIndex((value) => value < half);
  // DERIVED: half the width at half height is 1.5 arcseconds, 15 pixels
  assert.ok(Math.abs(at - 15.5) <= 1, `${at}`);
});

Deno.test("laws: no light is lost, an even field stays even, a longer blur is never finer", () => {
  const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);
  const through = { aperture: 150, obstruction: 0.2, seeingArcsec: 1 };
  close(sum(extendedImage({ size, values: point }, 0.2, through).values), 1, 1e-9);
  const even = extendedImage(
    { size, values: new Float64Array(size * size).fill(0.7) },
    0.2,
    through,
  );
  for (const value of even.values) close(value, 0.7, 1e-9);
  const tops = [0, 1, 2, 4].map((seeingArcsec) =>
    Math.max(...extendedImage({ size, values: point }, 0.2, { aperture: 150, seeingArcsec }).values)
  );
  assert.deepEqual(tops, [...tops].sort((a, b) => b - a));
});

Deno.test("refuses what cannot be", () => {
  const scene = { size, values: point };
  assert.throws(() => extendedImage(scene, 0, { aperture: 150 }), /arcsecPerPixel above 0/);
  assert.throws(() => extendedImage(scene, 0.2, { aperture: NaN }), RangeError);
  assert.throws(() => extendedImage(scene, 0.2, { aperture: 150, seeingArcsec: -1 }), RangeError);
  assert.throws(
    () => extendedImage({ size: 100, values: point }, 0.2, { aperture: 150 }),
    RangeError,
  );
  assert.throws(() => extendedImage(scene, 0.2, { aperture: 150, obstruction: 1 }), RangeError);
});
