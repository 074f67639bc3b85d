import assert from "node:assert/strict";
import { random } from "../../../lib/numeric/random.ts";
import { matrix, product } from "../../../lib/numeric/smallMatrix.ts";
import { throwReadings } from "../../../lib/testing/zones/throws.ts";
import { close } from "../../optics/close.ts";

Deno.test("two factors do what their product does, throw by throw", () => {
  const dice = random(6);
  for (const p of [1, 2, 3, 5]) {
    const fit = matrix(p, 12, () => dice.normal()), shapes = matrix(20, p, () => dice.normal());
    const whole = product(shapes, fit),
      noise = Float64Array.from({ length: 12 * 50 }, () => dice.normal());
    const { pv, rms } = throwReadings(fit, shapes, noise);
    for (let d = 0; d < 50; d++) {
      const w = whole.map((row) =>
        row.reduce((sum, v, j) => sum + v * (noise[12 * d + j] ?? 0), 0)
      );
      const mean = w.reduce((a, b) => a + b) / 20;
      close(pv[d] ?? NaN, Math.max(...w) - Math.min(...w), 1e-12);
      close(rms[d] ?? NaN, Math.sqrt(w.reduce((s, v) => s + (v - mean) ** 2, 0) / 20), 1e-12);
    }
  }
});

Deno.test("sizes that do not fit are refused", () => {
  assert.throws(
    () => throwReadings([Float64Array.of(1, 1)], [Float64Array.of(1)], Float64Array.of(1)),
    RangeError,
  );
  assert.throws(() => throwReadings([], [Float64Array.of(1)], Float64Array.of(1)), RangeError);
});
