/** Live: the bands on the mirror's face, and the glass that bends them, under the same diameter. */
import { conicHeight, exactWavefront, type SurfaceError } from "../../optics/conic.ts";
import { atBestFocus, type FocusedWavefront, radialGrid } from "../../optics/quality.ts";
import { bandSpacing } from "../../testing/bands/ronchi.ts";
import { type RonchiFrame, ronchiFrame } from "../../testing/bands/ronchiFrame.ts";
import { type Html, safe } from "../html.ts";
import type { Point } from "../pen.ts";
import { fixed } from "../scale.ts";
import { bandPixels, errorOf, faceWidth, half, overGlass, radius } from "./benchMirror.ts";
import { type Control, type LiveFigure, once, valueOf, type Values } from "./figure.ts";
import type { Paint } from "./pixels.ts";

const wavelength = 550, grid = radialGrid(60);
/** The grating's farthest place, mm. */
const farthest = 10;

/** The glass behind the bands. */
export interface BandedGlass {
  /** distances from the middle, mm */
  readonly radii: readonly number[];
  /** nm of glass above the sphere that fits best: what the bands show */
  readonly fromSphere: ArrayLike<number>;
  /** nm of glass above the paraboloid that fits best: what a star shows */
  readonly fromParaboloid: ArrayLike<number>;
  readonly light: FocusedWavefront;
}

/**
 * Glass and wavefront of a 150 mm f/8 mirror.
 *
 * @param values  conic; edge and ring in nm
 * @example a perfect sphere
 * ```ts
 * import assert from "node:assert/strict";
 * const { light, fromSphere } = bandedGlass({ conic: 0, edge: 0, ring: 0 });
 * assert.equal(light.pvWaves.toFixed(2), "0.26");
 * assert.ok(Math.abs(fromSphere[0] ?? 1) < 1e-6);
 * ```
 */
export function bandedGlass(values: Values): BandedGlass {
  const conic = valueOf(values, "conic"), error = errorOf(values);
  const radii = Array.from(grid.q, (q) => half * Math.sqrt(q));
  const above = (wanted: number): ArrayLike<number> =>
    atBestFocus(
      grid,
      radii.map((r) =>
        1e6 * (conicHeight(r, { radius, conic }) - conicHeight(r, { radius, conic: wanted })) +
        error(r)
      ),
    ).waves;
  const waves = exactWavefront(grid, { radius, conic }, half, error).map((nm) => nm / wavelength);
  return {
    radii,
    fromSphere: above(0),
    fromParaboloid: above(-1),
    light: atBestFocus(grid, waves),
  };
}

const glassNow = once(bandedGlass);

/** The same error, to 2 mm past the rim, from a table every 0.05 mm, straight between: within a thousandth of a nanometre, and quickly asked. */
function tabled(error: SurfaceError): SurfaceError {
  const step = 0.05;
  const table = Float64Array.from({ length: half / step + 41 }, (_, i) => error(step * i));
  return (r) => {
    const at = r / step, i = Math.floor(at), share = at - i;
    return (1 - share) * (table[i] as number) + share * (table[i + 1] as number);
  };
}

/** One mirror made ready for all places of the grating. */
const frameOf = once((values): RonchiFrame => {
  const error = tabled(errorOf(values));
  return ronchiFrame(
    {
      surface: { radius, conic: valueOf(values, "conic") },
      ...{ half, setUp: "same grating", linesPerMm: valueOf(values, "lines") },
      error: (x, y) => error(Math.sqrt(x * x + y * y)),
    },
    { width: faceWidth, height: faceWidth },
    farthest,
  );
});

/** The mirror without the grating's place, so that a moved grating finds it ready. */
function frameNow({ offset: _, ...mirror }: Values): RonchiFrame {
  return frameOf(mirror);
}

/** A curve over the whole diameter. */
function whole(radii: readonly number[], heights: ArrayLike<number>): Point[] {
  const side = (sign: 1 | -1): Point[] => radii.map((r, i): Point => [sign * r, heights[i] ?? 0]);
  return [...side(-1).toReversed(), ...side(1)];
}

function picture(values: Values, paint: Paint): Html {
  const glass = glassNow(values), offset = valueOf(values, "offset");
  const face = paint(bandPixels(frameNow(values), offset), {
    ...{ shown: faceWidth, rim: true },
    finding: `The mirror through ${fixed(valueOf(values, "lines"))} lines in each mm, ${
      sideOf(offset)
    }.`,
  });
  return overGlass(
    face,
    [
      { kind: "ray red", points: whole(glass.radii, glass.fromParaboloid) },
      { kind: "polished", points: whole(glass.radii, glass.fromSphere) },
    ],
    `The glass along a diameter, above the sphere that fits best and above the paraboloid that fits best. The wavefront of a star is ${
      fixed(glass.light.pvWaves, 3)
    } wave from peak to valley.`,
  );
}

const atCentre = (offset: number): boolean => Math.abs(offset) < 0.05;

function sideOf(offset: number): string {
  if (atCentre(offset)) return "at the centre of curvature";
  return `${fixed(Math.abs(offset), 1)} mm ${offset < 0 ? "inside" : "outside"} the centre`;
}

function reading(values: Values): Html {
  const { light } = glassNow(values), offset = valueOf(values, "offset");
  const spacing = atCentre(offset)
    ? "At the centre a sphere shows no bands"
    : `Bands of a sphere would lie ${
      fixed(bandSpacing(radius, offset, valueOf(values, "lines"), "same grating"), 1)
    } mm apart`;
  return safe`Wavefront of a star, peak to valley <big><output>${
    fixed(light.pvWaves, 3)
  } wave</output></big> Strehl <output>${
    fixed(light.strehl, 2)
  }</output>. The grating stands <output>${sideOf(offset)}</output>. ${spacing}.`;
}

const nm = { unit: "nm", spoken: "nanometres", step: 1, digits: 0 } as const;
const controls: readonly Control[] = [
  {
    ...{ key: "offset", label: "Grating, from the centre", min: -farthest, max: farthest },
    ...{ step: 0.1, digits: 1, unit: "mm", spoken: "millimetres" },
  },
  {
    ...{ key: "conic", label: "Conic constant K", min: -1.6, max: 0.6, step: 0.02, digits: 2 },
    ...{ unit: "", spoken: "" },
  },
  { key: "edge", label: "Edge turned down by", min: 0, max: 200, ...nm },
  { key: "ring", label: "Ring at 51 mm, high by", min: -60, max: 60, ...nm },
  {
    ...{ key: "lines", label: "Lines of the grating", min: 3, max: 10, step: 1, digits: 0 },
    ...{ unit: "in a mm", spoken: "in each millimetre" },
  },
];

/** The figure: grating and glass to slide. */
export const ronchiBands: LiveFigure = {
  name: "ronchi-bands",
  controls,
  start: { offset: -5, conic: 0, edge: 0, ring: 0, lines: 4 },
  picture,
  reading,
  value: (values) => glassNow(values).light.pvWaves,
  caption:
    safe`A 150 mm f/8, the lamp behind the same grating, minus = inside the centre; drawn by diffraction. Blue: above the best <b>sphere</b>, whose slopes bend the bands. Red, broken: above the best <b>paraboloid</b>, which is what a star meets.`,
};
