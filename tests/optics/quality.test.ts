import assert from "node:assert/strict";
import fc from "fast-check";
import {
  atBestFocus,
  peakToValley,
  radialGrid,
  strehlFromRms,
  strehlOf,
} from "../../lib/optics/quality.ts";
import { close } from "./close.ts";

const grid = radialGrid();

Deno.test("defocus: P-V, RMS and exact Strehl of an eighth, a quarter and a half wave", () => {
  // CROSS-CHECK secondRoute.py, defocus: quadrature; DERIVED P-V / sqrt 12 and sinc^2; printed to 1e-8
  const cases = [[0.125, 0.03608439, 0.9496412], [0.25, 0.07216878, 0.81056947], [
    0.5,
    0.14433757,
    0.40528473,
  ]];
  for (const [pv = 0, rms = 0, strehl = 0] of cases) {
    const waves = grid.q.map((q) => pv * q);
    close(peakToValley(waves), pv, 1e-15);
    close(Math.sqrt(variance(waves)), rms, 6e-9);
    close(strehlOf(grid, waves), strehl, 6e-9);
  }
});

Deno.test("spherical aberration at best focus", () => {
  // CROSS-CHECK secondRoute.py, spherical: quadrature, printed to 1e-8; RMS is DERIVED W040 / (6 sqrt 5)
  const cases = [
    [0.5, 0.125, 0.0372678, 0.94644158],
    [1, 0.25, 0.0745356, 0.8003048],
    [2, 0.5, 0.1490712, 0.39474132],
  ];
  for (const [w040 = 0, pv = 0, rms = 0, strehl = 0] of cases) {
    const best = atBestFocus(grid, grid.q.map((q) => w040 * q * q));
    close(best.pvWaves, pv, 1e-9);
    close(best.rmsWaves, rms, 6e-9);
    close(best.strehl, strehl, 6e-9);
    close(best.focusWaves, w040, 1e-12);
  }
});

Deno.test("spherical aberration left at the paraxial focus", () => {
  // CROSS-CHECK secondRoute.py, paraxial: W040 = 0.25, P-V 0.25, RMS 0.07453560, Strehl 0.80030480
  const waves = grid.q.map((q) => 0.25 * q * q);
  close(Math.sqrt(variance(waves)), 0.0745356, 6e-9);
  close(strehlOf(grid, waves), 0.8003048, 6e-9);
});

Deno.test("the exponential form and its cousins", () => {
  // DERIVED exp(-(2 pi s)^2), printed to 1e-8
  close(strehlFromRms(1 / 14), 0.81756857, 6e-9);
  close(strehlFromRms(1 / 20), 0.90601806, 6e-9);
  close(strehlFromRms(1 / 28), 0.95089168, 6e-9);
  const x = (2 * Math.PI / 14) ** 2;
  close((1 - x / 2) ** 2, 0.80872206, 6e-9); // the older form: do not mix them
});

Deno.test("how far the exponential form is too high for spherical aberration", () => {
  // CROSS-CHECK secondRoute.py, how much too high: 0.003 at 0.0745, 0.009 at 0.106, 0.0211 at 0.149
  for (const [rms = 0, excess = 0] of [[0.0745, 0.003], [0.106, 0.009], [0.149, 0.021]]) {
    const best = atBestFocus(grid, grid.q.map((q) => 6 * Math.sqrt(5) * rms * q * q));
    close(strehlFromRms(best.rmsWaves) - best.strehl, excess, 6e-4);
  }
});

Deno.test("a mirror of large error is brightest away from its focus of least rms", () => {
  // CROSS-CHECK secondRoute.py, brightest elsewhere: the 200 mm f/6 sphere, W040 = 4 x 0.8224: 0.2423 against 0.0934
  const waves = grid.q.map((q) => 6 * Math.sqrt(5) * 0.2451862 * q * q);
  close(atBestFocus(grid, waves).strehl, 0.0934, 2e-4);
  close(atBestFocus(grid, waves, "most Strehl").strehl, 0.2423, 3e-4);
});

