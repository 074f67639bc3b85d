import assert from "node:assert/strict";
import {
  pathLength,
  ronchiByDiffraction,
  ronchiPlan,
} from "../../../lib/testing/bands/ronchiPicture.ts";
import { rayAtGrating, type RonchiSetting } from "../../../lib/testing/bands/ronchi.ts";
import { close } from "../../optics/close.ts";
import { bench } from "../ronchiBench.ts";
import { ronchiAt, ronchiByRays } from "./ronchiReference.ts";

type Points = readonly (readonly [number, number])[];
const points: Points = [[0, 0], [10, 0], [20, 0], [30, 0], [45, 20], [60, 0], [-30, 40]];

/** Worst difference over the points, held to the tolerance. */
function agree(
  name: string,
  setting: RonchiSetting,
  at: Points,
  wanted: readonly number[],
  room = 0.007,
): number {
  const off = ronchiAt(at, setting).map((v, i) => Math.abs(v - (wanted[i] ?? NaN)));
  assert.ok(Math.max(...off) < room, `${name}: ${off}`);
  return Math.max(...off);
}

Deno.test("a point lamp beside the grating: the exact sum of sheared apertures", () => {
  // CROSS-CHECK ../secondRoute.py, sheared apertures: finite sum over the grating's orders, clear slit on the axis, 4 lines in each mm; 0.007 is
  // what rows three apertures wide were found to reach
  const off = [
    agree("sphere", bench(150, 2400, 0, -5, "slit beside"), points, [
      1.5496887,
      0.62282836,
      0.13211361,
      0.06623445,
      0.22324711,
      1.26796964,
      0.08783569,
    ]),
    agree("paraboloid", bench(200, 2400, -1, -3, "slit beside"), points, [
      1.38547033,
      1.07244468,
      0.30796462,
      0.10024195,
      0.12585447,
      0.28865678,
      0.10795891,
    ]),
    agree("paraboloid", bench(200, 2400, -1, -6, "slit beside"), points, [
      1.51467637,
      0.14753827,
      0.01762623,
      0.10760784,
      1.51943991,
      0.14487536,
      0.14277372,
    ]),
  ];
  assert.ok(Math.max(...off) < 0.007);
});

const led: Points = [[0, 0], [15, 0], [30, 0], [45, 0], [60, 0], [-30, 40]];

Deno.test("an LED behind the same grating, and a quarter pitch on", () => {
  // CROSS-CHECK ../secondRoute.py, behind the same grating: the same sum, mean over 400 places of the source
  agree("sphere", bench(150, 2400, 0, -5), led, [
    0.8570543,
    0.4934927,
    0.1221475,
    0.4942664,
    0.8517493,
    0.1225239,
  ], 5e-4);
  const at: Points = [[0, 0], [10, 0], [21, 0], [30, 0], [45, 20], [60, 0], [-30, 40]];
  agree("paraboloid", bench(200, 2400, -1, -6), at, [
    0.8139554,
    0.6349161,
    0.1551592,
    0.1772631,
    0.8198638,
    0.2579042,
    0.2421615,
  ], 5e-4);
  agree("quarter pitch", { ...bench(200, 2400, -1, -6), shift: 1 / 16 }, at, [
    0.1747983,
    0.3543988,
    0.8330134,
    0.8112926,
    0.1664203,
    0.7261191,
    0.7451952,
  ], 5e-4);
});

Deno.test("the closed form for half-clear lines is the mean over places in the source", () => {
  // a clear share a hair from one half goes the long way round
  const setting = { ...bench(200, 2400, -1, -6), shift: 0.02 };
  const short = ronchiAt(points, setting),
    long = ronchiAt(points, { ...setting, clear: 0.5 + 1e-9 });
  short.forEach((v, i) => close(v, long[i] ?? NaN, 0.003));
});

Deno.test("a whole picture holds what its points say, also with the grating turned", () => {
  for (const turn of [0, 0.4]) {
    const setting = { ...bench(150, 2400, -1, -6), turn };
    const { values, size } = ronchiByDiffraction(setting, 65);
    for (const [row, column] of [[32, 32], [20, 30], [40, 50], [10, 28]] as const) {
      const x = 75 * ((2 * column + 1) / size - 1), y = 75 * (1 - (2 * row + 1) / size);
      const [point = NaN] = ronchiAt([[x, y]], setting);
      close(values[row * size + column] ?? NaN, point, turn === 0 ? 2e-3 : 0.01);
    }
  }
});

