/** Live: a profile of glass bent by hand, and what becomes of a star. */
import { naturalSpline } from "../../numeric/spline.ts";
import { atBestFocus, type FocusedWavefront } from "../../optics/quality.ts";
import { advanceFromHeight, type SurfaceError } from "../../optics/conic.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { fixed, scale, signed } from "../scale.ts";
import { type Control, levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";
import { type Paint, sideBySide } from "./pixels.ts";
import { starPixels, starPlan } from "./starPlan.ts";

/** Where the hand bends the glass, as shares of the half aperture. */
const places = { centre: 0, inner: 0.4, outer: 0.75, edge: 1 } as const;
const handles = Object.entries(places);
const { grid, image } = starPlan(40, 4, 48);

/** The bent glass and its light. */
export interface BentGlass {
  /** height over the paraboloid, nm, at a distance from the centre, mm */
  readonly glass: SurfaceError;
  readonly light: FocusedWavefront;
}

/**
 * Glass through four heights, level in the middle, and its wavefront at the focus of least RMS.
 *
 * @param values  heights in nm: centre, inner, outer, edge; aperture and radius in mm, wavelength in nm
 * @example a rim 60 nm low
 * ```ts
 * import assert from "node:assert/strict";
 * const flat = { aperture: 150, radius: 2400, wavelength: 550, centre: 0, inner: 0, outer: 0 };
 * assert.equal(bentGlass({ ...flat, edge: 0 }).light.strehl.toFixed(6), "1.000000");
 * assert.equal(bentGlass({ ...flat, edge: -60 }).light.strehl.toFixed(2), "0.93");
 * ```
 */
export function bentGlass(values: Values): BentGlass {
  const half = valueOf(values, "aperture") / 2, radius = valueOf(values, "radius");
  const rising = handles.map(([key, share]) => [share, valueOf(values, key)] as const);
  const both = [...rising.slice(1).reverse().map(([s, h]) => [-s, h] as const), ...rising];
  const curve = naturalSpline(both.map(([s]) => s), both.map(([, h]) => h));
  const glass: SurfaceError = (r) => curve.value(r / half);
  const waves = grid.q.map((q) => {
    const r = half * Math.sqrt(q);
    return advanceFromHeight(glass(r), r, radius) / valueOf(values, "wavelength");
  });
  return { glass, light: atBestFocus(grid, waves) };
}

const bentNow = once(bentGlass);

const most = 120;

function axes(half: number, x: (r: number) => number, y: (h: number) => number): Html {
  return group(
    levels([-100, -50, 0, 50, 100], y, signed),
    stroke("dim", [44, y(0)], [340, y(0)]),
    stroke("axis", [44, 186], [340, 186]),
    [0, half].map((r) =>
      words([x(r), 202], fixed(r), { kind: "soft", anchor: r > 0 ? "end" : "middle" })
    ),
    words([0, 13], "Glass over the paraboloid (nm)"),
    words([340, 219], "Distance from the centre (mm)", { anchor: "end" }),
  );
}

function profile(values: Values, { glass, light }: BentGlass): Html {
  const half = valueOf(values, "aperture") / 2, x = scale(0, half, 44, 340);
  const inside = (h: number): number => Math.min(most, Math.max(-most, h));
  const y = scale(most, -most, 24, 182);
  const curve: Point[] = Array.from({ length: 51 }, (_, i) => {
    const r = half * i / 50;
    return [x(r), y(inside(glass(r)))];
  });
  return drawing({
    width: 352,
    height: 222,
    finding: `Section of the glass over the wanted paraboloid, from the centre to the edge: ${
      handles.map(([key]) => `${key} ${signed(valueOf(values, key))}`).join(", ")
    } nanometres. Strehl ${fixed(light.strehl, 2)}.`,
    contents: group(
      axes(half, x, y),
      path("polished", through(curve), "stroke-width:2"),
      handles.map(([key, share]) => dot("mine", [x(half * share), y(valueOf(values, key))], 4.5)),
    ),
  });
}

const perfect = image(new Float64Array(grid.q.length));

function picture(values: Values, paint: Paint): Html {
  const bent = bentNow(values), star = image(bent.light.waves);
  const kept = fixed(bent.light.strehl, 2);
  return safe`${profile(values, bent)}${
    sideBySide([
      ["a perfect star", paint(starPixels(perfect), { shown: 142, finding: "A perfect star." })],
      [
        "your star",
        paint(starPixels(star), {
          shown: 142,
          finding:
            `The star of this glass: ${kept} of the brightness in the middle, the rest in its rings.`,
        }),
      ],
    ])
  }`;
}

function reading(values: Values): Html {
  const { light } = bentNow(values);
  const pv = light.pvWaves, goal = valueOf(values, "goal");
  return safe`Strehl ratio <big><output>${
    fixed(light.strehl, 3)
  }</output></big> Wavefront at best focus: <output>${fixed(pv, 3)} wave</output> peak to valley, ${
    fixed(light.rmsWaves, 3)
  } RMS; the goal is ${fixed(goal, 2)}: <output>${pv <= goal ? "met" : "not met"}</output>.`;
}

const height = (key: string, label: string): Control => ({
  key,
  label,
  min: -most,
  max: most,
  step: 1,
  digits: 0,
  unit: "nm",
  spoken: "nanometres",
});

/** The figure: four heights of the glass to slide. */
export const bendTheGlass: LiveFigure = {
  name: "bend-the-glass",
  controls: [
    height("centre", "Centre"),
    height("inner", "At 0.4 of the half width"),
    height("outer", "At 0.75"),
    height("edge", "Edge"),
  ],
  start: {
    ...{ centre: 20, inner: 0, outer: 0, edge: -50 },
    ...{ aperture: 150, radius: 2400, wavelength: 550, goal: 0.25 },
  },
  picture,
  reading,
  value: (values) => bentNow(values).light.strehl,
  caption:
    safe`The star is drawn <b>brighter where it is faint</b> (power 0.4), 8 λN across. Bend the whole glass like a bowl: the focus moves, the star stays.`,
};
