/** Pictures for a slider: the same light as the transform without short cuts, and as an exact sum of sheared images. */
import assert from "node:assert/strict";
import { ronchiFrame } from "../../../lib/testing/bands/ronchiFrame.ts";
import { ronchiByDiffraction } from "../../../lib/testing/bands/ronchiPicture.ts";
import type { RonchiStill } from "../../../lib/testing/bands/ronchiScreen.ts";
import { close } from "../../optics/close.ts";
import { shearedImages } from "../photoLight.ts";

const still = (conic: number, half: number, setUp: RonchiStill["setUp"]): RonchiStill => ({
  surface: { radius: 2400, conic },
  half,
  setUp,
  linesPerMm: 4,
});

/** RMS difference over the face but its outermost two pixels. */
function apart(ours: Float64Array, other: Float64Array, size: number): number {
  let sum = 0, count = 0;
  ours.forEach((v, k) => {
    const r = Math.hypot(k % size - (size - 1) / 2, Math.floor(k / size) - (size - 1) / 2);
    if (r > size / 2 - 2) return;
    sum += (v - (other[k] ?? NaN)) ** 2;
    count++;
  });
  return Math.sqrt(sum / count);
}

Deno.test("the same light as the transform without short cuts, wherever the grating and the lamp stand", () => {
  const tilted = (x: number, y: number): number => 30 * Math.sin(x / 20 + y / 40);
  let worst = 0;
  for (const setUp of ["same grating", "slit beside", "fixed"] as const) {
    for (
      const [conic, half, size, error] of [[-1, 75, 96, tilted], [0, 100, 141, undefined]] as const
    ) {
      const bare = { ...still(conic, half, setUp), ...(error === undefined ? {} : { error }) };
      const frame = ronchiFrame(bare, { width: size, height: size }, 10);
      for (const [offset, shift] of [[-6, 0], [8, 0.03]] as const) {
        const whole = ronchiByDiffraction({ ...bare, offset, shift }, size).values;
        const off = apart(frame.light(offset, shift), whole, size);
        // rows twice as wide as the mirror let the finest orders in from the other side; a point lamp shows more of them
        assert.ok(
          off < (setUp === "same grating" ? 0.008 : 0.03),
          `${setUp} ${half} ${offset}: ${off}`,
        );
        worst = Math.max(worst, off);
      }
    }
  }
  assert.ok(worst > 1e-4, "two routes that agree to the last digit are one");
});

Deno.test("the light of an exact sum of sheared images, written apart", () => {
  // DERIVED in tests/testing/photoLight.ts: orders of the grating up to 13, places in the lamp's clear line one by one
  const frame = ronchiFrame(still(-0.7, 75, "same grating"), { width: 151, height: 151 });
  const exact = shearedImages({
    aperture: 150,
    radius: 2400,
    conic: -0.7,
    offset: -5,
    linesPerMm: 4,
  }, 550);
  const light = frame.light(-5);
  for (const [x, y] of [[0, 0], [10, 0], [-20, 30], [30, -40], [45, 20], [-60, 10]] as const) {
    const k = Math.round(75 - (y * 151) / 150) * 151 + Math.round(75 + (x * 151) / 150);
    const px = ((k % 151) - 75) * 150 / 151, py = (75 - Math.floor(k / 151)) * 150 / 151;
    close(light[k] ?? NaN, exact(px, py), 0.015);
  }
});

Deno.test("any width and height; clear outside the mirror; grey as the screen shows light", () => {
  for (const [width, height] of [[90, 60], [60, 90], [61, 61]] as const) {
    const frame = ronchiFrame(still(-1, 75, "same grating"), { width, height });
    const light = frame.light(-5).slice(), rgba = frame.rgba(-5);
    const side = Math.min(width, height);
    light.forEach((v, k) => {
      const r = Math.hypot(k % width - (width - 1) / 2, Math.floor(k / width) - (height - 1) / 2);
      if (r < side / 2 - 1.5) assert.ok(v >= -0.02 && v < 1.1, `${v}`);
      if (r > side / 2 + 1) assert.ok(Number.isNaN(v));
      assert.equal(rgba[4 * k + 3], Number.isNaN(v) ? 0 : 255);
      if (v > 0 && v < 1) close(rgba[4 * k] ?? NaN, 255 * v ** (1 / 2.2), 8);
    });
  }
});

Deno.test("a picture depends on where the grating is, not on where it was", () => {
  const frame = ronchiFrame(still(-1, 75, "slit beside"), { width: 64, height: 64 });
  const first = frame.light(-4, 0.01).slice();
  frame.light(7, 0.1);
  assert.deepEqual(frame.light(-4, 0.01), first);
});

Deno.test("refused: a place beyond what was asked for, sizes that are none", () => {
  const frame = ronchiFrame(still(-1, 75, "fixed"), { width: 32, height: 32 }, 10);
  assert.throws(() => frame.light(11), /an offset within 10 mm and a finite shift, got offset=11/);
  assert.throws(() => frame.light(NaN), /got offset=NaN/);
  assert.throws(() => ronchiFrame(still(-1, 75, "fixed"), { width: 2, height: 64 }), /3 or more/);
  assert.throws(
    () => ronchiFrame(still(-1, 75, "fixed"), { width: 64.5, height: 64 }),
    /whole width/,
  );
  assert.throws(
    () => ronchiFrame(still(-1, 75, "fixed"), { width: 64, height: 64 }, 2000),
    /requires/,
  );
});
