/** The propagated wave beside the sum of Bessel functions, and its slopes beside steps. */
import assert from "node:assert/strict";
import { radialGrid } from "../../../lib/optics/quality.ts";
import { starProfile } from "../../../lib/optics/starImage.ts";
import { zernike } from "../../../lib/optics/zernike.ts";
import {
  cubicPlaces,
  edgeShape,
  IMAGE_SLOPES,
  SHARED,
  STAR_TERMS,
  starGrid,
  starLight,
  type StarState,
} from "../../../lib/testing/star/starWave.ts";
import { close } from "../../optics/close.ts";

const grid = starGrid(88, 128);
const still: Omit<StarState, "waves"> = {
  obstruction: 0,
  air: 1e-9,
  shake: [0, 0, 0],
  pixel: 1e-6,
  disc: 4,
};

function wavesWith(defocus: number, amounts: Readonly<Record<string, number>> = {}): Float64Array {
  const waves = new Float64Array(SHARED + 1);
  STAR_TERMS.forEach(({ n, m }, k) => waves[k] = amounts[`${n} ${m}`] ?? 0);
  waves[SHARED] = defocus;
  return waves;
}

Deno.test("a wave of revolution gives the rings that Bessel's functions give, on both sides, with a flat too", () => {
  const fine = starGrid(200, 512);
  for (const [defocus, obstruction] of [[4, 0], [-4, 0], [3, 0.25]] as const) {
    const waves = wavesWith(defocus, { "4 0": 0.08 });
    const { light } = starLight(fine, { ...still, obstruction, waves }, false);
    const radial = radialGrid(80, obstruction), count = 100;
    const wave = radial.q.map((q) => defocus * q + 0.08 * zernike({ n: 4, m: 0 }, Math.sqrt(q), 0));
    // DERIVED a slope unit is two of wavelength x focal ratio; all light is pi, a perfect peak pi^2: 4 pi^2 disc^2 over the mean
    const profile = starProfile(radial, wave, 2 * fine.step * count, count);
    // and the profile's own peak is that of what is open
    const scale = 4 * Math.PI ** 2 * still.disc ** 2 * (1 - obstruction ** 2) ** 2;
    for (let k = 0; k < count; k++) {
      close(light[k] ?? 0, scale * (profile.brightness[k] ?? 0), 0.03);
    }
  }
});

Deno.test("outside focus a wave that is ahead at both ends of a line makes the disc longer along it; inside, across", () => {
  // DERIVED light goes where the wave's slope points: 2 (w + sqrt 6 a) x along, 2 (w - sqrt 6 a) y across
  for (const side of [1, -1]) {
    const { light } = starLight(grid, {
      ...still,
      waves: wavesWith(side * 4, { "2 2": 0.2 }),
    }, false);
    let xx = 0, yy = 0;
    for (let j = -50; j < 50; j++) {
      for (let i = -50; i < 50; i++) {
        const v = light[(j & 127) * 128 + (i & 127)] ?? 0;
        xx += v * i * i;
        yy += v * j * j;
      }
    }
    const long = 4 + side * Math.sqrt(6) * 0.2, short = 4 - side * Math.sqrt(6) * 0.2;
    close(Math.sqrt(xx / yy), long / short, 0.02);
  }
});

Deno.test("an edge adds nothing to the other terms of revolution", () => {
  let sum = 0, spherical = 0;
  for (let k = 0; k < 4000; k++) {
    const rho = Math.sqrt((k + 0.5) / 4000);
    sum += edgeShape(rho) / 4000;
    spherical += (edgeShape(rho) * zernike({ n: 4, m: 0 }, rho, 0)) / 4000;
  }
  close(sum, 0, 1e-4);
  close(spherical, 0, 1e-4);
});

Deno.test("slopes of the picture are those of small steps", () => {
  const waves = wavesWith(3.5, { "2 2": 0.05, "3 -1": -0.04, "4 0": 0.06 });
  const at = { waves, obstruction: 0.21, air: 4, shake: [0.05, 0.02, 0.03], pixel: 0.4, disc: 3.5 };
  const stepped = (k: number, by: number): Float64Array => {
    const own = { ...at, waves: waves.slice(), shake: [...at.shake] };
    if (k <= SHARED) own.waves[k] = (own.waves[k] ?? 0) + by;
    else if (k === SHARED + 1) own.obstruction += by;
    else if (k === SHARED + 2) own.air *= Math.exp(by);
    else own.shake[k - SHARED - 3] = (own.shake[k - SHARED - 3] ?? 0) + by;
    return starLight(grid, own as unknown as StarState, false).light;
  };
  const { slopes } = starLight(grid, at as unknown as StarState, true);
  assert.equal(slopes.length, IMAGE_SLOPES);
  slopes.forEach((slope, k) => {
    const up = stepped(k, 1e-5), down = stepped(k, -1e-5);
    const largest = slope.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
    slope.forEach((v, i) => close(v, ((up[i] ?? 0) - (down[i] ?? 0)) / 2e-5, 1e-4 * largest));
  });
});

Deno.test("between its places a picture is read as the smooth curve that it is", () => {
  const size = 32, values = new Float64Array(size * size);
  const wave = (x: number, y: number): number => Math.sin((2 * Math.PI * (2 * x + y)) / size);
  for (let j = 0; j < size; j++) for (let i = 0; i < size; i++) values[j * size + i] = wave(i, j);
  const into = {
    at: new Int32Array(16),
    value: new Float64Array(16),
    dx: new Float64Array(16),
    dy: new Float64Array(16),
  };
  const sum = (weights: Float64Array): number =>
    weights.reduce((all, w, k) => all + w * (values[into.at[k] ?? 0] ?? 0), 0);
  for (const [x, y] of [[3.3, 4.8], [-2.6, 0.1], [31.9, 31.2]] as const) {
    cubicPlaces(size, x, y, into);
    close(sum(into.value), wave(x, y), 0.01);
    const slope = (2 * Math.PI * 2) / size * Math.cos((2 * Math.PI * (2 * x + y)) / size);
    close(sum(into.dx), slope, 0.03);
    close(sum(into.dy), slope / 2, 0.03);
  }
});
