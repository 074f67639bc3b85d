import assert from "node:assert/strict";
import { type Lap, usualLap } from "../../../lib/shaping/lap/lap.ts";
import { lapRubbing } from "../../../lib/shaping/lap/lapRubbing.ts";
import { random } from "../../../lib/numeric/random.ts";

const third = { offset: 0, travel: 50 };
const grid = (x: number, y: number): Lap => ({ ...usualLap(150), offset: [x, y] });

Deno.test("a centred grid rubs rings, the off-centre grid does so far less", () => {
  const off = lapRubbing(grid(6, 9), third);
  for (const [x, y] of [[0, 0], [12.5, 12.5]] as const) {
    const centred = lapRubbing(grid(x, y), third);
    assert.ok(centred.rms > 2 * off.rms, `${x} ${y}: ${centred.rms} beside ${off.rms}`);
    assert.ok(centred.ridges.length >= 2);
    assert.equal(centred.ridges[0]?.from, 0);
  }
  assert.ok(off.ridges.every(({ to }) => to <= 2.5), "nothing but the innermost 2.5 mm");
});

Deno.test("a facet in the middle rubs it more, a crossing less", () => {
  assert.ok((lapRubbing(grid(12.5, 12.5), third).rings[0]?.excess ?? 0) > 0.05);
  assert.ok((lapRubbing(grid(0, 0), third).rings[0]?.excess ?? 0) < -0.05);
});

Deno.test("longer strokes wash the rings out", () => {
  const [short, long] = [25, 75].map((travel) => lapRubbing(grid(0, 0), { offset: 0, travel }).rms);
  assert.ok((long ?? 1) < 0.75 * (short ?? 0), `${short} ${long}`);
});

Deno.test("the share of each ring agrees with throwing places, turns and strokes at random", () => {
  const lap = grid(0, 0), draw = random(7);
  const found = lapRubbing(lap, { offset: 10, travel: 40 }).rings;
  for (const at of [0, 5, 12, 20]) {
    const ring = found[at];
    assert.ok(ring);
    let over = 0, facet = 0;
    for (let i = 0; i < 20000; i++) {
      const turn = 2 * Math.PI * draw.uniform(), lapTurn = 2 * Math.PI * draw.uniform();
      const x = ring.radius * Math.cos(turn) + 40 * (draw.uniform() - 0.5);
      const y = ring.radius * Math.sin(turn) + 10;
      if (Math.hypot(x, y) >= 75) continue;
      over++;
      const u = x * Math.cos(lapTurn) - y * Math.sin(lapTurn);
      const v = x * Math.sin(lapTurn) + y * Math.cos(lapTurn);
      const off = (w: number): number => Math.abs(w - 25 * Math.round(w / 25));
      if (off(u) > 2.5 && off(v) > 2.5) facet++;
    }
    // 20000 throws hold a share to 0.0035; four of them, and half a ring's width
    assert.ok(Math.abs(facet / over - ring.share) < 0.02, `${at}: ${facet / over} ${ring.share}`);
  }
});

Deno.test("strokes that leave the lap, and laps that cannot be made, are refused", () => {
  assert.throws(() => lapRubbing(grid(0, 0), { offset: 60, travel: 100 }), /stay on the lap/);
  assert.throws(() => lapRubbing(grid(0, 0), { offset: 0, travel: 0 }), /stay on the lap/);
  assert.throws(() => lapRubbing({ ...grid(0, 0), channel: 20 }, third), /narrower/);
});
