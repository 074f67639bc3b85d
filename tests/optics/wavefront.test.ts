import assert from "node:assert/strict";
import { atBestFocus, radialGrid, strehlFromRms } from "../../lib/optics/quality.ts";
import { advanceFromHeight, exactWavefront } from "../../lib/optics/wavefront.ts";
import { conicCurve, mirrorOf, truth } from "../testing/judge.ts";
import { close, exactlyFocused } from "./close.ts";

// CROSS-CHECK numpy 1.24.2 / scipy 1.10.1, 400-point Gauss rule in r^2, exact path, optimiser on the focus, 550 nm:
// aperture, focal ratio, K, focus shift from R/2, P-V, RMS, largest Strehl, exponential form
const TABLE = [
  [114, 8, 0, -0.222707, 0.197726, 0.0589484, 0.870637, 0.87181],
  [150, 8, 0, -0.293035, 0.260166, 0.0775637, 0.785419, 0.788591],
  [150, 8, -0.97, -0.008789, 0.007799, 0.0023253, 0.999787, 0.999787],
  [200, 6, 0, -0.521045, 0.822427, 0.2451862, 0.242289, 0.093173],
  [200, 6, -0.7, -0.156275, 0.246504, 0.0734888, 0.805367, 0.807988],
  [200, 6, -0.9, -0.052088, 0.082151, 0.0244899, 0.976562, 0.976601],
  [200, 6, -1.1, 0.052085, 0.082131, 0.0244835, 0.976574, 0.976613],
  [250, 5, -0.85, -0.117206, 0.266112, 0.079329, 0.776583, 0.780016],
  [250, 5, -0.8, -0.156279, 0.354847, 0.1057819, 0.634058, 0.642906],
  [250, 4.5, -0.95, -0.043409, 0.121631, 0.0362564, 0.949245, 0.949428],
  [400, 4, -0.98, -0.031255, 0.110792, 0.0330232, 0.957734, 0.957861],
] as const;
const grid = radialGrid();

Deno.test("telescope mirrors by the exact path", () => {
  for (const [aperture, ratio, conic, shift, pv, rms, strehl, marechal] of TABLE) {
    const surface = { radius: 2 * aperture * ratio, conic };
    const focused = exactlyFocused(surface, aperture / 2);
    close(focused.shift, shift, 1e-6, `focus of ${aperture} f/${ratio} K=${conic}`);
    close(focused.pv, pv, 1e-5 * pv + 1e-6, "P-V"); // last printed digit, and where their optimiser left the focus
    close(focused.rms, rms, 1e-7, "RMS");
    close(strehlFromRms(focused.rms), marechal, 1e-6, "exponential form");
    const there = surface.radius / 2 + shift;
    const waves = exactWavefront(grid, surface, aperture / 2, undefined, there).map((w) => w / 550);
    close(atBestFocus(grid, waves, "most Strehl").strehl, strehl, 1e-4, "Strehl"); // a term in q for a real focus
    close(atBestFocus(grid, waves).pvWaves, pv, 6e-4 * pv, "P-V with a term in q taken out");
  }
});

Deno.test("the 200 mm f/6 sphere at its focus of least rms", () => {
  // CROSS-CHECK scipy 1.10.1: 0.093398
  const waves = exactWavefront(grid, { radius: 2400, conic: 0 }, 100, undefined, 1200 - 0.521045)
    .map((w) => w / 550);
  close(atBestFocus(grid, waves).strehl, 0.093398, 3e-5);
});

Deno.test("50 nm at the rim", () => {
  // CROSS-CHECK numpy 1.24.2: exact path, f/4 99.610895 nm, f/6 99.826690 nm; 2 delta cos^2 to first order in delta
  close(advanceFromHeight(50, 200, 3200), 99.610895, 2e-4);
  close(advanceFromHeight(50, 100, 2400), 99.82669, 2e-4);
});

Deno.test("the exact path sees a hill as an advance of 2 delta cos^2", () => {
  const hill = (r: number): number => 50 * Math.exp(-((r - 60) ** 2) / 242);
  const surface = { radius: 2420, conic: -1 };
  exactWavefront(grid, surface, 110, hill).forEach((w, i) => {
    const r = 110 * Math.sqrt(grid.q[i] ?? 0);
    close(w, advanceFromHeight(hill(r), r, 2420), 1e-3);
  });
});

Deno.test("agrees with an independent path written for the tests", () => {
  const judged = truth(mirrorOf(100, 2400, [0, 100], conicCurve(2400, -0.7)));
  const focused = exactlyFocused({ radius: 2400, conic: -0.7 }, 100);
  close(focused.rms, judged.rms, 2e-7);
  close(focused.pv, judged.pv, 2e-7);
});

Deno.test("a paraboloid is perfect; bad numbers are refused", () => {
  assert.ok(
    exactWavefront(grid, { radius: 3200, conic: -1 }, 200).every((w) => Math.abs(w) < 1e-5),
  );
  assert.throws(() => advanceFromHeight(NaN, 1, 2400), RangeError);
  assert.throws(() => exactWavefront(grid, { radius: -1, conic: 0 }, 75), RangeError);
});
