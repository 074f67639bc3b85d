import assert from "node:assert/strict";
import { close } from "../../optics/close.ts";
import { shadowByDiffraction } from "./knifeWaves.ts";

const sphere = {
  surface: { radius: 2400, conic: 0 },
  half: 75,
  source: "fixed",
  knife: 0,
} as const;

/** Perfect wavefront, knife on the axis: (1/4)(1 + ln^2((c+x)/(c-x)) / pi^2), c the half chord. */
const rayleigh = (x: number, y: number): number => {
  const c = Math.sqrt(75 * 75 - y * y);
  return 0.25 * (1 + Math.log((c + x) / (c - x)) ** 2 / Math.PI ** 2);
};

Deno.test("the closed form for a perfect mirror", () => {
  // CROSS-CHECK ../secondRoute.py, shadow of a perfect mirror: Hilbert's transform of a chord by scipy's Cauchy quadrature, printed to 1e-8
  const printed = [[0, 0, 0.25], [25, 0, 0.26217002], [50, 0, 0.31561282], [70, 0, 0.53721215], [
    30,
    40,
    0.27674321,
  ], [0, 60, 0.25]];
  for (const [x = 0, y = 0, value = 0] of printed) close(rayleigh(x, y), value, 6e-9);
});

Deno.test("diffraction of a perfect mirror is that form at every pixel", () => {
  const size = 61, { values } = shadowByDiffraction(sphere, size);
  let seen = 0;
  values.forEach((v, k) => {
    if (Number.isNaN(v)) return;
    const x = 75 * ((2 * (k % size) + 1) / size - 1),
      y = 75 * ((2 * Math.floor(k / size) + 1) / size - 1);
    const c = Math.sqrt(75 * 75 - y * y);
    if (c - Math.abs(x) < 150 / size) return; // the pixel that the chord's end cuts
    seen++;
    close(v, rayleigh(x, y), 1e-9);
  });
  assert.ok(seen > 2000);
});

Deno.test("the farther the knife is drawn out, the more light passes", () => {
  // CROSS-CHECK ../secondRoute.py, past the knife: share of all light past a knife drawn out by x (wavelength x focal ratio of the return,
  // 2400/150): 0.25 -> 0.70104972, 0.5 -> 0.84544509, 1 -> 0.93908914; what leaves the disc's image is counted there
  const unit = 550e-6 * 16;
  const share = (across: number): number => {
    const seen = [...shadowByDiffraction({ ...sphere, across: across * unit }, 61).values].filter((
      v,
    ) => !Number.isNaN(v));
    return seen.reduce((a, b) => a + b, 0) / seen.length;
  };
  const printed = [[0.25, 0.70104972], [0.5, 0.84544509], [1, 0.93908914]];
  for (const [x = 0, light = 0] of printed) {
    const passed = share(-x), stopped = share(x);
    // DERIVED field past the edge + field stopped by it = U; outside the disc, where U is 0, both lose equally much, so
    // their difference inside is light - (1 - light)
    close(passed - stopped, 2 * light - 1, 0.01);
    assert.ok(passed < light && stopped < 1 - light);
  }
  assert.ok(share(-20) > 0.9 && share(20) < 0.01);
});
