import assert from "node:assert/strict";
import { obstructedPeak } from "../../lib/optics/obstruction.ts";
import { radialGrid, strehlOf } from "../../lib/optics/quality.ts";
import { close } from "./close.ts";

Deno.test("peak of a star behind an obstruction", () => {
  // CROSS-CHECK numpy 1.24.2: (1-e^2)^2 and 1-e^2, printed to 1e-6
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
