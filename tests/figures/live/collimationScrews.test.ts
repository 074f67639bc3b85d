import assert from "node:assert/strict";
import fc from "fast-check";
import { aligned, collimationScrews } from "../../../lib/figures/live/collimationScrews.ts";
import type { Pixels } from "../../../lib/figures/live/pixels.ts";
import { safe } from "../../../lib/figures/html.ts";

const start = collimationScrews.start;
const turn = fc.double({ min: -0.5, max: 0.5, noNaN: true });

Deno.test("the star lies where a ray from the sky goes, by vectors", () => {
  fc.assert(fc.property(turn, turn, turn, (a, b, c) => {
    const { star, axis } = aligned({ ...start, a, b, c, leanX: 0, leanY: 0 });
    const [p, q, r] = [[90, a], [210, b], [330, c]].map(([deg = 0, z = 0]) => {
      const angle = deg * Math.PI / 180;
      return [60 * Math.cos(angle), 60 * Math.sin(angle), z] as const;
    });
    const [px, py, pz] = p ?? [0, 0, 0],
      [qx, qy, qz] = q ?? [0, 0, 0],
      [rx, ry, rz] = r ?? [0, 0, 0];
    // DERIVED: normal n of the plane through the three tips; light (0, 0, -1) leaves as d = 2 n_z n - (0, 0, 1) turned up
    const n = [
      (qy - py) * (rz - pz) - (qz - pz) * (ry - py),
      (qz - pz) * (rx - px) - (qx - px) * (rz - pz),
      (qx - px) * (ry - py) - (qy - py) * (rx - px),
    ];
    const long = Math.hypot(...n), [nx = 0, ny = 0, nz = 1] = n.map((v) => v / long);
    const up = 2 * nz * nz - 1;
    assert.ok(Math.abs(star.x - 1200 * (2 * nz * nx) / up) < 1e-6);
    assert.ok(Math.abs(star.y - 1200 * (2 * nz * ny) / up) < 1e-6);
    // the axis is the normal itself: half as far, but for the square of a small angle
    assert.ok(Math.abs(axis - 1200 * Math.hypot(nx, ny) / nz) < 1e-6);
  }));
});

Deno.test("turns that cancel out change nothing; one screw moves the star along one line", () => {
  const all = aligned({ ...start, a: 0.2, b: 0.2, c: 0.2 }), none = aligned(start);
  assert.ok(Math.abs(all.star.x - none.star.x) < 1e-9 && Math.abs(all.star.y - none.star.y) < 1e-9);
  const one = [-0.3, 0.1, 0.4].map((a) => aligned({ ...start, a }).star.x);
  assert.ok(one.every((x) => Math.abs(x - none.star.x) < 2e-3), one.join());
});

/** The lopsided star of the figure. */
function starOf(values: Record<string, number>): Pixels {
  const kept: Pixels[] = [];
  collimationScrews.picture({ ...start, ...values }, (pixels) => {
    kept.push(pixels);
    return safe``;
  });
  const [star] = kept;
  assert.ok(star !== undefined);
  return star;
}

Deno.test("the tail points away from the axis, as rays from the rim do, and there is none in line", () => {
  // DERIVED by rays of a paraboloid: those from the rim of a slanted star land farther out than the one by the vertex
  const f = 1200,
    slant = 0.004,
    landing = (x: number): number => {
      const z = x * x / (4 * f), slope = x / (2 * f);
      const d = [slant, -1] as const, n = [-slope, 1] as const, size = 1 + slope * slope;
      const k = 2 * (d[0] * n[0] + d[1] * n[1]) / size,
        [dx, dz] = [d[0] - k * n[0], d[1] - k * n[1]];
      return x + dx * (f - z) / dz;
    };
  assert.ok((landing(75) + landing(-75)) / 2 > landing(0) && landing(0) > 0);
  // raising screw A leans the top up: the axis passes below, so the tail lies above the bright head
  const { width, values } = starOf({ leanX: 0, leanY: 0, a: 0.4 });
  let high = 0, low = 0;
  values.forEach((v, k) => {
    const light = v ** 2.5, row = Math.floor(k / width);
    if (row < 40) high += light * (40 - row) ** 3;
    else low += light * (row - 40) ** 3;
  });
  assert.ok(high > 2 * low, `${high} ${low}`);
  const round = starOf({ leanX: 0, leanY: 0 }).values;
  round.forEach((v, k) => assert.ok(Math.abs(v - (round[round.length - 1 - k] ?? 0)) < 1e-9));
});

Deno.test("coma at the centre is what the tolerance says where the axis is that far off", () => {
  // DERIVED: W131 / root 72 = 1/14 wave at the tolerance
  const { axis, allowed, coma } = aligned({ ...start, leanX: 5.46 / 1200, leanY: 0 });
  assert.ok(Math.abs(coma.wavefrontRms / 550 - axis / allowed / 14) < 1e-9);
});
