import assert from "node:assert/strict";
import fc from "fast-check";
import { plumeNow, warmPlume } from "../../../lib/figures/live/warmPlume.ts";
import type { Pixels } from "../../../lib/figures/live/pixels.ts";
import { safe } from "../../../lib/figures/html.ts";

const start = warmPlume.start;

Deno.test("after the wait that it names, a reading is moved by its noise and no more", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 8, noNaN: true }),
      fc.integer({ min: 5, max: 100 }),
      fc.integer({ min: 4, max: 30 }),
      fc.integer({ min: 0, max: 240 }),
      (excess, length, width, minutes) => {
        const values = { ...start, excess, length, width, minutes }, now = plumeNow(values);
        if (now.wait === 0) return assert.ok(now.reading <= 0.06 + 1e-12);
        const later = plumeNow({ ...values, minutes: minutes + now.wait });
        assert.ok(Math.abs(later.reading - 0.06) < 1e-9);
      },
    ),
  );
});

Deno.test("glass that cools through both faces takes 89 minutes for each factor of e", () => {
  // CROSS-CHECK notebooks/19-observe-sky.ipynb: 89 minutes in still air for 25 mm of glass
  const minutes = 89 * Math.LN2;
  assert.ok(
    Math.abs(plumeNow({ ...start, minutes }).excess / (start["excess"] ?? 1) - 0.5) < 0.003,
  );
});

function faceOf(values: Record<string, number>): Pixels {
  const kept: Pixels[] = [];
  warmPlume.picture({ ...start, ...values }, (pixels) => {
    kept.push(pixels);
    return safe``;
  });
  const [face] = kept;
  assert.ok(face !== undefined);
  return face;
}

Deno.test("still air leaves straight bands; a plume bends those it stands before and no other", () => {
  const calm = faceOf({ excess: 0 }), warm = faceOf({ place: 40, width: 6 }), { width } = calm;
  const at = (face: Pixels, x: number, y: number): number => face.values[y * width + x] ?? NaN;
  let beside = 0, within = 0;
  for (let y = width / 4; y < (3 * width) / 4; y++) {
    for (let x = 40; x < 60; x++) {
      beside = Math.max(beside, Math.abs(at(calm, x, y) - at(warm, x, y)));
    }
    for (let x = 135; x < 160; x++) {
      within = Math.max(within, Math.abs(at(calm, x, y) - at(warm, x, y)));
    }
  }
  assert.ok(within > 0.3 && beside < within / 4, `${within} ${beside}`);
  const rows = [60, 130].map((y) => at(calm, 60, y));
  assert.ok(Math.abs((rows[0] ?? 0) - (rows[1] ?? 1)) < 0.03, "straight");
});
