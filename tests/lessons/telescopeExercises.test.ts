/** Answers of notebooks 14 to 18 by the lib, each trap by the slip it stands for. */
import assert from "node:assert/strict";
import { silverOnGlass } from "../../lib/coating/silver.ts";
import { ARCSEC, imageSize, viewThrough } from "../../lib/sky/eyepiece.ts";
import { frictionMoment } from "../../lib/telescope/balance.ts";
import { SUPPORTS, supportSag } from "../../lib/telescope/cell.ts";
import { imageShift, tiltAfter } from "../../lib/telescope/collimation.ts";
import { flatToFocus } from "../../lib/telescope/layout.ts";
import { agrees } from "./agrees.ts";

Deno.test("14: how little silver", () => {
  const { mass } = silverOnGlass({ diameter: 150 }), wide = silverOnGlass({ diameter: 200 }).mass;
  agrees("coat-mirror-1", 1000 * mass, [4 * 1000 * mass, Math.PI * 7.5 ** 2]);
  agrees("coat-mirror-2", wide / mass, [200 / 150, mass / wide]);
  agrees("coat-mirror-3", 120 * mass, [120 * 1000 * mass]); // INVENTED price, 120 cents a gram
});

Deno.test("15: where the flat goes, and what it takes", () => {
  agrees("place-flat-1", flatToFocus({ innerDiameter: 180, wall: 3, height: 70, margin: 15 }), [
    180 + 3 + 70 + 15,
  ]);
  agrees("place-flat-2", 100 * (31 / 150) ** 2, [
    (100 * 31) / 150,
    (31 / 150) ** 2,
    100 - 100 * (31 / 150) ** 2,
  ]);
});

Deno.test("16: points, nanometres, bearings", () => {
  const at = SUPPORTS[3][0]?.radius ?? 0;
  agrees("carry-weight-1", at * 75, [at * 150]);
  const glass = { youngGPa: 72, poisson: 0.22, densityKgPerM3: 2500 };
  const sag = supportSag({ aperture: 150, thickness: 25, ...glass }, 3).rmsThick;
  agrees("carry-weight-2", (2 * sag) / 550, [sag / 550]);
  const pads = { friction: 0.15, padHalfAngle: (35 * Math.PI) / 180 };
  const hold = (radius: number): number => frictionMoment(6650, { radius, ...pads });
  agrees("carry-weight-3", hold(90), [
    hold(180),
    hold(90) * Math.cos(pads.padHalfAngle),
    hold(90) / 9.80665,
  ]);
});

Deno.test("17: turns and shifts", () => {
  const angles = [90, 210, 330].map((angle) => (angle * Math.PI) / 180);
  const tilt = tiltAfter({ pitch: 1, radius: 60, angles }, [1, 0, 0]);
  const size = Math.hypot(tilt.x, tilt.y), arcmin = (180 * 60) / Math.PI;
  agrees("align-mirrors-1", size * arcmin, [
    (1 / 60) * arcmin,
    size,
    size * 180 / Math.PI,
    2 * size * arcmin,
  ]);
  const moved = imageShift(1198.3, tilt);
  agrees("align-mirrors-2", Math.hypot(moved.x, moved.y), [1198.3 * size, 4 * 1198.3 * size]);
  // the choice of 17-3: raised at +x, the image goes to -x
  assert.ok(
    imageShift(1198.3, tiltAfter({ pitch: 1, radius: 60, angles: [0, 2, 4] }, [1, 0, 0])).x < 0,
  );
});

Deno.test("18: sizes at the eyepiece and at the focus", () => {
  const view = (focalLength: number): number =>
    viewThrough({ aperture: 150, focalLength }, { focalLength: 25, apparentField: 1 })
      .magnification;
  agrees("observe-sky-1", view(1200), [view(2400)]);
  agrees("observe-sky-2", imageSize(1200, 44.7), [(2400 * 44.7) / ARCSEC]);
});
