/** A lamp that meets its own image stands at the centre of curvature: its distance from the glass is R. No Sun is needed. */
import { repeats } from "../depthsUnderChord.ts";
import { type Estimate, estimate, fileOf, placeOf } from "../estimate.ts";
import { type Bench, RULER } from "../gauges.ts";
import { misconception } from "../../quantity/misconceptions.ts";
import { type Repeated, repeated } from "../repeated.ts";
import { about, scatterOf, take } from "./draws.ts";
import type { CurveMethod, MethodRow } from "./method.ts";
import { apartFromSeries } from "./misread.ts";
import { LENGTH_MISCONCEPTIONS, SHARP, WET_SLOPE } from "./sunDistance.ts";

/** A row of the lamp; a record's row fits. */
export interface LampRow extends MethodRow {
  /** middle of the glass to the box that holds lamp and card, mm */
  readonly distance: number;
}

/** How far the water on the glass may be thicker at the middle than at the edge, or thinner, mm. COMMON PRACTICE */
const WET_FILM = 0.002;
/** How far lamp and card may stand from the mark on the box that the tape is led to, mm. COMMON PRACTICE */
const ON_THE_BOX = 3;
/** Share of one setting's spread that is the same in all of one eye's settings: what it calls sharpest. COMMON PRACTICE */
const SAME_EYE = 0.5;

/**
 * How much one setting of the box usually spreads: half the depth within which the picture looks equally sharp, over sqrt 3.
 *
 *     blur w = sqrt(w0^2 + (4 sigma R)^2)          u = (R / D) w / (2 sqrt 3)
 *
 * The picture comes towards the mirror as the box goes away from it, so that the two part by twice the shift. A model, not a
 * law: once there are readings, their own spread is used instead.
 *
 * @param radius    radius of curvature R, mm
 * @param aperture  D, mm
 * @param slope     standard deviation of the wetted surface's slope sigma, rad; default 0.00025
 * @throws {RangeError} when radius or aperture is not above 0
 * @example 150 mm f/8, wetted
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(lampSettingU(2400, 150).toFixed(1), "11.2");
 * ```
 */
export function lampSettingU(
  radius: number,
  aperture: number,
  slope: number = WET_SLOPE,
): number {
  if (!(radius > 0 && aperture > 0 && Number.isFinite(radius / aperture))) {
    throw new RangeError(
      `lampSettingU requires radius and aperture above 0 mm, got radius=${radius}, aperture=${aperture}`,
    );
  }
  return radius / aperture * Math.hypot(SHARP, 4 * slope * radius) / (2 * Math.sqrt(3));
}

/** The settings put together, mm of radius; a single one is given the usual spread. */
function settingsOf(rows: readonly LampRow[], bench: Bench): Repeated | undefined {
  const step = bench.gauges.rulerStep;
  const single = lampSettingU(2 * bench.focalLength, bench.aperture);
  const settings = rows.map((row) => ({ ...row, value: row.distance, step }));
  return settings.length === 0 ? undefined : repeated(settings, { single });
}

/** What reading again does not cure, mm of radius, by its name. */
function lasting({ focalLength, aperture }: Bench): Readonly<Record<string, number>> {
  const radius = 2 * focalLength, sagitta = aperture * aperture / (8 * radius);
  return {
    "what the eye calls sharpest": SAME_EYE * lampSettingU(radius, aperture),
    "water on the glass": radius * WET_FILM / sagitta / Math.sqrt(3),
    "lamp and card on their box": ON_THE_BOX / Math.sqrt(3),
  };
}

/**
 * The radius by a lamp at the centre of curvature: the distance itself, from the middle of the glass.
 *
 * The settings bring their own scatter. What is the same in all of them stays however often one reads: what the eye calls
 * sharpest, the water on the glass, and where lamp and card stand on their box.
 *
 * @param rows    each one setting
 * @param bench   aperture, planned focal length, rulerStep, mm
 * @param rulerU  how far the tape itself may be off over that distance, standard uncertainty, mm; default 0
 * @returns the estimate, or `undefined` without a row
 * @example five settings
 * ```ts
 * import assert from "node:assert/strict";
 * const gauges = { leaves: { width: 12.7, tolerance: 0.005 }, dialStep: 0.001, depthGaugeStep: 0.01, rulerStep: 1, chordU: 0.15 };
 * const bench = { aperture: 150, bevel: 1, focalLength: 1200, gauges };
 * const { radius } = lamp([2391, 2402, 2397, 2409, 2394].map((distance) => ({ distance })), bench) ?? assert.fail();
 * assert.equal(`${radius.value.toFixed(1)} ${radius.u.toFixed(1)}`, "2398.6 7.1");
 * ```
 */
