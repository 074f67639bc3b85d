import assert from "node:assert/strict";
import fc from "fast-check";
import { knifeRun, knifeShadow } from "../../../lib/figures/live/knifeShadow.ts";
import { knifePosition } from "../../../lib/optics/conic.ts";
import { conicPvWaves } from "../../../lib/optics/sphereEnough.ts";

const clean = { knife: 0, conic: 0, edge: 0, ring: 0, noise: 0, run: 1 };

Deno.test("without noise the readings are the crossings of the conic, and the run reads its K and P-V", () => {
  fc.assert(
    fc.property(fc.double({ min: -1.6, max: 0.4, noNaN: true }), (conic) => {
      const { readings, read, light, u } = knifeRun({ ...clean, conic });
      const outer = knifePosition(
        Math.sqrt((67 ** 2 + 74 ** 2) / 2),
        { radius: 2400, conic },
        "moves",
      );
      assert.ok(Math.abs((readings[4] ?? 0) - outer) < 1e-6);
      assert.ok(Math.abs(read.conic - conic) < 0.002);
      // DERIVED the third-order formula, beside the exact path of the figure
      const wanted = conicPvWaves({ aperture: 150, focalLength: 1200 }, conic);
      assert.ok(Math.abs(light.pvWaves - wanted) < 0.002);
      assert.equal(u, 0);
    }),
    { numRuns: 20 },
  );
});

Deno.test("a sphere at its centre is grey all over; inside it the light is on one side, outside on the other", () => {
  const grey = knifeRun(clean).shadow;
  assert.ok(grey.values.every((v) => Number.isNaN(v) || Math.abs(v - 0.5) < 1e-6));
  const side = (knife: number): number => {
    const { size, values } = knifeRun({ ...clean, knife }).shadow, row = (size - 1) / 2 * size;
    return (values[row + Math.floor(size * 0.8)] ?? 0) -
      (values[row + Math.floor(size * 0.2)] ?? 0);
  };
  assert.ok(side(-0.5) * side(0.5) < 0);
  assert.ok(Math.abs(side(0.5)) > 0.5);
});

Deno.test("an edge turned down reads farther out, a high ring does not move the middle", () => {
  const plain = knifeRun({ ...clean, conic: -1 });
  const turned = knifeRun({ ...clean, conic: -1, edge: 60 });
  assert.ok((turned.readings[4] ?? 0) > (plain.readings[4] ?? 0) + 0.02);
  assert.ok(turned.light.strehl < plain.light.strehl);
  const ring = knifeRun({ ...clean, conic: -1, ring: 30 });
  assert.ok(Math.abs((ring.readings[0] ?? 0) - (plain.readings[0] ?? 0)) < 0.01);
  assert.ok(ring.light.pvWaves > 0.08);
});

Deno.test("noise moves K by what its uncertainty says, and the same run gives the same readings", () => {
  const noisy = { ...clean, conic: -1, noise: 0.06 };
  assert.deepEqual(knifeRun(noisy).readings, knifeRun({ ...noisy, knife: 1 }).readings);
  const off = Array.from({ length: 400 }, (_, i) => {
    const { read, u } = knifeRun({ ...noisy, run: i + 1 });
    return (read.conic + 1) / u;
  });
  const sd = Math.sqrt(off.reduce((sum, v) => sum + v * v, 0) / off.length);
  // DERIVED: a standard deviation of 1 found from 400 runs is known to 1 ÷ √800 = 0.035
  assert.ok(Math.abs(sd - 1) < 0.12, String(sd));
  assert.equal(knifeShadow.value(noisy), knifeRun(noisy).read.conic);
});
