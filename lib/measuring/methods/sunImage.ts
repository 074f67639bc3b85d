/** The diameter of the Sun's image: a coarse check of the focal length. */
import { misconception } from "../../quantity/misconceptions.ts";
import { arcsine } from "../../quantity/typeB.ts";
import { repeats } from "../depthsUnderChord.ts";
import { type Estimate, estimate, fileOf } from "../estimate.ts";
import { type Bench, RULER } from "../gauges.ts";
import { repeated } from "../repeated.ts";
import { focalLengthPerImage } from "../sunDate.ts";
import type { CurveMethod } from "./method.ts";
import { LENGTH_MISCONCEPTIONS, SHARP, sunMisread, type SunRow } from "./sunDistance.ts";

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
