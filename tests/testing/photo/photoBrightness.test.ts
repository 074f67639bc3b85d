/** The camera's curve: its slopes are those of small steps, and one that falls is found out. */
import assert from "node:assert/strict";
import { isMonotone, toneCurve } from "../../../lib/testing/photo/photoBrightness.ts";
import { close } from "../../optics/close.ts";

Deno.test("slopes by the value and by each knot are those of small steps", () => {
  const amounts = Float64Array.of(0.02, -0.05, 0.01, 0.04, -0.03), step = 1e-6;
  for (const value of [0.01, 0.2, 0.26, 0.5, 0.74, 0.99, 1.2]) {
    const curve = toneCurve(amounts);
    curve.at(value);
    const bumps = curve.bumps.slice(), steep = curve.steep();
    close(steep, (curve.at(value + step) - curve.at(value - step)) / (2 * step), 1e-6);
    amounts.forEach((v, k) => {
      const more = amounts.slice(), less = amounts.slice();
      more[k] = v + step;
      less[k] = v - step;
      const by = (toneCurve(more).at(value) - toneCurve(less).at(value)) / (2 * step);
      close(bumps[k] ?? NaN, by, 1e-6);
    });
  }
});

Deno.test("a phone's curves rise everywhere and are within its reach; one that falls is none", () => {
  assert.ok(isMonotone(new Float64Array(5), 1));
  assert.ok(!isMonotone(Float64Array.of(0, 0.3, 0, -0.3, 0), 1));
  // DERIVED: least squares on an S of 0.6 v (1 - v)(2 v - 1), 0.06 high; at black and white a power and stray light do the rest
  const s = (v: number): number => 0.6 * v * (1 - v) * (2 * v - 1);
  const amounts = new Float64Array(5);
  for (let turn = 0; turn < 400; turn++) {
    for (let k = 0; k <= 40; k++) {
      const v = k / 40, curve = toneCurve(amounts), off = s(v) - (curve.at(v) - v);
      curve.bumps.forEach((b, j) => amounts[j] = (amounts[j] ?? 0) + 0.1 * off * b);
    }
  }
  assert.ok(isMonotone(amounts, 1));
  for (let k = 2; k <= 18; k++) {
    const v = k / 20;
    close(toneCurve(amounts).at(v) - v, s(v), 0.015);
  }
});
