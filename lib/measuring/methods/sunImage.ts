/** The diameter of the Sun's image: a coarse check of the focal length. */
import { misconception } from "../../quantity/misconceptions.ts";
import { arcsine } from "../../quantity/typeB.ts";
import { repeats } from "../depthsUnderChord.ts";
import { type Estimate, estimate, fileOf } from "../estimate.ts";
import { type Bench, RULER } from "../gauges.ts";
import { repeated } from "../repeated.ts";
import type { CurveMethod } from "./method.ts";
import { LENGTH_MISCONCEPTIONS, SHARP, sunMisread, type SunRow } from "./sunDistance.ts";

/** Nominal solar radius, km (IAU 2015 Resolution B3; READ astropy 5.2.1, constants). */
const SOLAR_RADIUS_KM = 695_700;
/** Astronomical unit, km (IAU 2012 Resolution B2; READ astropy 5.2.1, constants). */
const AU_KM = 149_597_870.7;
const DEGREE = Math.PI / 180;

/**
 * Distance of the Sun on a date.
 *
 *     r = 1.00014 - 0.01671 cos g - 0.00014 cos 2g,   g = 357.528 + 0.9856003 (JD - 2451545.0) degrees
 *
 * @param date  ISO date, "2026-04-18" (taken at 0 h universal time), or date and time, "2000-01-01T12:00Z"
 * @returns astronomical units, within about 0.0003
 * @throws {RangeError} when the date cannot be read
 * @see low-precision formulas for the Sun, Astronomical Almanac (beside tests/references/sun-image.json)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(sunDistanceAu("2026-07-06").toFixed(4), "1.0167");
 * ```
 */
export function sunDistanceAu(date: string): number {
  const milliseconds = Date.parse(date);
  if (Number.isNaN(milliseconds)) {
    throw new RangeError(`sunDistanceAu requires an ISO date such as 2026-04-18, got "${date}"`);
  }
  const days = milliseconds / 86_400_000 + 2_440_587.5 - 2_451_545;
  const anomaly = (357.528 + 0.9856003 * days) * DEGREE;
  return 1.00014 - 0.01671 * Math.cos(anomaly) - 0.00014 * Math.cos(2 * anomaly);
}

/**
 * Angle the Sun's disc fills in the sky, theta = 2 asin(radius / distance).
 *
 * @param distanceAu  astronomical units; default 1, the year's mean
 * @returns rad, about 0.0093
 * @throws {RangeError} when the distance is not above 0
 * @example 32 minutes of arc
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal((sunAngle() * 60 * 180 / Math.PI).toFixed(2), "31.97");
 * ```
 */
export function sunAngle(distanceAu = 1): number {
  if (!(distanceAu > 0 && Number.isFinite(distanceAu))) {
    throw new RangeError(`sunAngle requires a distance above 0 au, got ${distanceAu}`);
  }
  return 2 * Math.asin(SOLAR_RADIUS_KM / (distanceAu * AU_KM));
}

/**
 * Focal length for each mm of the Sun's image, 1 / (2 tan(theta / 2)): between 105.7 in January and 109.3 in July.
 *
 * @param date  ISO date; absent means the year's mean, 107.5
 * @returns f / d, a pure number
 * @throws {RangeError} when the date cannot be read
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(focalLengthPerImage("2026-04-18").toFixed(1), "107.9");
 * ```
 */
export function focalLengthPerImage(date?: string): number {
  return 1 / (2 * Math.tan(sunAngle(date === undefined ? 1 : sunDistanceAu(date)) / 2));
}

/** How much the year moves f / d to either side of its mean, relative. DERIVED from the Earth's eccentricity 0.0167 */
const YEARLY_SWING = 0.0167;

/**
 * The radius by the diameter of the Sun's image: a check for gross slips, good to a few per cent.
 *
 * Each diameter is multiplied by f / d of its date. The edge of the image is judged by eye, always the same way, to
 * 0.3 mm; where no date is written, what the year does to the Sun's size is added.
 *
 * @param rows    those without an image are passed over
 * @param bench   rulerStep, mm
 * @param rulerU  how far the ruler may be off over the image, standard uncertainty, mm; default 0
 * @returns the estimate, or `undefined` when no row has an image
 * @throws {RangeError} when a date cannot be read or the mean is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const gauges = { leaves: { width: 12.7, tolerance: 0.005 }, dialStep: 0.001, depthGaugeStep: 0.01, rulerStep: 1, chordU: 0.15 };
 * const bench = { aperture: 150, bevel: 1, focalLength: 1200, gauges };
 * const { radius } = sunImage([{ image: 11.1, date: "2026-04-18" }], bench) ?? assert.fail();
 * assert.equal((radius.value / 2).toFixed(0), "1198");
 * ```
 */
export function sunImage(rows: readonly SunRow[], bench: Bench, rulerU = 0): Estimate | undefined {
  const images = rows.flatMap((row) => {
    if (row.image === undefined) return [];
    const perImage = focalLengthPerImage(row.date);
    const step = perImage * bench.gauges.rulerStep;
    return [{ ...row, value: perImage * row.image, asRead: row.image, step }];
  });
  if (images.length === 0) return undefined;
  const series = repeated(images);
  const undated = images.filter(({ date }) => date === undefined).length / images.length;
  const perImage = focalLengthPerImage();
  return estimate({
    method: "sun image",
    radius: 2 * series.mean,
    components: [
      { source: "edge of the Sun's image", u: 2 * perImage * SHARP, dof: Infinity },
      {
        source: "diameters of the Sun's image",
        u: 2 * series.u,
        dof: series.dof,
        ...repeats(series),
      },
      {
        source: "Sun's size on an unknown date",
        u: 2 * series.mean * arcsine(YEARLY_SWING) * undated,
        dof: Infinity,
      },
      { source: RULER, u: 2 * perImage * rulerU, dof: Infinity, shared: RULER },
    ],
    readings: series.count,
    setAside: series.setAside,
    doubted: series.doubted,
    assumed: undated > 0
      ? ["no date beside an image: the year's mean size of the Sun is taken"]
      : [],
    file: fileOf(rows),
  });
}

/** Near enough to tell a misread row: focal length for each mm of the Sun's image. */
const PER_IMAGE = 107.5;

/** The width of the Sun's image: no more than a check. */
export const bySunImage: CurveMethod<"sun image", "sun", SunRow> = {
  name: "sun image",
  title: "Sun, width",
  by: "by the Sun’s width",
  table: "sun",
  reads: () => true,
  reduce: (rows, bench, { rulerU } = {}) => sunImage(rows, bench, rulerU),
  misconceptions: [
    misconception("radius for diameter", 1, "half the image's width was typed", {
      findOut: "Measure the image straight across.",
    }),
    misconception("R for f", 1, "the image is twice as wide as it should be", {
      findOut: "Was it in focus, and measured straight across only once?",
    }),
    ...LENGTH_MISCONCEPTIONS,
  ],
  misread: (rows, _, bench) =>
    sunMisread(bySunImage, rows, bench, { of: ({ image }) => image, perMm: PER_IMAGE }),
  check: { what: "by the image's width", ask: "was the image sharp, and the date right?" },
};
