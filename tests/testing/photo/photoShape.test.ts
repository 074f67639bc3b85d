/** The shape of the disc in a photograph: round is told as round, squeezed as squeezed. */
import assert from "node:assert/strict";
import { squeezeOf, summed, tableOf } from "../../../lib/testing/photo/photoShape.ts";
import { TERMS } from "../../../lib/testing/photo/photoTerms.ts";
import { close } from "../../optics/close.ts";
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

// Shapes from a table: as the shapes themselves, with the way each goes round, and their sum for some amounts.

const shapes = TERMS.flatMap((term) => term.shapes);
const table = tableOf(shapes), { rows, steps, scale } = table;

/** Cosine or sine of the angle, by its place among the waves. */
const waveAt = (wave: number, t: number): number =>
  wave === 0 ? 1 : (wave % 2 === 1 ? Math.cos : Math.sin)(Math.ceil(wave / 2) * t);

Deno.test("the shapes of the radius alone come first", () => {
  const skew = TERMS.findIndex(({ kind }) => kind === "skew" || kind === "astigmatism");
  assert.equal(table.count, TERMS.slice(0, skew).flatMap((term) => term.shapes).length);
  assert.deepEqual(table.waves.toSorted((a, b) => a - b), [1, 2, 3, 4, 5, 6, 7, 8]);
});

Deno.test("the table holds every shape at its crest, and its wave goes round as it does", () => {
  for (const k of [0, 150, 700, 1250, 1362, 1388]) {
    shapes.forEach((shape, j) => {
      const high = rows[k * shapes.length + j] ?? NaN, r = k / scale, wave = table.wave[j] ?? NaN;
      for (const t of [0, 0.4, 1.9, 3.3, 5.1]) {
        close(shape(r * Math.cos(t), r * Math.sin(t)), high * waveAt(wave, t), 1e-9);
      }
    });
  }
  assert.equal(rows.length, (steps + 2) * shapes.length);
});

Deno.test("the sum for some amounts is that of the shapes, at the crest of every wave", () => {
  const amounts = shapes.map((_, k) => Math.sin(3 * k + 1) * 10), sums = summed(amounts, shapes);
  const across = 1 + table.waves.length;
  for (const k of [0, 171, 583, 1080, 1292]) {
    [0, ...table.waves].forEach((wave, n) => {
      const crest = wave > 0 && wave % 2 === 0 ? Math.PI / wave : 0, r = k / scale;
      let by = 0;
      shapes.forEach((shape, j) => {
        if (table.wave[j] !== wave) return;
        by += (amounts[j] ?? 0) * shape(r * Math.cos(crest), r * Math.sin(crest));
      });
      close(sums[k * across + n] ?? NaN, by, 1e-9);
    });
  }
});

Deno.test("a shape that goes round otherwise is none of the table's", () => {
  assert.throws(
    () => tableOf([(u, v) => u ** 5 - 10 * u ** 3 * v * v + 5 * u * v ** 4]),
    /one to four times/,
  );
});
