import assert from "node:assert/strict";
import { AIRY_DARK_RINGS, airyRadius, besselJ, obstructedPeak } from "../../lib/optics/airy.ts";
import { radialGrid, strehlOf } from "../../lib/optics/quality.ts";
import { close } from "./close.ts";

Deno.test("dark rings are where J1 is zero", () => {
  // CROSS-CHECK secondRoute.py, dark rings: scipy's jn_zeros(1, 3) / pi, printed to 1e-8
  const printed = [1.21966989, 2.23313059, 3.23831548];
  AIRY_DARK_RINGS.forEach((ring, i) => {
    close(ring, printed[i] ?? 0, 6e-9);
    close(besselJ(1, Math.PI * ring), 0, 1e-14);
  });
});

Deno.test("Airy radii at 550 nm", () => {
  // CROSS-CHECK secondRoute.py, radii: um, printed to 1e-8
  close(1000 * airyRadius(8), 5.36654752, 6e-9);
  close(1000 * airyRadius(6), 4.02491064, 6e-9);
});

Deno.test("Bessel functions keep their recurrence and their pole", () => {
  // DERIVED J0' = -J1
  for (const x of [0.3, 2, 7, 20, 55]) {
    close((besselJ(0, x + 1e-5) - besselJ(0, x - 1e-5)) / 2e-5, -besselJ(1, x), 1e-9);
  }
  close(besselJ(0, 0), 1, 1e-15);
  close(besselJ(0, 2.404825557695773), 0, 1e-14); // CROSS-CHECK secondRoute.py, zero of J0: 2.4048255577
});

Deno.test("refusals", () => {
  assert.throws(() => airyRadius(0), RangeError);
  assert.throws(() => besselJ(0, NaN), RangeError);
});

Deno.test("peak of a star behind an obstruction", () => {
  // CROSS-CHECK secondRoute.py, peak behind: (1-e^2)^2 and 1-e^2, printed to 1e-6
  const rows = [
    [0.1, 0.9801, 0.99],
    [0.15, 0.955506, 0.9775],
    [0.2, 0.9216, 0.96],
    [0.25, 0.878906, 0.9375],
    [0.3, 0.8281, 0.91],
    [0.35, 0.770006, 0.8775],
    [0.4, 0.7056, 0.84],
  ];
  for (const [e = 0, star = 0, light = 0] of rows) {
    const peak = obstructedPeak(e);
    close(peak.sameStar, star, 6e-7);
    close(peak.sameLight, light, 6e-7);
    close(peak.blocked, e * e, 1e-15);
  }
});

Deno.test("an obstruction is no error: the Strehl ratio of what passes stays 1", () => {
  const grid = radialGrid(20, 0.35);
  close(strehlOf(grid, grid.q.map(() => 0)), 1, 1e-12);
  assert.throws(() => obstructedPeak(1), RangeError);
});
