/** Shapes of the glass behind the knife. */
import assert from "node:assert/strict";
import { KNIFE_SHAPES, knifeShape } from "../../../lib/testing/knife/knifeShapes.ts";
import { close } from "../../optics/close.ts";

Deno.test("all terms from the second to the eighth degree but focus, each once; edges at the rim have their height", () => {
  const names = KNIFE_SHAPES.flatMap(({ term }) => term === undefined ? [] : `${term.n} ${term.m}`);
  assert.equal(new Set(names).size, names.length);
  // DERIVED 45 terms up to degree 8, less mean, two tilts and focus, and three round ones of higher degree
  assert.equal(names.length, 45 - 4 + 3);
  assert.ok(!names.includes("2 0"));
  for (const shape of KNIFE_SHAPES.filter(({ width }) => width !== undefined)) {
    close(knifeShape(shape, 0.6, 0.8), 1, 1e-12);
    // DERIVED one width inside the rim it is 1/e
    close(knifeShape(shape, 1 - (shape.width ?? NaN), 0), 1 / Math.E, 1e-12);
  }
});
