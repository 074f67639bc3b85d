import assert from "node:assert/strict";
import fc from "fast-check";
import { random } from "../../../lib/numeric/random.ts";
import {
  drawAbout,
  type Draws,
  judgeRow,
  type Loose,
} from "../../../lib/testing/zones/zoneDraws.ts";
import { near } from "../../references/reference.ts";

const empty = (count: number): Draws => ({
  pv: new Float64Array(count),
  rms: new Float64Array(count),
  strehl: new Float64Array(count),
  conic: new Float64Array(count),
});
const weights = Float64Array.of(0.2, 0.3, 0.5);

function thrown(loose: Loose, count: number, dof = Infinity, seed = 1, begin = 0): Draws {
  const into = empty(count);
  drawAbout(loose, { weights, wavelength: 550, dof }, random(seed), begin, count, into);
  return into;
}

Deno.test("a known wavefront is judged by its own P-V, RMS and Strehl, whatever its columns' number", () => {
  const middle = Float64Array.of(-30, 0, 60, -1.2);
  for (const columns of [0, 1, 4, 7]) {
    const still = Array.from({ length: columns }, () => new Float64Array(4));
    const { pv, rms, strehl, conic } = thrown({ middle, columns: still }, 3);
    const turn = (w: number): number => (2 * Math.PI * w) / 550;
    // DERIVED: |0.2 e^(i a) + 0.3 + 0.5 e^(i b)|^2 written out
    const reach = (0.2 * Math.cos(turn(-30)) + 0.3 + 0.5 * Math.cos(turn(60))) ** 2 +
      (0.2 * Math.sin(turn(-30)) + 0.5 * Math.sin(turn(60))) ** 2;
    for (let d = 0; d < 3; d++) {
      assert.deepEqual([pv[d], conic[d]], [90, -1.2]);
      near(rms[d] ?? NaN, Math.sqrt(0.2 * 900 + 0.5 * 3600), 1e-14, "RMS");
      near(strehl[d] ?? NaN, reach, 1e-12, "Strehl");
    }
  }
});

Deno.test("law: each column moves all rows together, and variances add", () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -2, max: 2, noNaN: true }), { minLength: 1, maxLength: 9 }),
      fc.integer({ min: 0, max: 1000 }),
      (sizes, seed) => {
        const size = Math.hypot(...sizes);
        fc.pre(size > 0.1);
        const loose = {
          middle: Float64Array.of(0, 0, 0, 5),
          columns: sizes.map((s) => Float64Array.of(s, s, s, s)),
        };
        const { pv, conic } = thrown(loose, 4000, Infinity, seed);
        pv.forEach((v) => assert.ok(v < 1e-12));
        const square = conic.reduce((sum, k) => sum + (k - 5) ** 2, 0) / 4000;
        near(Math.sqrt(square), size, 5 / Math.sqrt(8000), "spread");
      },
    ),
    { numRuns: 20 },
  );
});

Deno.test("few degrees of freedom widen the draws as Student's t", () => {
  const loose = { middle: new Float64Array(4), columns: [Float64Array.of(0, 0, 0, 1)] };
  const { conic } = thrown(loose, 40_000, 5);
  const far = conic.filter((k) => Math.abs(k) > 2.571).length / 40_000;
  // READ any table of Student's t: 2.571 for five degrees of freedom at 95 %
  near(far, 0.05, 4 * Math.sqrt(0.05 * 0.95 / 40_000), "beyond", "absolute");
});

Deno.test("draws go where they are asked to, and equal seeds give equal draws", () => {
  const loose = { middle: Float64Array.of(1, 2, 3, 4), columns: [Float64Array.of(1, 0, 0, 1)] };
  const part = thrown(loose, 200, 9, 3, 150);
  assert.ok(part.pv.subarray(0, 150).every((v) => v === 0));
  assert.ok(part.pv.subarray(150).every((v) => v > 0));
  assert.deepEqual(thrown(loose, 200, 9, 3), thrown(loose, 200, 9, 3));
  assert.notDeepEqual(thrown(loose, 200, 9, 3), thrown(loose, 200, 9, 4));
});

Deno.test("astigmatism on top: P-V, RMS and Strehl by a plane of points", () => {
  // DERIVED by brute force: the wavefront at 200 rings of equal area and 360 angles, amplitude 40 nm of glass
  const rings = 200, q = Float64Array.from({ length: rings }, (_, i) => (i + 0.5) / rings);
  const even = new Float64Array(rings).fill(1 / rings);
  const row = Float64Array.from([...q.map((v) => 120 * (6 * v * v - 6 * v + 1)), -0.9]);
  let low = Infinity, high = -Infinity, square = 0, real = 0, imaginary = 0;
  for (let i = 0; i < rings; i++) {
    for (let a = 0; a < 360; a++) {
      const w = (row[i] ?? 0) + 2 * 40 * (q[i] ?? 0) * Math.cos((2 * a * Math.PI) / 180);
      low = Math.min(low, w), high = Math.max(high, w), square += w * w;
      real += Math.cos((2 * Math.PI * w) / 550), imaginary += Math.sin((2 * Math.PI * w) / 550);
    }
  }
  const count = rings * 360, into = empty(1);
  const astigmatism = { q, amplitudes: Float64Array.of(40) };
  judgeRow(row, { weights: even, wavelength: 550, dof: Infinity, astigmatism }, 0, into);
  near(into.pv[0] ?? NaN, high - low, 1e-6, "P-V");
  near(into.rms[0] ?? NaN, Math.sqrt(square / count), 1e-9, "RMS");
  near(into.strehl[0] ?? NaN, (real * real + imaginary * imaginary) / count ** 2, 1e-9, "Strehl");
  assert.equal(into.conic[0], -0.9);
});
