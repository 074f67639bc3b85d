/** Live: minutes of one stroke on a mirror that is nearly a sphere, and what becomes of its surface. */
import { advanceFromHeight, departureFromParaboloid } from "../../optics/conic.ts";
import { atBestFocus, radialGrid } from "../../optics/quality.ts";
import { footprintAt, strokeFootprint } from "../../shaping/figuring/figuringFootprint.ts";
import { type FiguringStroke, figuringStroke } from "../../shaping/figuring/figuringStrokes.ts";
import { type Html, safe } from "../html.ts";
import { drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { fixed, scale, signed } from "../scale.ts";
import { type Control, levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";

const half = 75, radius = 2400, wavelength = 550, goal = 0.25, rate = 1.3;
const grid = radialGrid(40);

/** The strokes of the slider, short names for figures' words. */
export const strokes: readonly (readonly [name: string, stroke: FiguringStroke])[] = [
  ["over the centre", figuringStroke("down", 1, 1 / 3, 0)],
  ["a quarter aside", figuringStroke("down", 1, 1 / 2, 1 / 4)],
  ["far aside, long", figuringStroke("down", 1, 2 / 3, 1 / 4)],
  ["lap on top", figuringStroke("up", 1, 1 / 2, 0)],
];

/** A surface after some minutes; nm of glass and waves of its wavefront, focus taken away. */
export interface Worked {
  /** height over the paraboloid that fits best, nm, at the grid's places */
  readonly height: Float64Array;
  readonly pv: number;
  readonly rms: number;
}

/** Height over the paraboloid, nm, of a conic: what figuring begins with. */
const begun = (conic: number, r: number): number => departureFromParaboloid(r, { radius, conic });

/**
 * The surface after minutes of a stroke: a sphere or whatever conic, less what the stroke takes, focused anew.
 *
 * @param values  conic at first; stroke, its place among `strokes`; minutes; hands: your rate over 1.3 um/h
 * @example nothing done: the sphere's 0.26 wave
 * ```ts
 * import assert from "node:assert/strict";
 * const { pv } = workedSurface({ conic: 0, stroke: 1, minutes: 0, hands: 1 });
 * assert.equal(pv.toFixed(2), "0.26");
 * ```
 */
export function workedSurface(values: Values): Worked {
  const [, stroke] = strokes[Math.round(valueOf(values, "stroke"))] ?? strokes[0] ?? [];
  if (stroke === undefined) throw new RangeError("workedSurface requires a stroke");
  const print = strokeFootprint(stroke, rate * valueOf(values, "hands"));
  const minutes = valueOf(values, "minutes"), conic = valueOf(values, "conic");
  const waves = grid.q.map((q) => {
    const share = Math.sqrt(q), r = half * share;
    const height = begun(conic, r) - minutes * footprintAt(print, share);
    return advanceFromHeight(height, r, radius) / wavelength;
  });
  const best = atBestFocus(grid, waves);
  // half of the wavefront is glass; a high place sends its light ahead
  return {
    height: Float64Array.from(best.waves, (w) => w * wavelength / 2),
    pv: best.pvWaves,
    rms: best.rmsWaves,
  };
}

const now = once(workedSurface);
const before = once((values) => workedSurface({ ...values, minutes: 0 }));
/** Hands a third slower and a third faster than thought. */
const astray = once((values) =>
  [1 / 1.33, 1.33].map((f) => workedSurface({ ...values, hands: valueOf(values, "hands") * f }))
);

const most = 90, x = scale(0, half, 44, 340), y = scale(most, -most, 24, 176);
const line = ({ height }: Worked): string =>
  through(Array.from(grid.q, (q, i): Point => [
    x(half * Math.sqrt(q)),
    y(Math.min(most, Math.max(-most, height[i] ?? 0))),
  ]));

/** What the stroke takes in a minute, drawn below, to its own scale. */
function taken(values: Values): Html {
  const [, stroke] = strokes[Math.round(valueOf(values, "stroke"))] ?? strokes[0] ?? [];
  if (stroke === undefined) return group();
  const print = strokeFootprint(stroke, rate * valueOf(values, "hands")), foot = 300;
  const up = scale(0, 160, foot, 236);
  const points = Array.from({ length: 49 }, (_, i): Point => [
    x(half * i / 48),
    up(Math.min(160, footprintAt(print, i / 48))),
  ]);
  return group(
    words([0, 226], "Taken in a minute (nm)"),
    path("zone-b", through([[x(0), foot], ...points, [x(half), foot]], true)),
    levels([0, 50, 100, 150], up, fixed),
    path("polished", through(points)),
    [0, 25, 50, 75].map((mm) =>
      words([x(mm), 317], fixed(mm), { kind: "soft", anchor: mm === 75 ? "end" : "middle" })
    ),
    words([340, 334], "Distance from the centre (mm)", { anchor: "end" }),
  );
}

function picture(values: Values): Html {
  const worked = now(values), { minutes: _, ...still } = values;
  return drawing({
    width: 352,
    height: 338,
    finding: `Glass over the paraboloid that fits best, before and after ${
      fixed(valueOf(values, "minutes"), 1)
    } minutes: the wavefront goes from ${fixed(before(still).pv, 2)} to ${
      fixed(worked.pv, 2)
    } wave. Below, what the stroke takes from the centre to the rim.`,
    contents: group(
      levels([-80, -40, 0, 40, 80], y, signed),
      stroke("dim", [44, y(0)], [340, y(0)]),
      path("polished", line(before(still)), "stroke:var(--soft);stroke-dasharray:4 3"),
      astray(values).map((one) => path("lead", line(one), "stroke:var(--glass)")),
      path("polished", line(worked), "stroke-width:2.4"),
      words([0, 13], "Glass over the wanted curve (nm)"),
      [0, 25, 50, 75].map((mm) =>
        words([x(mm), 194], fixed(mm), { kind: "soft", anchor: mm === 75 ? "end" : "middle" })
      ),
      taken(values),
    ),
  });
}

function reading(values: Values): Html {
  const { pv, rms } = now(values), { minutes: _, ...still } = values, first = before(still).pv;
  const [slow, fast] = astray(values), minutes = valueOf(values, "minutes");
  const state = pv <= goal ? "the goal is met" : "the goal is not met";
  const way = minutes === 0
    ? "nothing is done yet"
    : pv < first
    ? "better than before"
    : "worse than before";
  return safe`Wavefront <big><output>${fixed(pv, 2)} wave</output></big> peak to valley, ${
    fixed(rms, 3)
  } RMS; before ${fixed(first, 2)}: <output>${way}</output>, and <output>${state}</output> (${
    fixed(goal, 2)
  }). By hands a third slower ${fixed(slow?.pv ?? pv, 2)}, a third faster ${
    fixed(fast?.pv ?? pv, 2)
  }.`;
}

const controls: readonly Control[] = [
  {
    ...{ key: "minutes", label: "Minutes of the stroke", min: 0, max: 8, step: 0.1, digits: 1 },
    ...{ unit: "min", spoken: "minutes" },
  },
  {
    ...{ key: "stroke", label: "The stroke", min: 0, max: 3, step: 1, digits: 0 },
    ...{ unit: "", spoken: "", choices: strokes.map(([name]) => name) },
  },
  {
    ...{ key: "hands", label: "Your rate over 1.3 µm an hour", min: 0.6, max: 1.6, step: 0.1 },
    ...{ digits: 1, unit: "times", spoken: "times" },
  },
  {
    ...{ key: "conic", label: "Conic K at first", min: -1.4, max: 0.2, step: 0.05, digits: 2 },
    ...{ unit: "", spoken: "" },
  },
];

/** The figure: a stroke and its minutes to slide. */
export const strokeAndSurface: LiveFigure = {
  name: "stroke-and-surface",
  controls,
  start: { minutes: 0, stroke: 1, hands: 1, conic: 0 },
  picture,
  reading,
  value: (values) => now(values).pv,
  caption:
    safe`150 mm f/8 on a lap just pressed, turned evenly. <b>Broken</b>: before; thin: hands a third slower and faster. The curve may sink as a whole or move its focus, so each is laid over the paraboloid that fits it best. One stroke alone is no plan.`,
};
