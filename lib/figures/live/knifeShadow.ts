/** Live: the shadow behind the knife, the readings of one run, and what they make of the glass. */
import { random } from "../../numeric/random.ts";
import {
  type Conic,
  conicHeight,
  conicSlope,
  exactWavefront,
  knifePosition,
  type SurfaceError,
} from "../../optics/conic.ts";
import { atBestFocus, type FocusedWavefront, radialGrid } from "../../optics/quality.ts";
import { shadowByRays, type ShadowPicture } from "../../testing/zones/knife.ts";
import { effectiveRadius, type Opening } from "../../testing/zones/openings.ts";
import { type MethodResult, reduceBy } from "../../testing/zones/zoneMethods.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { fixed, scale, signed } from "../scale.ts";
import { type Control, levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";
import { errorOf, half, radius } from "./benchMirror.ts";
import { type Paint, sideBySide } from "./pixels.ts";

const wavelength = 550, size = 81;
const edges = [0, 30, 45, 57, 67, 74];
const openings: readonly Opening[] = edges.slice(1).map((outer, i) => ({
  inner: edges[i] ?? 0,
  outer,
}));
const radii = openings.map((opening) => effectiveRadius(opening, "bands"));
const tester = { half, radius, source: "moves", openings: "bands" } as const;
const ideal = radii.map((r) => knifePosition(r, { radius, conic: -1 }, "moves"));
const grid = radialGrid(40);

/** What the glass is, and what one run of readings makes of it. */
export interface KnifeRun {
  readonly shadow: ShadowPicture;
  readonly light: FocusedWavefront;
  /** knife positions read in the five zones, from the centre of curvature of the middle, mm */
  readonly readings: readonly number[];
  /** the conic that fits this run */
  readonly read: MethodResult;
  /** standard uncertainty of its K for the noise that is set */
  readonly u: number;
}

/** Where the light of a ring goes back on itself, with the lamp on the knife's slide: where its normal meets the axis. */
function crossing(r: number, surface: Conic, error: SurfaceError): number {
  const step = 0.05, tilt = (error(r + step) - error(r - step)) * 1e-6 / (2 * step);
  const height = conicHeight(r, surface) + error(r) * 1e-6;
  return height + r / (conicSlope(r, surface) + tilt) - radius;
}

/**
 * Shadow and readings of a 150 mm f/8 mirror with lamp and knife on one slide.
 *
 * Noise is drawn from the number of the run: the same run gives the same readings.
 *
 * @param values  conic; edge and ring in nm; knife and noise in mm; run
 * @example without noise and faults a run reads the K of the glass
 * ```ts
 * import assert from "node:assert/strict";
 * const clean = { conic: -0.6, edge: 0, ring: 0, knife: 0.5, noise: 0, run: 1 };
 * assert.equal(knifeRun(clean).read.conic.toFixed(3), "-0.600");
 * ```
 */
export function knifeRun(values: Values): KnifeRun {
  const surface = { radius, conic: valueOf(values, "conic") }, error = errorOf(values);
  const noise = valueOf(values, "noise"), draw = random(Math.round(valueOf(values, "run")));
  const readings = radii.map((r) => crossing(r, surface, error) + noise * draw.normal());
  const away = readings.map((reading, i) => reading - (ideal[i] ?? 0));
  const mean = ideal.reduce((sum, v) => sum + v, 0) / ideal.length;
  const spread = ideal.reduce((sum, v) => sum + (v - mean) ** 2, 0);
  const waves = exactWavefront(grid, surface, half, error).map((nm) => nm / wavelength);
  return {
    shadow: shadowByRays(
      { surface, half, error, source: "moves", knife: valueOf(values, "knife") },
      size,
    ),
    light: atBestFocus(grid, waves),
    readings,
    read: reduceBy(openings, away, tester, "conic only", wavelength),
    u: noise / Math.sqrt(spread),
  };
}

const runNow = once(knifeRun);

const x = scale(0, half, 44, 340), y = scale(-0.6, 2.2, 150, 22);
const inside = (mm: number): number => Math.min(154, Math.max(18, y(mm)));

function readingsDrawing(values: Values, { readings, read }: KnifeRun): Html {
  const knife = valueOf(values, "knife");
  const wanted: Point[] = Array.from({ length: 31 }, (_, i) => {
    const r = half * i / 30;
    return [x(r), y(knifePosition(r, { radius, conic: -1 }, "moves"))];
  });
  return drawing({
    width: 352,
    height: 192,
    finding:
      `Knife positions of five zones over their distance from the centre, beside the curve of a paraboloid. This run reads K ${
        fixed(read.conic, 2)
      }.`,
    contents: group(
      levels([0, 1, 2], y, (mm) => fixed(mm)),
      path("dim", through(wanted)),
      words([250, y(0.66) - 12], "paraboloid", { anchor: "end" }),
      stroke("limit", [44, y(knife)], [340, y(knife)]),
      words([48, y(knife) - 5], "knife", { kind: "t-rouge halo" }),
      readings.map((reading, i) => dot("mine", [x(radii[i] ?? 0), inside(reading)], 4)),
      stroke("axis", [44, 158], [340, 158]),
      [0, 25, 50, 75].map((r) =>
        words([x(r), 174], fixed(r), { kind: "soft", anchor: r === 75 ? "end" : "middle" })
      ),
      words([0, 13], "One run: knife from the centre of curvature (mm)"),
      words([340, 190], "Zone (mm)", { anchor: "end" }),
    ),
  });
}

function picture(values: Values, paint: Paint): Html {
  const run = runNow(values), knife = valueOf(values, "knife");
  const shadow = paint({ width: size, height: size, values: run.shadow.values }, {
    shown: 236,
    rim: true,
    finding: `The mirror’s face behind a knife that stands ${
      signed(knife, 2)
    } mm from the centre of curvature of its middle.`,
  });
  return safe`${sideBySide([["behind the knife, its edge upright", shadow]])}${
    readingsDrawing(values, run)
  }`;
}

function reading(values: Values): Html {
  const { read, u, light } = runNow(values), conic = valueOf(values, "conic");
  return safe`This run reads K <big><output>${fixed(read.conic, 2)}</output> ± ${
    fixed(u, 2)
  }</big> The glass is <output>${fixed(conic, 2)}</output>, wavefront <output>${
    fixed(light.pvWaves, 3)
  } wave</output> peak to valley, Strehl ${fixed(light.strehl, 2)}; a conic through the run says ${
    fixed(read.wavefrontPvWaves, 3)
  }.`;
}

const nm = { unit: "nm", spoken: "nanometres", step: 1, digits: 0 } as const;
const mm = { unit: "mm", spoken: "millimetres", step: 0.01, digits: 2 } as const;
const controls: readonly Control[] = [
  { key: "knife", label: "Knife, from the centre", min: -0.5, max: 2, ...mm },
  {
    ...{ key: "conic", label: "Conic constant K", min: -1.6, max: 0.4, step: 0.02, digits: 2 },
    ...{ unit: "", spoken: "" },
  },
  { key: "edge", label: "Edge turned down by", min: 0, max: 150, ...nm },
  { key: "ring", label: "Ring at 51 mm, high by", min: -60, max: 60, ...nm },
  { key: "noise", label: "Noise of a reading", min: 0, max: 0.15, ...mm },
  {
    ...{ key: "run", label: "Run", min: 1, max: 9, step: 1, digits: 0 },
    ...{ unit: "of nine", spoken: "of nine" },
  },
];

/** The figure: the knife, the glass and the noise to slide. */
export const knifeShadow: LiveFigure = {
  name: "knife-shadow",
  controls,
  start: { knife: 0.6, conic: -1, edge: 0, ring: 0, noise: 0.06, run: 1 },
  picture,
  reading,
  value: (values) => runNow(values).read.conic,
  caption:
    safe`A 150 mm f/8, lamp and knife on one slide; the shadow is drawn by rays, a slit 0.01 mm wide. <b>Even grey</b> is where the knife stands at that ring’s crossing. The uncertainty is that of K for the noise set; it knows nothing of edge and ring.`,
};
