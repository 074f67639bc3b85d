/** Discs on points, warm glass, limits and eyepieces as they stand in print. READ each in `tests/references/published`. */
import { airyRadius } from "../../lib/optics/airy.ts";
import { ARCSEC, imageSize, viewThrough } from "../../lib/sky/eyepiece.ts";
import { limitsOf } from "../../lib/sky/limits.ts";
import { minutesToCool } from "../../lib/telescope/cooling.ts";
import { plateOnPoints } from "../../lib/telescope/plate.ts";
import { type Got, hold, published } from "../references/published.ts";

const INCH = 25.4;

Deno.test("a disc on three and six points", () => {
  const { poisson } = published<{ poisson: number }>("plate-on-points").inputs;
  const rms = (points: number, radius: number): number =>
    plateOnPoints([{ points, radius }], { poisson }).rms;
  /** radius of least RMS, to 1e-4 */
  const best = (points: number): number => {
    let low = 0.5, high = 0.8;
    while (high - low > 1e-4) {
      const third = (high - low) / 3;
      if (rms(points, low + third) < rms(points, high - third)) high -= third;
      else low += third;
    }
    return (low + high) / 2;
  };
  const three = best(3), six = best(6);
  hold("plate-on-points", {
    "radius of three points, of the plate's": three,
    "points at the edge: RMS over the best": rms(3, 1) / rms(3, three),
    "radius of six points, of the plate's": six,
    "six points: RMS over that of three": rms(6, six) / rms(3, three),
  });
});

Deno.test("what an aperture shows", () => {
  const { inches } = published<{ inches: readonly number[] }>("limits-of-an-aperture").inputs;
  const dawes = limitsOf(100).dawesArcsec;
  hold("limits-of-an-aperture", {
    // a sharp eye: then 2 + 5 log D is the most cautious of the three rules
    "faintest star of 130 mm by 2 + 5 log D": limitsOf(130, 6.5).faintest[0],
    "Dawes, arcsec inch": dawes * 100 / INCH,
    "Dawes, arcsec cm": dawes * 10,
    "Rayleigh, arcsec inch": airyRadius(1 / INCH, 550) * ARCSEC,
    ...Object.fromEntries(inches.map((wide): [string, Got] => [
      `faintest star of ${wide} inches, table`,
      limitsOf(wide * INCH).faintest[0],
    ])),
  });
});

Deno.test("magnification and the size of an image", () => {
  const times = (focalLength: number, eyepiece: number): number =>
    viewThrough({ aperture: 100, focalLength }, { focalLength: eyepiece, apparentField: 1 })
      .magnification;
  hold("magnification", {
    "100 cm and 2.50 cm: magnification": times(1000, 25),
    "R 10.0 m and 3.00 cm: magnification": times(10_000 / 2, 30),
    "75 cm, magnification 7.5: eyepiece, cm": 75 / times(750, 100),
    "planet of 45 arcsec at 72 m: image, cm": imageSize(72_000, 45) / 10,
  });
});

Deno.test("Newton's cooling", () => {
  const coffee = 2 / Math.log(130 / 110), second = 2 / Math.log(125 / 110);
  hold("newton-cooling", {
    "coffee from 200 F, 180 F after 2 min in a room of 70 F: min to 175 F": minutesToCool(
      coffee,
      130,
      105,
    ),
    "the same, to 155 F": minutesToCool(coffee, 130, 85),
    "coffee from 200 F, 185 F after 2 min in a room of 75 F: min to 175 F, to half a minute":
      minutesToCool(second, 125, 100),
    "the same, to 155 F, to half a minute": minutesToCool(second, 125, 80),
    "cake from 450 F, 330 F after 10 min in a room of 70 F: min to 75 F": minutesToCool(
      10 / Math.log(380 / 260),
      380,
      5,
    ),
  });
});
