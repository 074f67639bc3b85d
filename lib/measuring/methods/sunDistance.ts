/** The distance of the Sun's image from the glass is the focal length. */
import { mm } from "../../quantity/format.ts";
import { type Misconception, misconception } from "../../quantity/misconceptions.ts";
import { repeats } from "../depthsUnderChord.ts";
import { type Estimate, estimate, fileOf, placeOf } from "../estimate.ts";
import { type Bench, RULER } from "../gauges.ts";
import { type Repeated, repeated } from "../repeated.ts";
import { about, scatterOf, take } from "./draws.ts";
import type { CurveMethod, MethodRow, Misread } from "./method.ts";
import { apartFromSeries } from "./misread.ts";

/** A row of the Sun; a record's row fits. */
export interface SunRow extends MethodRow {
  /** centre of the glass to the image, mm */
  readonly distance?: number;
  /** diameter of the image, mm */
  readonly image?: number;
}

/** Blur the eye accepts as sharp on white card, mm. COMMON PRACTICE */
export const SHARP = 0.3;
/** Slope left by fine grinding, wetted: standard deviation, rad. COMMON PRACTICE */
export const WET_SLOPE = 0.00025;

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
  slope: number = WET_SLOPE,
  sharp: number = SHARP,
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
function sunSettings(rows: readonly SunRow[], bench: Bench): Repeated | undefined {
  const step = bench.gauges.rulerStep;
  const settings = rows.flatMap((row) =>
    row.distance === undefined ? [] : [{ ...row, value: row.distance, step }]
  );
  const single = sunSettingU(bench.focalLength, bench.aperture);
  return settings.length === 0 ? undefined : repeated(settings, { single });
}

/** Distances and widths typed in another unit, as a length that grows with the radius. */
export const LENGTH_MISCONCEPTIONS: readonly Misconception[] = [
  misconception("mm for inch", 1, "mm were read as inches"),
  misconception("inch for mm", 1, "inches were read as mm"),
  misconception(
    "decimal point",
    1,
    "a distance ten times too large was typed, or mm were read as cm",
    { written: "too large" },
  ),
  misconception(
    "decimal point",
    1,
    "a distance ten times too small was typed, or cm were read as mm",
    { written: "too small" },
  ),
  misconception("m for mm", 1, "metres were read as mm"),
  misconception("mm for m", 1, "mm were read as metres"),
];

/** A distance or an image of 0 was not read. */
function nothingRead(rows: readonly SunRow[]): Misread | undefined {
  const row = rows.find(({ distance, image }) => distance === 0 || image === 0);
  const what = row?.distance === 0 ? "distance" : "image";
  return row && {
    row,
    message:
      `0 mm is no ${what} of the Sun's image: leave the cell empty where nothing was read. The Sun is not used until this is mended`,
  };
}

/** An image is about a hundredth of its distance: where it is longer, the two columns are swapped. */
function swapped(rows: readonly SunRow[]): Misread | undefined {
  const row = rows.find(({ distance, image }) =>
    distance !== undefined && image !== undefined && image > distance
  );
  return row && {
    row,
    message:
      `an image ${mm(row.image ?? 0)} wide at a distance of ${
        mm(row.distance ?? 0)
      }: the Sun's image is about a hundredth of its distance, so that the two columns seem swapped. The Sun is not used ` +
      "until this is mended",
  };
}

/**
 * A row of the Sun that was not read, has its columns swapped, or does not go with the others.
 *
 * @param read  what the method reads of a row, mm, and the focal length for each mm of it
 */
export function sunMisread(
  method: { readonly name: string; readonly misconceptions: readonly Misconception[] },
  rows: readonly SunRow[],
  { focalLength }: Bench,
  read: { readonly of: (row: SunRow) => number | undefined; readonly perMm: number },
): Misread | undefined {
  const seen = rows.flatMap((row) => {
    const asRead = read.of(row);
    return asRead === undefined || asRead <= 0
      ? []
      : [{ row, radius: 2 * asRead * read.perMm, asRead }];
  });
  return nothingRead(rows) ?? swapped(rows) ?? apartFromSeries(method, seen, 2 * focalLength, 1);
}

/** The distance of the Sun's image. */
export const bySunDistance: CurveMethod<"sun distance", "sun", SunRow> = {
  name: "sun distance",
  title: "Sun, distance",
  by: "by the Sun",
  table: "sun",
  reads: () => true,
  reduce: (rows, bench, { rulerU } = {}) => sunDistance(rows, bench, rulerU),
  draws: (rows, bench, { rulerU = 0 }) => {
    const series = sunSettings(rows, bench);
    if (series === undefined) throw new RangeError("draws require a distance of the Sun's image");
    return {
      inputs: { "settings of the Sun's image": scatterOf(series), [RULER]: about(0, rulerU) },
      addRadius: (x, weight, out) => {
        const setting = take(x, "settings of the Sun's image"), ruler = take(x, RULER);
        for (let i = 0; i < out.length; i++) {
          out[i] = (out[i] ?? NaN) + 2 * weight * ((setting[i] ?? NaN) + (ruler[i] ?? NaN));
        }
      },
    };
  },
  misconceptions: [
    misconception("R for f", 1, "the distance is R, not f", {
      findOut: "The Sun's image lies at f. A lamp beside its own image lies at R: which was it?",
    }),
    misconception("f for R", 1, "the distance was halved, or focal_length holds R", {
      findOut:
        "Measure from the centre of the glass to the image once more, and write it as it is.",
    }),
    ...LENGTH_MISCONCEPTIONS,
  ],
  misread: (rows, _, bench) =>
    sunMisread(bySunDistance, rows, bench, { of: ({ distance }) => distance, perMm: 1 }),
  page: {
    name: "Sun",
    usual: true,
    latestOnly: false,
    heading: "The Sun’s image",
    columns: () => [{ title: "What", text: true }, { title: "As read, mm", text: true }],
    lines: (rows) => {
      const distances = rows.flatMap(({ distance }) => distance ?? []);
      const images = rows.flatMap(({ image }) => image ?? []);
      return [
        ...(distances.length > 0
          ? [{ cells: ["distance of the image", distances.join(", ")] }]
          : []),
        ...(images.length > 0 ? [{ cells: ["its width", images.join(", ")] }] : []),
      ];
    },
    how:
      "Outdoors, with the leader: wet the mirror, find the Sun’s image on a white card, and measure from the middle of " +
      "the glass to the card, six times, coming from both sides. Write it into sun.csv.",
  },
  series: {
    name: "the Sun",
    title: "Sun’s image from the glass (mm)",
    digits: 0,
    readings: (rows, { gauges }) =>
      rows.flatMap((row) =>
        row.distance === undefined
          ? []
          : [{ ...placeOf(row), value: row.distance, step: gauges.rulerStep }]
      ),
    how:
      "Set the card anew six times, each time from farther off, without looking at the last number.",
  },
};
