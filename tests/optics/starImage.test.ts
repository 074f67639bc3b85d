import assert from "node:assert/strict";
import { AIRY_DARK_RINGS } from "../../lib/optics/airy.ts";
import { atBestFocus, radialGrid } from "../../lib/optics/quality.ts";
import { starImage, starProfile } from "../../lib/optics/starImage.ts";
import { zernike } from "../../lib/optics/zernike.ts";
import { airyEncircled, airyIntensity } from "./airyPattern.ts";
import { close } from "./close.ts";

Deno.test("a perfect mirror gives Airy's pattern, with and without obstruction", () => {
  for (const obstruction of [0, 0.2, 0.35]) {
    const grid = radialGrid(40, obstruction), star = starProfile(grid, grid.q.map(() => 0), 4, 200);
    star.distances.forEach((v, i) =>
      close(star.brightness[i] ?? 0, airyIntensity(v, obstruction), 1e-12)
    );
    star.distances.forEach((v, i) =>
      close(star.encircled[i] ?? 0, airyEncircled(v, obstruction), 2e-6)
    );
  }
});

Deno.test("light inside the first dark ring", () => {
  // CROSS-CHECK secondRoute.py, light inside: 0.83778487, 0.90993054, 0.93764747
  const grid = radialGrid(), star = starProfile(grid, grid.q.map(() => 0), AIRY_DARK_RINGS[0], 200);
  close(star.encircled.at(-1) ?? 0, 0.83778487, 1e-6);
});

Deno.test("aberration moves light from the middle to the rings, and loses none", () => {
  const grid = radialGrid(), waves = grid.q.map((q) => q * q - q);
  const star = starProfile(grid, waves, 40, 2000);
  close(star.brightness[0] ?? 0, atBestFocus(grid, waves).strehl, 1e-12);
  assert.ok((star.encircled.at(-1) ?? 0) > 0.985 && (star.encircled.at(-1) ?? 0) < 1);
  const ring = Math.round(1.63 * 50);
  assert.ok((star.brightness[ring] ?? 0) > 1.5 * airyIntensity(1.63));
});

Deno.test("the picture agrees with the radial image", () => {
  const grid = radialGrid(), f = (q: number): number => 0.3 * (q * q - q);
  const picture = starImage({ waves: (x, y) => f(x * x + y * y) }, 41, 4, 160);
  const star = starProfile(grid, grid.q.map(f), 4, 20);
  for (let i = 0; i <= 20; i++) {
    close(picture.values[20 * 41 + 20 + i] ?? 0, star.brightness[i] ?? 0, 1.5e-3);
  }
});

Deno.test("tilt moves the star by one unit a wave over the radius, toward + x", () => {
  // DERIVED W = t x gives its peak at v = 2 t: exp(2 pi i t x - i pi v x)
  const picture = starImage({ waves: (x) => 0.5 * x }, 41, 4, 64);
  const peak = picture.values.indexOf(Math.max(...picture.values));
  assert.deepEqual([peak % 41, Math.floor(peak / 41)], [25, 20]);
});

Deno.test("astigmatism makes a cross, coma a lopsided star", () => {
  const astigmatic = starImage(
    { waves: (x, y) => 0.15 * zernike({ n: 2, m: 2 }, Math.hypot(x, y), Math.atan2(y, x)) },
    41,
    4,
  );
  const at = (p: typeof astigmatic, dx: number, dy: number): number =>
    p.values[(20 + dy) * 41 + 20 + dx] ?? 0;
  for (const d of [4, 7, 9]) close(at(astigmatic, d, 0), at(astigmatic, -d, 0), 1e-12);
  const coma = starImage(
    { waves: (x, y) => 0.1 * zernike({ n: 3, m: 1 }, Math.hypot(x, y), Math.atan2(y, x)) },
    41,
    4,
  );
  assert.ok(Math.abs(at(coma, 8, 0) - at(coma, -8, 0)) > 0.01);
  close(at(coma, 0, 8), at(coma, 0, -8), 1e-12);
});

Deno.test("refusals", () => {
  assert.throws(() => starProfile(radialGrid(), [0]), RangeError);
  assert.throws(() => starImage({ waves: () => 0 }, 1), RangeError);
});
