/** Wavefronts as lessons draw them: twice the glass, one P-V in two shapes, and the light they leave in a star's middle. */
import { readingsTable } from "../figures/blocks.ts";
import { axisLine } from "../figures/drawings/axisLine.ts";
import { figure, isNarrow } from "../figures/figure.ts";
import { type Html, safe } from "../figures/html.ts";
import { drawing, group, rect, stroke, words } from "../figures/pen.ts";
import { lines, Plot, plotDocument, styledPlot } from "../figures/plots/style.ts";
import { scale } from "../figures/scale.ts";
import { type Shown, together } from "../figures/show.ts";
import { atBestFocus, radialGrid } from "../optics/quality.ts";
import { starProfile } from "../optics/starImage.ts";
import type { ZoneFigure } from "../testing/zones/zones.ts";

function doubledDraw(glass: number, goal: number, width: number, finding: string): Html {
  const most = 2 * Math.max(glass, goal) * 1.06, at = scale(0, most, 1, width - 1);
  const row = (y: number, name: string, height: number, limit: number): Html =>
    group(
      words([1, y - 8], `${name}: ${height.toFixed(0)} nm`, { kind: "b" }),
      rect("zone-b", [1, y], at(height) - 1, 22),
      stroke("mine", [at(height), y], [at(height), y + 22], "stroke-width:3"),
      stroke("limit", [at(limit), y - 6], [at(limit), y + 28]),
      words([at(limit) + (at(limit) > width * 0.6 ? -6 : 6), y - 8], `goal ${limit.toFixed(0)}`, {
        kind: "t-rouge",
        anchor: at(limit) > width * 0.6 ? "end" : "start",
      }),
    );
  const axis = { domain: [0, most], from: 1, to: width - 1, y: 128, title: "Peak to valley (nm)" };
  return drawing({
    width,
    height: 174,
    finding,
    contents: group(
      row(28, "Wavefront", 2 * glass, 2 * goal),
      row(88, "Glass", glass, goal),
      axisLine({ ...axis, domain: [0, most] }, at),
    ),
  });
}

/**
 * Glass below, wavefront above, twice as long, each with its own goal.
 *
 * @param glass  P-V of the glass, nm; above 0
 * @param goal   P-V allowed on the glass, nm; above 0
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(glassAndWavefront(26, 69).text, /Glass 26 nm, goal 69; wavefront 52 nm, goal 138/);
 * ```
 */
export function glassAndWavefront(glass: number, goal: number): Shown {
  if (!(glass > 0 && goal > 0 && Number.isFinite(glass + goal))) {
    throw new RangeError(
      `glassAndWavefront requires P-V and goal above 0 nm, got glass=${glass}, goal=${goal}`,
    );
  }
  const n = (v: number): string => v.toFixed(0);
  const finding = `Glass ${n(glass)} nm, goal ${n(goal)}; wavefront ${n(2 * glass)} nm, goal ${
    n(2 * goal)
  }.`;
  return figure({
    finding,
    caption: safe`<b>The wavefront is twice the glass,</b> and so is its goal. Dashed: the goal.`,
    draw: (width) => doubledDraw(glass, goal, width, finding),
  });
}

/** Numbers of one wavefront beside its name. */
interface Shape {
  readonly name: string;
  readonly waves: Float64Array;
  readonly pv: number;
  readonly rms: number;
  readonly strehl: number;
}

const grid = radialGrid(160);

function shape(name: string, pv: number, height: (q: number) => number): Shape {
  const unit = atBestFocus(grid, grid.q.map(height)), size = pv / unit.pvWaves;
  const { waves, pvWaves, rmsWaves, strehl } = atBestFocus(grid, unit.waves.map((w) => w * size));
  return { name, waves, pv: pvWaves, rms: rmsWaves, strehl };
}

/**
 * Two wavefronts of one P-V at their best focus: a sphere's smooth one, and one with a single narrow ring.
 *
 * @param pv  waves, above 0
 * @throws {RangeError} where it is not
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(samePvTwoShapes(0.25).text, /smooth, as of a sphere \| 0\.250 \| 0\.075 \| 0\.80/);
 * ```
 */
