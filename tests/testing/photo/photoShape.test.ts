/** The shape of the disc in a photograph: round is told as round, squeezed as squeezed. */
import assert from "node:assert/strict";
import { squeezeOf } from "../../../lib/testing/photo/photoShape.ts";
import { type Grey, makePhoto } from "../photoGenerator.ts";

/** INVENTED: discs of bands, some with a stand before them, uneven light, a grating turned. */
function photograph(n: number): Grey {
  const f = 5 + (n % 4);
  return makePhoto({
    aperture: 148,
    radius: 2 * f * 150,
    conic: -0.25 * n,
    offset: (n % 2 === 0 ? -1 : 1) * (4.5 * f * f / 32 + 1.5),
    linesPerMm: 4,
    light: [550],
    width: 400,
    height: 380,
    x: 195,
    y: 188,
    r: 140,
    turn: 0.02 + n * 0.1,
    shift: 0.03,
    noise: 0.01,
    uneven: 0.2,
    stand: n % 3 === 0,
    seed: n + 1,
  });
}

/** The picture made narrower or lower, its pixels weighed by their share. */
function squeezed({ width, height, values }: Grey, across: number, down: number): Grey {
  const [w, h] = [Math.round(width * across), Math.round(height * down)];
  const at = (x: number, y: number): number =>
    values[Math.min(height - 1, Math.max(0, y)) * width + Math.min(width - 1, Math.max(0, x))] ?? 0;
  const out = Float32Array.from({ length: w * h }, (_, k) => {
    const x = ((k % w) + 0.5) / across - 0.5, y = (Math.floor(k / w) + 0.5) / down - 0.5;
    const [i, j] = [Math.floor(x), Math.floor(y)], [a, b] = [x - i, y - j];
    return (at(i, j) * (1 - a) + at(i + 1, j) * a) * (1 - b) +
      (at(i, j + 1) * (1 - a) + at(i + 1, j + 1) * a) * b;
  });
  return { width: w, height: h, values: out };
}

Deno.test("six round discs are round; squeezed by a tenth or a twentieth either way, they are not", () => {
  for (let n = 0; n < 6; n++) {
    const made = photograph(n);
    assert.equal(squeezeOf(made), undefined, `photograph ${n}`);
    for (const [across, down] of [[0.9, 1], [1, 0.9], [0.95, 1], [1, 0.95]] as const) {
      const ratio = squeezeOf(squeezed(made, across, down)) ?? 1;
      assert.ok(Math.abs(ratio - across / down) < 0.015, `${n}: ${ratio} for ${across / down}`);
    }
  }
});

Deno.test("a picture without a disc has no shape", () => {
  const grey = { width: 90, height: 80, values: new Float32Array(7200).fill(0.4) };
  assert.equal(squeezeOf(grey), undefined);
  assert.equal(squeezeOf({ width: 20, height: 20, values: new Float32Array(400) }), undefined);
});
