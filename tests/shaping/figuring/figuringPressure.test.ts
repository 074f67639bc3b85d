import assert from "node:assert/strict";
import { ringPressure } from "../../../lib/shaping/figuring/figuringPressure.ts";

const rings = 96;
/** Sum over the mirror of what is pressed, of the load. */
const carried = (pressure: Float64Array, lap: number): number =>
  pressure.reduce((sum, p, i) => sum + p * (2 * i + 1), 0) / rings ** 2 / lap ** 2;

Deno.test("the whole load is carried, wherever the lap lies", () => {
  for (const face of ["down", "up"] as const) {
    for (const [lap, apart] of [[1, 0], [1, 0.3], [1, 0.8], [0.5, 0.2], [0.25, 0.6]] as const) {
      if (face === "down" && apart >= lap) continue;
      const load = carried(ringPressure({ lap, face, apart }, rings), lap);
      assert.ok(Math.abs(load - 1) < 1e-6, `${face} ${lap} ${apart}: ${load}`);
    }
  }
});

Deno.test("inside the mirror a small lap presses evenly, past the rim it tips outward", () => {
  const inside = ringPressure({ lap: 0.25, face: "up", apart: 0 }, rings);
  assert.ok(Math.abs((inside[10] ?? 0) - 1) < 1e-2);
  const at = (apart: number): Float64Array => ringPressure({ lap: 0.5, face: "up", apart }, rings);
  const share = (p: Float64Array): number => (p[94] ?? 0) / (p[60] ?? 1);
  assert.ok(share(at(0.7)) > share(at(0.5)), `${share(at(0.7))} ${share(at(0.5))}`);
});

Deno.test("before it lifts off, the straight field of two equal discs", () => {
  // DERIVED: equal discs 20 mm of 75 apart: 1.624994 of the mean pressure at one end of the lens, 0.375006 at the other;
  // no lift-off before 0.3929 of the radius
  const d = 20 / 75, lens = 2 * Math.acos(d / 2) - d / 2 * Math.sqrt(4 - d * d);
  const mean = Math.PI / lens, slope = (0.375006 - 1.624994) * mean / (2 - d);
  const level = 0.375006 * mean - slope;
  const pressure = ringPressure({ lap: 1, face: "down", apart: d }, rings);
  for (const ring of [5, 40, 80, 95]) {
    const r = (ring + 0.5) / rings, cosine = (r * r + d * d - 1) / (2 * r * d);
    const half = Math.acos(Math.max(-1, Math.min(1, cosine)));
    const wanted = (level * half + slope * r * Math.sin(half)) / Math.PI;
    assert.ok(Math.abs((pressure[ring] ?? 0) / wanted - 1) < 2e-3, `${ring}: ${wanted}`);
  }
});

Deno.test("a disc that tips is refused", () => {
  assert.throws(
    () => ringPressure({ lap: 1, face: "down", apart: 1 }, 12),
    /centre over the lower/,
  );
  assert.throws(() => ringPressure({ lap: 0.5, face: "down", apart: 0.6 }, 12), /got lap=0.5/);
  assert.throws(() => ringPressure({ lap: 1.2, face: "up", apart: 0 }, 12), /lap above 0 to 1/);
});