Deno.test("on a mirror of revolution a turned grating only turns the picture", () => {
  const setting = bench(150, 2400, -1, -6);
  const quarter = ronchiByDiffraction({ ...setting, turn: Math.PI / 2 }, 41);
  const plain = ronchiByDiffraction(setting, 41);
  for (let k = 0; k < 41 * 41; k++) {
    const row = Math.floor(k / 41), column = k % 41;
    // up in the one is right in the other
    const other = plain.values[column * 41 + row] ?? NaN, v = quarter.values[k] ?? NaN;
    if (Number.isNaN(v)) continue;
    const rim = Math.hypot(row - 20, column - 20) > 19;
    if (!rim) close(v, other, 0.01);
  }
});

Deno.test("far from the edge and from focus, rays and diffraction tell the same bands", () => {
  const setting = bench(200, 2400, -1, -6);
  const rays = ronchiByRays(setting, 101).values, waves = ronchiByDiffraction(setting, 101).values;
  let sum = 0, count = 0;
  rays.forEach((v, k) => {
    const r = Math.hypot((k % 101) - 50, Math.floor(k / 101) - 50);
    if (r > 42) return;
    sum += (v - (waves[k] ?? NaN)) ** 2;
    count++;
  });
  const rms = Math.sqrt(sum / count);
  assert.ok(rms < 0.14 && rms > 0.01, String(rms)); // diffraction rounds the triangle's corners: they are not the same
});

Deno.test("a slit of some width softens the bands; any clear share keeps the light", () => {
  const point = bench(150, 2400, 0, -8, "slit beside");
  const spread = (setting: RonchiSetting): number => {
    const seen = [...ronchiByDiffraction(setting, 41).values].filter((v) => !Number.isNaN(v));
    const mean = seen.reduce((a, b) => a + b) / seen.length;
    return Math.sqrt(seen.reduce((a, b) => a + (b - mean) ** 2, 0) / seen.length);
  };
  assert.ok(spread({ ...point, slit: 0.12 }) < 0.9 * spread(point));
  for (const clear of [0.3, 0.5, 0.7]) {
    const seen = [...ronchiByRays({ ...bench(150, 2400, 0, -20), clear }, 81).values]
      .filter((v) => !Number.isNaN(v));
    // DERIVED many bands: the mean of what passes is the clear share
    close(seen.reduce((a, b) => a + b) / seen.length, clear, 0.02);
  }
});

Deno.test("the path's slope is the ray's place at the grating", () => {
  // DERIVED X = L d(path)/dx / the cosine of the light's slant: one wave more on a mm turns light by wavelength/mm
  for (const conic of [0, -1]) {
    for (const setUp of ["same grating", "fixed"] as const) {
      const setting = bench(150, 2400, conic, -5, setUp), h = 0.01;
      const slope = (pathLength(50 + h, 0, setting) - pathLength(50 - h, 0, setting)) / (2 * h);
      close((slope * 2395) / rayAtGrating(50, 0, setting).across, 1, 2e-3);
    }
  }
});

Deno.test("rows are fine and wide enough, or refused", () => {
  for (const d of [-2, -5, -20, -60]) {
    const plan = ronchiPlan(bench(200, 2400, -1, d), 2);
    const farthest = Math.abs(rayAtGrating(100, 0, bench(200, 2400, -1, d)).across);
    assert.ok(plan.reach > 2 * farthest, `${d}`);
    assert.ok(plan.count * plan.step >= 800 && plan.step <= 2);
  }
  assert.throws(
    () => ronchiPlan(bench(400, 1600, 0, -700), 1),
    /light that rows of 65536 samples can follow/,
  );
  assert.throws(() => ronchiByDiffraction(bench(150, 2400, 0, -5), 2), /a whole size of 3 or more/);
  assert.throws(
    () => ronchiByDiffraction({ ...bench(150, 2400, 0, -5), half: 0 }, 9),
    /requires half/,
  );
});
