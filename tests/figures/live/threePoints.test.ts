import assert from "node:assert/strict";
import { glass, mostWaves, onPoints, threePoints } from "../../../lib/figures/live/threePoints.ts";
import { decision, glasses } from "../../../lib/record/tables.ts";
import { supportSag } from "../../../lib/telescope/cell.ts";

const { start } = threePoints;

Deno.test("its glass and its bound are those of the tables", () => {
  const row = glasses().find(({ name }) => name === "soda-lime");
  assert.deepEqual(glass, {
    youngGPa: row?.youngGPa,
    poisson: row?.poisson,
    densityKgPerM3: row?.densityKgPerM3,
  });
  assert.equal(mostWaves, decision("support_wavefront_rms_most"));
});

Deno.test("with sixteen powers in place of forty it gives the cell's own sag to a hundredth", () => {
  for (const [aperture, thickness] of [[150, 25], [200, 25], [400, 40]] as const) {
    for (const place of [20, 40, 65, 80, 100]) {
      for (const points of [0, 1]) {
        const { rms, refocused } = onPoints({ place, points, aperture, thickness });
        const ring = [{ points: points === 0 ? 3 : 6, radius: place / 100 }];
        const whole = supportSag({ aperture, thickness, ...glass }, ring);
        const far = Math.abs(rms / whole.rmsThick - 1);
        assert.ok(far < 0.01, `${aperture}, ${place}, ${points}: ${far}`);
        assert.ok(Math.abs(refocused - whole.rmsThickRefocused) < 0.02 * whole.rmsThick);
      }
    }
  }
});

Deno.test("the section is the plate's, mean sag and wavefront agree, and the words turn at the bound", () => {
  const { waves, rms, through } = onPoints({ ...start, place: 65 });
  // DERIVED: light meets the glass once and is sent back: 2 x nm / 550
  assert.ok(Math.abs(waves - 2 * rms / 550) < 1e-12);
  assert.ok(through(0.65) > through(0) && through(0.65) > through(1), "the glass hangs between");
  assert.match(threePoints.reading({ ...start, place: 65 }).markup, /it will do/);
  assert.match(threePoints.reading({ ...start, place: 100 }).markup, /too much/);
});
