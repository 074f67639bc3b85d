/** Passes where `actual` is within `tolerance` of `expected`, and says by how much it missed. */
import assert from "node:assert/strict";
import { type Conic, exactWavefront } from "../../lib/optics/conic.ts";
import { peakToValley, radialGrid } from "../../lib/optics/quality.ts";

export function close(actual: number, expected: number, tolerance: number, what = ""): void {
  assert.ok(
    Math.abs(actual - expected) <= tolerance,
    `${what} got ${actual}, expected ${expected} within ${tolerance}, off by ${actual - expected}`,
  );
}

/** P-V and RMS, waves of 550 nm, with the focus really moved (not a term in q removed) until the RMS is least. */
export function exactlyFocused(
  surface: Conic,
  half: number,
): { pv: number; rms: number; shift: number } {
  const grid = radialGrid();
  const at = (shift: number): Float64Array => {
    const raw = exactWavefront(grid, surface, half, undefined, surface.radius / 2 + shift);
    const mean = raw.reduce((sum, w, i) => sum + w * (grid.weights[i] ?? 0), 0);
    return raw.map((w) => (w - mean) / 550);
  };
  const dot = (a: Float64Array, b: Float64Array): number =>
    a.reduce((sum, v, i) => sum + v * (b[i] ?? 0) * (grid.weights[i] ?? 0), 0);
  let shift = 0;
  for (let turn = 0; turn < 5; turn++) {
    const here = at(shift), step = at(shift + 0.01).map((w, i) => (w - (here[i] ?? 0)) / 0.01);
    shift -= dot(step, here) / dot(step, step);
  }
  const waves = at(shift);
  return { pv: peakToValley(waves, grid.q), rms: Math.sqrt(dot(waves, waves)), shift };
}
