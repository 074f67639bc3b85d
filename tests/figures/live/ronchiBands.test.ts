import assert from "node:assert/strict";
import { bandedGlass, ronchiBands } from "../../../lib/figures/live/ronchiBands.ts";
import type { Pixels } from "../../../lib/figures/live/pixels.ts";
import { safe } from "../../../lib/figures/html.ts";
import { peakToValley } from "../../../lib/optics/quality.ts";
import { conicPvWaves } from "../../../lib/optics/sphereEnough.ts";
import { ronchiByDiffraction } from "../../../lib/testing/bands/ronchiPicture.ts";

const clean = { ...ronchiBands.start };

function faceOf(values: Record<string, number>): Pixels {
  const kept: Pixels[] = [];
  ronchiBands.picture({ ...clean, ...values }, (pixels) => {
    kept.push(pixels);
    return safe``;
  });
  const [face] = kept;
  assert.ok(face !== undefined && face.width === 256);
  return face;
}

/** Brightness along the middle of the face by mm from its middle. */
function along(face: Pixels, mm: number): number {
  const column = Math.round((mm / 75 + 1) * 128 - 0.5);
  return face.values[128 * 256 + column] ?? NaN;
}

Deno.test("a sphere, 5 mm inside: bright in the middle and 60 mm out, dark half way", () => {
  // DERIVED: R / 2 d p = 2400 / (2 x 5 x 4) = 60 mm from band to band
  for (const offset of [-5, 5]) {
    const face = faceOf({ offset });
    for (const mm of [0, 58, -58]) {
      assert.ok(along(face, mm) > along(face, Math.sign(mm || 1) * 30) + 0.3);
    }
  }
});

Deno.test("a moved grating and a changed mirror are drawn by the library's light without short cuts", () => {
  faceOf({ offset: 3 }); // the mirror kept ready must not stay when another comes
  const { values } = faceOf({ conic: -0.7, edge: 60, ring: 25, offset: -4, lines: 5 });
  const error = (x: number, y: number): number => {
    const r = Math.hypot(x, y);
    return 25 * Math.exp(-(((r - 51) / 9) ** 2)) - 60 * (Math.max(0, r - 65) / 10) ** 2;
  };
  const wanted = ronchiByDiffraction({
    ...{ surface: { radius: 2400, conic: -0.7 }, half: 75, setUp: "same grating" },
    ...{ linesPerMm: 5, offset: -4, error },
  }, 256).values;
  let sum = 0, count = 0;
  wanted.forEach((light, k) => {
    if (Number.isNaN(light) || Number.isNaN(values[k] ?? NaN)) return;
    sum += ((values[k] ?? 0) - Math.min(1, Math.max(0, light)) ** (1 / 2.2)) ** 2;
    count += 1;
  });
  // the two sample the rim's ripples differently; in the mean they are one
  assert.ok(count > 50_000 && Math.sqrt(sum / count) < 0.02, `${Math.sqrt(sum / count)}`);
});

Deno.test("straight bands are a sphere's, and a star then finds a quarter of a wave", () => {
  const sphere = bandedGlass(clean), parabola = bandedGlass({ ...clean, conic: -1 });
  assert.ok(peakToValley(sphere.fromSphere) < 1e-6 && parabola.light.pvWaves < 1e-6);
  // DERIVED the third-order formula: glass of one above the other is half the wavefront
  const wanted = conicPvWaves({ aperture: 150, focalLength: 1200 }, 0);
  assert.ok(Math.abs(sphere.light.pvWaves - wanted) < 0.002);
  assert.ok(Math.abs(peakToValley(parabola.fromSphere) / 550 - wanted / 2) < 0.002);
  assert.equal(ronchiBands.value(clean), sphere.light.pvWaves);
});
