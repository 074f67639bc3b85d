/** The Sun's image: its distance is the focal length, its diameter a coarse check of it. */
import { arcsine } from "../quantity/typeB.ts";
import { repeats } from "./depthsUnderChord.ts";
import { type Estimate, estimate, fileOf, type Placed } from "./estimate.ts";
import { type Bench, RULER } from "./gauges.ts";
import { type Repeated, repeated } from "./repeated.ts";
import { focalLengthPerImage } from "./sunDate.ts";

/** A row of the Sun; a record's row fits. */
export interface SunRow extends Placed {
  /** centre of the glass to the image, mm */
  readonly distance?: number;
  /** diameter of the image, mm */
  readonly image?: number;
  /** ISO date */
  readonly date?: string;
}

/** Blur the eye accepts as sharp on white card, mm. COMMON PRACTICE */
const SHARP = 0.3;
/** Slope left by fine grinding, wetted: standard deviation, rad. COMMON PRACTICE */
const WET_SLOPE = 0.00025;
/** How much the year moves f / d to either side of its mean, relative. DERIVED from the Earth's eccentricity 0.0167 */
const YEARLY_SWING = 0.0167;

/**
 * How much one setting of the image usually spreads: half the depth within which it looks equally sharp, over sqrt 3.
 *
 *     blur w = sqrt(w0^2 + (4 sigma f)^2)          u = N w / sqrt 3
 *
 * A surface's slope turns a ray by twice itself, and over both sides of the axis that blurs the edge by 4 sigma f.
 * A model, not a law: once there are readings, their own spread is used instead.
 *
 * @param focal     focal length f, mm
 * @param aperture  mm; N = f / aperture
 * @param slope     standard deviation of the wetted surface's slope sigma, rad; default 0.00025
 * @param sharp     blur w0 that still looks sharp, mm; default 0.3
 * @throws {RangeError} when focal or aperture is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(sunSettingU(1200, 150).toFixed(2), "5.71");
 * ```
 */
export function sunSettingU(
  focal: number,
  aperture: number,
  slope = WET_SLOPE,
  sharp = SHARP,
): number {
  if (!(focal > 0 && aperture > 0 && Number.isFinite(focal / aperture))) {
    throw new RangeError(
      `sunSettingU requires focal and aperture above 0 mm, got focal=${focal}, aperture=${aperture}`,
    );
  }
  return ((focal / aperture) * Math.hypot(sharp, 4 * slope * focal)) / Math.sqrt(3);
}

/**
 * The radius by the distance of the Sun's image: R = 2f, from the centre of the glass.
 *
 * The ruler's step is in the scatter already, since each setting falls elsewhere between its marks.
 *
 * @param rows    those without a distance are passed over
 * @param bench   aperture, planned focal length, rulerStep, mm
 * @param rulerU  how far the ruler itself may be off over that distance, standard uncertainty, mm; default 0
 * @returns the estimate, or `undefined` when no row has a distance
 * @throws {RangeError} when the mean distance is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const gauges = { leaves: { width: 12.7, tolerance: 0.005 }, dialStep: 0.001, depthGaugeStep: 0.01, rulerStep: 1, chordU: 0.15 };
 * const bench = { aperture: 150, bevel: 1, focalLength: 1200, gauges };
 * const rows = [1199, 1194, 1203, 1197, 1196, 1201].map((distance) => ({ distance }));
 * const { radius } = sunDistance(rows, bench) ?? assert.fail();
 * assert.equal(`${radius.value.toFixed(1)} ${radius.u.toFixed(1)}`, "2396.7 2.7");
 * ```
 */
export function sunDistance(
  rows: readonly SunRow[],
  bench: Bench,
  rulerU = 0,
): Estimate | undefined {
  const series = sunSettings(rows, bench);
  if (series === undefined) return undefined;
  const usual = sunSettingU(bench.focalLength, bench.aperture);
  return estimate({
    method: "sun distance",
    radius: 2 * series.mean,
    components: [
      {
        source: "settings of the Sun's image",
        u: 2 * series.u,
        dof: series.dof,
        ...repeats(series),
      },
      { source: RULER, u: 2 * rulerU, dof: Infinity, shared: RULER },
    ],
    readings: series.count,
    setAside: series.setAside,
    doubted: series.doubted,
    assumed: series.count === 1
      ? [`one setting only: ${usual.toFixed(1)} mm is assumed as the spread of a setting`]
      : [],
    file: fileOf(rows),
  });
}

/** The settings put together, mm of focal length; a single one is given the usual spread. */
export function sunSettings(rows: readonly SunRow[], bench: Bench): Repeated | undefined {
  const step = bench.gauges.rulerStep;
  const settings = rows.flatMap((row) =>
    row.distance === undefined ? [] : [{ ...row, value: row.distance, step }]
  );
  const single = sunSettingU(bench.focalLength, bench.aperture);
  return settings.length === 0 ? undefined : repeated(settings, { single });
}

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
