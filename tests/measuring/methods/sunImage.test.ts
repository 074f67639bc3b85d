import assert from "node:assert/strict";
import {
  focalLengthPerImage,
  sunAngle,
  sunDistanceAu,
} from "../../../lib/measuring/methods/sunImage.ts";
import { Agreement, readReference } from "../reference.ts";

interface Reference {
  expected: {
    dates: {
      date_ut: string;
      r_au: number;
      theta_arcmin: number;
      f_over_image_diameter: number;
      image_diameter_mm_for_f1200: number;
    }[];
    range: Record<string, { theta_arcmin: number; f_over_d: number }>;
  };
  tolerance: { rel: number; dates_r_au_abs: number };
}

// CROSS-CHECK numpy 1.24.2: tests/references/sun-image.json
const { expected, tolerance } = readReference<Reference>("sun-image");
const ARCMIN = Math.PI / 180 / 60;

Deno.test("distance, angle and f / d on the reference's dates", () => {
  const agree = new Agreement();
  assert.equal(expected.dates.length, 7);
  for (const row of expected.dates) {
    const distance = sunDistanceAu(row.date_ut);
    assert.ok(Math.abs(distance - row.r_au) <= tolerance.dates_r_au_abs);
    agree.check(sunAngle(distance) / ARCMIN, row.theta_arcmin, tolerance.rel, row.date_ut);
    const perImage = focalLengthPerImage(row.date_ut);
    agree.check(perImage, row.f_over_image_diameter, tolerance.rel, row.date_ut);
    agree.check(1200 / perImage, row.image_diameter_mm_for_f1200, tolerance.rel, row.date_ut);
  }
  agree.report("sun-image, dates");
});

Deno.test("nearest, mean and farthest", () => {
  const agree = new Agreement();
  for (const [name, row] of Object.entries(expected.range)) {
    const distance = Number(/([\d.]+)au/.exec(name)?.[1]);
    agree.check(sunAngle(distance) / ARCMIN, row.theta_arcmin, tolerance.rel, name);
    agree.check(1 / (2 * Math.tan(sunAngle(distance) / 2)), row.f_over_d, tolerance.rel, name);
  }
  assert.equal(focalLengthPerImage(), 1 / (2 * Math.tan(sunAngle() / 2)));
  agree.report("sun-image, range");
});

Deno.test("a date alone means 0 h universal time", () => {
  assert.equal(sunDistanceAu("2026-04-18"), sunDistanceAu("2026-04-18T00:00Z"));
});

Deno.test("law: one year later the Sun is as far again, and the year stays within its ellipse", () => {
  for (let day = 0; day < 365; day += 5) {
    const date = new Date(Date.UTC(2026, 0, 1) + day * 86_400_000).toISOString();
    const later = new Date(Date.UTC(2027, 0, 1) + day * 86_400_000).toISOString();
    const here = sunDistanceAu(date);
    assert.ok(Math.abs(sunDistanceAu(later) - here) < 1e-4);
    // DERIVED: 1 less and more the eccentricity of 0.0167: perihelion 0.9833, aphelion 1.0167 au.
    assert.ok(here > 0.983 && here < 1.017);
  }
});

Deno.test("what is no date, or no distance, is refused", () => {
  assert.throws(
    () => sunDistanceAu("18 of April"),
    /ISO date such as 2026-04-18, got "18 of April"/,
  );
  assert.throws(() => sunDistanceAu("2026-13-40"), RangeError);
  assert.throws(() => sunAngle(0), /distance above 0 au/);
});