export function samePvTwoShapes(pv: number): Shown {
  if (!(pv > 0 && Number.isFinite(pv))) {
    throw new RangeError(`samePvTwoShapes requires a P-V above 0 waves, got pv=${pv}`);
  }
  const shapes = [
    shape("smooth, as of a sphere", pv, (q) => q * q),
    shape("one narrow ring", pv, (q) => Math.exp(-(((Math.sqrt(q) - 0.6) / 0.04) ** 2))),
  ];
  const table = readingsTable(
    "One P-V, two wavefronts",
    [
      { title: "Wavefront", text: true },
      { title: "P-V", unit: "wave" },
      { title: "RMS", unit: "wave" },
      { title: "Strehl" },
    ],
    shapes.map(({ name, pv: p, rms, strehl }) => ({
      cells: [name, p.toFixed(3), rms.toFixed(3), strehl.toFixed(2)],
    })),
  );
  return together(shapesFigure(shapes, pv), table);
}

function shapesFigure(shapes: readonly Shape[], pv: number): Shown {
  const finding = `Two wavefronts from centre to edge, both ${pv} wave from highest to lowest: ${
    shapes.map(({ name, rms }) => `${name}, RMS ${rms.toFixed(3)}`).join("; ")
  }.`;
  const points = ({ waves }: Shape): { r: number; w: number }[] =>
    Array.from(grid.q, (q, i) => ({ r: Math.sqrt(q), w: waves[i] ?? 0 }));
  const looks = [{ stroke: "currentColor", strokeWidth: 1.5, strokeDasharray: "6 4" }, lines.yours];
  return figure({
    finding,
    caption:
      safe`<b>As high, but not as much of it.</b> Dashed: smooth. Full line: one narrow ring.`,
    draw: (width) =>
      styledPlot({
        width,
        height: isNarrow(width) ? 230 : 260,
        finding,
        x: { title: "Distance from the centre, of the rim", domain: [0, 1] },
        y: { title: "Wavefront (wave)", domain: [-pv, pv] },
        marks: shapes.map((one, i) => Plot.line(points(one), { x: "r", y: "w", ...looks[i] })),
      }, plotDocument()),
  });
}

/** A figure's wavefront on the grid, waves: twice the glass, straight between the profile's places. */
function wavesOf({ profile, wavelength, judgedAperture }: ZoneFigure): Float64Array {
  return grid.q.map((q) => {
    const radius = (Math.sqrt(q) * judgedAperture) / 2;
    const after = profile.findIndex((place) => place.radius >= radius - 1e-9);
    const b = profile.at(after), a = profile.at(Math.max(0, after - 1));
    if (a === undefined || b === undefined) return 0;
    const share = b.radius > a.radius ? (radius - a.radius) / (b.radius - a.radius) : 0;
    return (2 * (a.surfaceError + share * (b.surfaceError - a.surfaceError))) / wavelength;
  });
}

interface Star {
  readonly name: string;
  readonly points: readonly { readonly at: number; readonly light: number }[];
}

function starOf(name: string, waves: ArrayLike<number>): Star {
  const { distances, brightness } = starProfile(grid, waves, 2.5, 80);
  const points = Array.from(distances, (at, i) => ({ at, light: brightness[i] ?? 0 }));
  return { name, points };
}

/**
 * A star's brightness from its middle outwards: by a perfect mirror, and by a mirror as it was and as it is.
 *
 * @param before  the earlier figure
 * @param now     the later one
 */
export function starMiddle(before: ZoneFigure, now: ZoneFigure): Shown {
  const stars = [
    starOf("perfect", new Float64Array(grid.q.length)),
    starOf("before", wavesOf(before)),
    starOf("now", wavesOf(now)),
  ];
  const dashed = { ...lines.wanted, strokeWidth: 1.5, strokeDasharray: "6 4" };
  const looks = [lines.wanted, dashed, lines.yours];
  const finding = `Brightness of a star’s image from its middle outwards. In the middle: ${
    stars.map(({ name, points }) => `${name} ${points[0]?.light.toFixed(2)}`).join(", ")
  }.`;
  return figure({
    finding,
    caption:
      safe`<b>The middle’s height is the Strehl ratio.</b> Thin: a perfect mirror. Dashed: before. Thick: now.`,
    draw: (width) =>
      styledPlot({
        width,
        height: isNarrow(width) ? 240 : 280,
        finding,
        x: { title: "From the middle (waves × focal ratio)", domain: [0, 2.5] },
        y: { title: "Brightness, of a perfect middle", domain: [0, 1.05] },
        marks: stars.map(({ points }, i) =>
          Plot.line(points, { x: "at", y: "light", ...looks[i] })
        ),
      }, plotDocument()),
  });
}
