import assert from "node:assert/strict";
import {
  strokeAndSurface,
  strokes,
  workedSurface,
} from "../../../lib/figures/live/strokeAndSurface.ts";
import { figuringStrokes } from "../../../lib/shaping/figuring/figuringStrokes.ts";

const { start } = strokeAndSurface;

Deno.test("nothing done: sphere 0.260 wave, paraboloid none", () => {
  // DERIVED: D⁴ ÷ 2048 f³ = 143 nm of wavefront = 0.260 wave
  assert.equal(workedSurface({ ...start, conic: 0 }).pv.toFixed(3), "0.260");
  assert.ok(workedSurface({ ...start, conic: -1 }).pv < 1e-6);
  assert.ok(Math.abs(workedSurface({ ...start, conic: -0.5 }).pv - 0.13) < 0.001);
});

Deno.test("the glass shown is half the wavefront, and level on the mean", () => {
  const { height, pv } = workedSurface(start);
  // DERIVED: light goes there and back; the grid's places lie inside the rim, so a little less than all is seen
  const seen = (Math.max(...height) - Math.min(...height)) * 2 / 550;
  assert.ok(seen <= pv + 1e-9 && seen > 0.97 * pv, `${seen} of ${pv}`);
  assert.ok((height[0] ?? 0) > 40, "a sphere stands up in the middle");
});

Deno.test("twice the minutes are hands twice as fast; its strokes are the plan's own", () => {
  const slow = workedSurface({ ...start, minutes: 2, hands: 0.8 });
  const fast = workedSurface({ ...start, minutes: 1, hands: 1.6 });
  assert.ok(Math.abs(slow.pv - fast.pv) < 1e-9);
  for (const [name, stroke] of strokes) {
    assert.ok(figuringStrokes.some((one) => one.name === stroke.name), name);
  }
});

Deno.test("the words say better, worse, and whether the goal is met", () => {
  const said = (stroke: number, minutes: number): string =>
    strokeAndSurface.reading({ ...start, stroke, minutes }).markup;
  assert.match(said(1, 0), /nothing is done yet/);
  assert.match(said(1, 2), /better than before[\s\S]*the goal is met/);
  assert.match(said(1, 6), /worse than before[\s\S]*not met/);
});