Deno.test("0.05 Z11 + 0.03 Z22", () => {
  // CROSS-CHECK secondRoute.py, two terms: exact 0.87506011, exponential 0.87439189; RMS is DERIVED sqrt(0.05^2 + 0.03^2)
  const waves = grid.q.map((q) =>
    0.05 * Math.sqrt(5) * (6 * q * q - 6 * q + 1) +
    0.03 * Math.sqrt(7) * (20 * q ** 3 - 30 * q * q + 12 * q - 1)
  );
  close(strehlOf(grid, waves), 0.87506011, 6e-9);
  const best = atBestFocus(grid, waves);
  close(best.rmsWaves, Math.hypot(0.05, 0.03), 1e-12);
  close(strehlFromRms(best.rmsWaves), 0.87439189, 6e-9);
});

Deno.test("an obstruction takes some of the aberration away", () => {
  // CROSS-CHECK secondRoute.py, obstructed: W040 = 1, obstruction 0.25: RMS 0.06550980, Strehl 0.84242104
  const ring = radialGrid(40, 0.25);
  const best = atBestFocus(ring, ring.q.map((q) => q * q));
  close(best.rmsWaves, 0.0655098, 6e-9);
  close(best.strehl, 0.84242104, 6e-9);
  close(best.rmsWaves, (1 - 0.0625) ** 2 / (6 * Math.sqrt(5)), 1e-12); // DERIVED
});

Deno.test("each focus is best at its own measure, whatever the wavefront", () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -0.2, max: 0.2, noNaN: true }), { minLength: 3, maxLength: 3 }),
      (c) => {
        const waves = grid.q.map((q) =>
          (c[0] ?? 0) * q * q + (c[1] ?? 0) * q ** 3 + (c[2] ?? 0) * q ** 4
        );
        const [rms, pv, strehl] = (["least rms", "least P-V", "most Strehl"] as const).map((f) =>
          atBestFocus(grid, waves, f)
        );
        assert.ok(rms && pv && strehl);
        assert.ok(rms.rmsWaves <= Math.min(pv.rmsWaves, strehl.rmsWaves) + 1e-12);
        assert.ok(pv.pvWaves <= Math.min(rms.pvWaves, strehl.pvWaves) + 1e-7);
        assert.ok(strehl.strehl >= Math.max(rms.strehl, pv.strehl) - 1e-9);
      },
    ),
    { numRuns: 30 },
  );
});

Deno.test("piston, focus and sign change nothing that matters", () => {
  fc.assert(
    fc.property(
      fc.double({ min: -3, max: 3, noNaN: true }),
      fc.double({ min: -3, max: 3, noNaN: true }),
      (a, b) => {
        const plain = atBestFocus(grid, grid.q.map((q) => 0.3 * q ** 3));
        const moved = atBestFocus(
          grid,
          grid.q.map((q) => -0.3 * q ** 3 + a + b * q),
        );
        close(moved.rmsWaves, plain.rmsWaves, 1e-12);
        close(moved.pvWaves, plain.pvWaves, 1e-9);
        close(moved.strehl, plain.strehl, 1e-12);
      },
    ),
  );
});

Deno.test("bad grids and values are refused", () => {
  assert.throws(() => radialGrid(2), RangeError);
  assert.throws(() => radialGrid(10, 1), /obstruction/);
  assert.throws(() => atBestFocus(grid, [1, 2]), /one finite value for each/);
  assert.throws(() => atBestFocus(grid, grid.q.map(() => NaN)), RangeError);
  assert.throws(() => strehlFromRms(-1), RangeError);
});

function variance(waves: Float64Array): number {
  const mean = waves.reduce((sum, w, i) => sum + w * (grid.weights[i] ?? 0), 0);
  return waves.reduce((sum, w, i) => sum + (w - mean) ** 2 * (grid.weights[i] ?? 0), 0);
}
