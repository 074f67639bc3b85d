import assert from "node:assert/strict";
import { bandSpacing, brightBands } from "../../../lib/testing/bands/ronchiBands.ts";
import { close } from "../../optics/close.ts";
import { bench } from "../ronchiBench.ts";

const places = (bands: readonly { across: number }[]): number[] => bands.map((b) => b.across);

Deno.test("bright bands across the diameter, an LED behind the same grating", () => {
  // CROSS-CHECK numpy 1.24.2 / scipy 1.10.1: ray trace, printed to 1e-6 mm
  const printed = [
    [bench(150, 2400, 0, -5), [59.981337]],
    [bench(200, 2400, -1, -3), [72.992934]],
    [bench(200, 2400, -1, -8), [36.258652, 67.124208, 92.133763]],
    [bench(200, 2400, -0.5, -3), [81.30604]],
  ] as const;
  for (const [setting, right] of printed) {
    const wanted = [...right.map((v) => -v).reverse(), 0, ...right];
    const got = places(brightBands(setting));
    assert.equal(got.length, wanted.length);
    got.forEach((v, i) => close(v, wanted[i] ?? NaN, 2e-6));
  }
});

Deno.test("a paraboloid's bands bulge outward inside the centre, and inward outside", () => {
  // CROSS-CHECK numpy 1.24.2: three-dimensional trace at y = 0, 40, 80
  const inside = [0, 40, 80].map((y) =>
    brightBands(bench(200, 2400, -1, -3), y).find((b) => b.order === 1)?.across ?? NaN
  );
  const outside = [0, 40, 80].map((y) =>
    brightBands(bench(200, 2400, -1, 8), y).find((b) => b.order === -1)?.across ?? NaN
  );
  inside.forEach((v, i) => close(v, [72.992934, 69.247044, 59.237373][i] ?? NaN, 2e-6));
  outside.forEach((v, i) => close(v, [39.050775, 41.003732, 48.58337][i] ?? NaN, 2e-6));
});

Deno.test("bands are counted as the formula counts them", () => {
  for (const shift of [0, 0.02, 0.05]) {
    for (const d of [-2, -5, -10, -12.3]) {
      const setting = { ...bench(148, 2396, 0, d), shift };
      // DERIVED bright where X = 2g + n/p, and a sphere's X runs evenly from -Xm to Xm
      const edge = (148 * Math.abs(d)) / (2396 + d);
      const count = Math.floor((edge - 2 * shift) * 4) + Math.floor((edge + 2 * shift) * 4) + 1;
      assert.equal(brightBands(setting).length, count, `${d} ${shift}`);
    }
  }
});

Deno.test("a shift by a quarter pitch swaps bright and dark behind the same grating, by half a pitch beside it", () => {
  const near = (setting: Parameters<typeof brightBands>[0]): number =>
    Math.min(...places(brightBands(setting)).map(Math.abs));
  const half = bandSpacing(2400, -5, 4, "same grating") / 2;
  assert.equal(near(bench(150, 2400, 0, -5)), 0);
  close(near({ ...bench(150, 2400, 0, -5), shift: 1 / 16 }), half, 0.1);
  close(near({ ...bench(150, 2400, 0, -5, "slit beside"), shift: 1 / 8 }), half, 0.1);
});

Deno.test("bands close into loops between the centre and the rim's crossing", () => {
  // DERIVED X = (x/R)(r^2/R - 2d): zero where r = sqrt(2Rd), 84.9 mm for d = 1.5 on 200 mm f/6
  const bands = brightBands(bench(200, 2400, -1, 1.5)).filter((b) => b.order === 0);
  assert.equal(bands.length, 3);
  close(bands[2]?.across ?? NaN, Math.sqrt(2 * 2400 * 1.5), 0.02);
});

Deno.test("spacing on a sphere, and what it refuses", () => {
  const [left, middle] = brightBands(bench(148, 2396, 0, -5));
  close((middle?.across ?? 0) - (left?.across ?? 0), bandSpacing(2396, -5, 4, "same grating"), 0.2);
  assert.throws(() => bandSpacing(2396, 0, 4, "fixed"), /an offset that is not 0/);
  assert.throws(() => bandSpacing(0, 1, 4, "fixed"), /radius=0/);
  assert.throws(() => brightBands(bench(150, 2400, 0, -5), 75), /a chord inside 75 mm/);
});
