import assert from "node:assert/strict";
import { asLight } from "../../../lib/testing/photo/photoOutline.ts";

Deno.test("values become light by a usual camera's curve, those of eight bits and those between alike", () => {
  const values = Float32Array.of(0, 51 / 255, 0.1234, 0.5, 1, -0.01);
  const light = asLight({ width: 6, height: 1, values }).values;
  // DERIVED the power 2.2, nothing below black
  [0, 0.2, 0.1234, 0.5, 1, 0].forEach((v, i) =>
    assert.ok(Math.abs((light[i] ?? NaN) - v ** 2.2) < 1e-6, `${v}: ${light[i]}`)
  );
});
