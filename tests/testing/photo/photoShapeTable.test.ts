/** Shapes from a table: as the shapes themselves, with the way each goes round, and their sum for some amounts. */
import assert from "node:assert/strict";
import { summed, tableOf } from "../../../lib/testing/photo/photoShapeTable.ts";
import { TERMS } from "../../../lib/testing/photo/photoTerms.ts";
import { close } from "../../optics/close.ts";

const shapes = TERMS.flatMap((term) => term.shapes);
const table = tableOf(shapes), { rows, steps, scale } = table;

/** Cosine or sine of the angle, by its place among the waves. */
const waveAt = (wave: number, t: number): number =>
  wave === 0 ? 1 : (wave % 2 === 1 ? Math.cos : Math.sin)(Math.ceil(wave / 2) * t);

Deno.test("the shapes of the radius alone come first", () => {
  const skew = TERMS.findIndex(({ kind }) => kind === "skew" || kind === "astigmatism");
  assert.equal(table.count, TERMS.slice(0, skew).flatMap((term) => term.shapes).length);
  assert.deepEqual(table.waves.toSorted((a, b) => a - b), [1, 2, 3, 4, 5, 6]);
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
    () => tableOf([(u, v) => u ** 4 - 6 * u * u * v * v + v ** 4]),
    /one to three times/,
  );
});
