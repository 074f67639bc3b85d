import assert from "node:assert/strict";
import { errorFromZernike } from "../../lib/testing/faceError.ts";
import { rayAtGrating } from "../../lib/testing/bands/ronchi.ts";
import { close } from "../optics/close.ts";

Deno.test("Zernike's terms: RMS over the face is the amount; coma throws light as its slope says", () => {
  const error = errorFromZernike([0, 0, 0, 0, 0, 0, 0, 20], 75);
  let sum = 0, count = 0;
  for (let i = -100; i <= 100; i++) {
    for (let j = -100; j <= 100; j++) {
      if (i * i + j * j > 1e4) continue;
      sum += error(0.75 * i, 0.75 * j) ** 2;
      count++;
    }
  }
  close(Math.sqrt(sum / count), 20, 0.3);
  // DERIVED X = -2R dh/dx at the centre of curvature of a sphere; dh/dx = 20 sqrt 8 (3 q - 2 + 6 u^2)/a there, u = 0.6, v = 0
  const setting = {
    surface: { radius: 2400, conic: 0 },
    half: 75,
    setUp: "same grating",
    linesPerMm: 4,
  } as const;
  const { across } = rayAtGrating(45, 0, { ...setting, offset: 0, error });
  const slope = (20e-6 * Math.sqrt(8) * (9 * 0.36 - 2)) / 75;
  close(across, -2 * 2400 * slope, 1e-5);
  assert.throws(() => errorFromZernike([1], 0), /half above 0/);
  assert.throws(() => errorFromZernike([NaN], 75), /finite amounts/);
});
