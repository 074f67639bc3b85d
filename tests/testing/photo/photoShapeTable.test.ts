/** Shapes of the radius from a table: as the shapes themselves, and their sum with its slope. */
import assert from "node:assert/strict";
import { tableOf } from "../../../lib/testing/photo/photoShapeTable.ts";
import { TERMS } from "../../../lib/testing/photo/photoTerms.ts";
import { close } from "../../optics/close.ts";

const shapes = TERMS.flatMap((term) => term.shapes);

Deno.test("the table holds every shape of the radius, and none that is not the same all round", () => {
  const table = tableOf(shapes), out = new Float64Array(shapes.length);
  const skew = TERMS.findIndex(({ kind }) => kind === "skew" || kind === "astigmatism");
  assert.equal(table.count, TERMS.slice(0, skew).flatMap((term) => term.shapes).length);
  for (const rho of [0, 0.113, 0.5, 0.87, 0.9812, 0.999, 1.03]) {
    table.read(rho, out);
    for (let j = 0; j < table.count; j++) close(out[j] ?? NaN, shapes[j]?.(rho, 0) ?? NaN, 1e-3);
  }
});

Deno.test("the sum for some amounts, and its slope by a small step", () => {
  const table = tableOf(shapes), amounts = shapes.map((_, k) => Math.sin(3 * k + 1) * 10);
  const sum = table.summed(amounts), step = 2e-3;
  for (const rho of [0.1234, 0.42, 0.7777, 0.93]) {
    let by = 0;
    for (let j = 0; j < table.count; j++) by += (amounts[j] ?? 0) * (shapes[j]?.(rho, 0) ?? NaN);
    close(sum.at(rho), by, 0.02);
    const steep = (sum.at(rho), sum.steep());
    close(steep, (sum.at(rho + step) - sum.at(rho - step)) / (2 * step), 12);
  }
});