export function lamp(
  rows: readonly LampRow[],
  bench: Bench,
  rulerU = 0,
): Estimate | undefined {
  const series = settingsOf(rows, bench);
  if (series === undefined) return undefined;
  const usual = lampSettingU(2 * bench.focalLength, bench.aperture);
  return estimate({
    method: "lamp",
    radius: series.mean,
    components: [
      { source: SETTINGS, u: series.u, dof: series.dof, ...repeats(series) },
      ...Object.entries(lasting(bench)).map(([source, u]) => ({ source, u, dof: Infinity })),
      { source: RULER, u: rulerU, dof: Infinity, shared: RULER },
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

const SETTINGS = "settings of the lamp";

/** A lamp at the centre of curvature. */
export const byLamp: CurveMethod<"lamp", "lamp", LampRow> = {
  name: "lamp",
  title: "Lamp",
  by: "by the lamp",
  table: "lamp",
  reads: () => true,
  reduce: (rows, bench, { rulerU } = {}) => lamp(rows, bench, rulerU),
  draws: (rows, bench, { rulerU = 0 }) => {
    const series = settingsOf(rows, bench);
    if (series === undefined) throw new RangeError("draws require a distance of the lamp");
    const same = Object.entries({ ...lasting(bench), [RULER]: rulerU });
    return {
      inputs: {
        [SETTINGS]: scatterOf(series),
        ...Object.fromEntries(same.map(([name, u]) => [name, about(0, u)])),
      },
      addRadius: (x, weight, out) => {
        for (const name of [SETTINGS, ...same.map(([name]) => name)]) {
          const column = take(x, name);
          for (let i = 0; i < out.length; i++) {
            out[i] = (out[i] ?? NaN) + weight * (column[i] ?? NaN);
          }
        }
      },
    };
  },
  misconceptions: [
    misconception("f for R", 1, "the distance was halved, or that of the Sun's image was typed", {
      findOut: "A lamp beside its own image lies at R. The Sun's image lies at f: which was it?",
    }),
    misconception("R for f", 1, "the way there and back was typed, or focal_length holds R", {
      findOut: "Measure from the middle of the glass to the box once more, one way.",
    }),
    ...LENGTH_MISCONCEPTIONS,
  ],
  misread: (rows, _, { focalLength }) => {
    const nothing = rows.find(({ distance }) => distance === 0);
    if (nothing !== undefined) {
      const message =
        "0 mm is no distance of the lamp: take the row out where nothing was read. The lamp is not used until this is mended";
      return { row: nothing, message };
    }
    const seen = rows.map((row) => ({ row, radius: row.distance, asRead: row.distance }));
    return apartFromSeries(byLamp, seen, 2 * focalLength, 1);
  },
  page: {
    name: "lamp",
    usual: false,
    latestOnly: false,
    heading: "The lamp at the centre of curvature",
    columns: () => [{ title: "What", text: true }, { title: "As read, mm", text: true }],
    lines: (rows) =>
      rows.length === 0 ? [] : [{
        cells: ["middle of the glass to the box", rows.map((row) => row.distance).join(", ")],
      }],
    note: "This distance is R, not f.",
    how:
      "Indoors, without the Sun: lamp and white card side by side on one box, some 2 f from the wetted mirror. Slide the box until " +
      "the picture of the lamp’s hole on the card is sharpest, and measure from the middle of the glass to the box, five times, " +
      "coming from both sides. Write it into lamp.csv.",
  },
  series: {
    name: "the lamp",
    title: "lamp from the glass (mm)",
    digits: 0,
    readings: (rows, { gauges }) =>
      rows.map((row) => ({ ...placeOf(row), value: row.distance, step: gauges.rulerStep })),
    how:
      "Set the box anew five times, from either side in turn, without looking at the last number.",
  },
};
