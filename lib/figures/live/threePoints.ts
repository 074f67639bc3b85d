/** Live: glass on three or six points, where they stand, and how it sags between them. */
import { type Disc, sagUnit } from "../../telescope/cell.ts";
import { plateOnPoints, type Sag } from "../../telescope/plate.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { fixed, scale } from "../scale.ts";
import { type Control, levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";

/** Soda-lime, as in data/tables/glasses.csv. */
export const glass = { youngGPa: 72, poisson: 0.22, densityKgPerM3: 2500 } as const;
/** What a cell may cost, RMS of the wavefront in waves: `support_wavefront_rms_most` of data/tables/decisions.csv. */
export const mostWaves = 0.02;
const wavelength = 550;
/** Powers of the radius: within a hundredth of the forty that the cell's own sums take, for glass five times as wide as thick or more. */
const order = 16;
const counts = [3, 6] as const;

/** Glass on a ring of points; nm of glass, RMS, with shear. */
export interface OnPoints {
  readonly rms: number;
  /** with focus taken away */
  readonly refocused: number;
  /** of the wavefront, RMS, waves: twice the glass */
  readonly waves: number;
  /** height of the glass at a share of the radius, from the middle through a point and away from it, nm */
  readonly through: (share: number) => number;
}

function plate(values: Values, place: number): { readonly sag: Sag; readonly unit: number } {
  const disc: Disc = {
    aperture: valueOf(values, "aperture"),
    thickness: valueOf(values, "thickness"),
    ...glass,
  };
  const points = counts[Math.round(valueOf(values, "points"))] ?? 3;
  const thickness = 2 * disc.thickness / disc.aperture;
  return {
    sag: plateOnPoints([{ points, radius: place }], { poisson: glass.poisson, thickness, order }),
    unit: sagUnit(disc),
  };
}

/**
 * A disc on points of equal force, looking straight up.
 *
 * @param values  place of the points, percent of the radius; points 0 three, 1 six; aperture and thickness mm
 * @example 150 mm on three points at 0.65 of the radius: 1.6 nm of glass
 * ```ts
 * import assert from "node:assert/strict";
 * const { rms, waves } = onPoints({ place: 65, points: 0, aperture: 150, thickness: 25 });
 * assert.deepEqual([rms.toFixed(1), waves.toFixed(3)], ["1.6", "0.006"]);
 * ```
 */
export function onPoints(values: Values): OnPoints {
  const { sag, unit } = plate(values, valueOf(values, "place") / 100), rms = unit * sag.rms;
  return {
    rms,
    refocused: unit * sag.rmsRefocused,
    waves: 2 * rms / wavelength,
    through: (share) => unit * sag.at(Math.abs(share), share < 0 ? Math.PI : 0),
  };
}

const now = once(onPoints);

/** RMS at every place of the points, percent of the radius and nm. */
const everywhere = once((disc) =>
  Array.from({ length: 18 }, (_, i) => {
    const place = 15 + 5 * i, { sag, unit } = plate(disc, place / 100);
    return { place, rms: unit * sag.rms };
  })
);

const along = scale(-1, 1, 24, 328);

/** The disc from the side, its face bent as it hangs, on its points. */
function section(values: Values, { through: height }: OnPoints): Html {
  const shares = Array.from({ length: 61 }, (_, i) => (i - 30) / 30);
  const bend = Math.max(1e-9, ...shares.map((share) => Math.abs(height(share))));
  const y = (share: number): number => 52 - 16 * height(share) / bend;
  const thick = 22, place = valueOf(values, "place") / 100;
  // six points have one on either side of the middle, three have one, and two half-way out on the other side
  const other = Math.round(valueOf(values, "points")) === 1 ? -place : -place / 2;
  return group(
    words([0, 13], "From the side, through one point (bend drawn larger)"),
    path(
      "body",
      through([
        ...shares.map((share): Point => [along(share), y(share)]),
        ...shares.toReversed().map((share): Point => [along(share), y(share) + thick]),
      ], true),
    ),
    path("polished", through(shares.map((share): Point => [along(share), y(share)]))),
    path("dim", through(shares.map((share): Point => [along(share), y(share) + thick]))),
    [place, other].map((share) => {
      const top = y(share) + thick;
      return path(
        "steel",
        through(
          [[along(share), top], [along(share) - 8, top + 14], [along(share) + 8, top + 14]],
          true,
        ),
        share === other && other !== -place ? "stroke-dasharray:3 3" : undefined,
      );
    }),
    words(
      [328, 112],
      `highest less lowest ${
        fixed(Math.max(...shares.map(height)) - Math.min(...shares.map(height)), 1)
      } nm`,
      { kind: "soft", anchor: "end" },
    ),
  );
}

function plot(values: Values, { rms }: OnPoints): Html {
  const { place, ...disc } = values, curve = everywhere(disc);
  const top = Math.max(...curve.map((one) => one.rms)), x = scale(0.1, 1, 44, 340);
  const power = scale(Math.log10(top) - 1.3, Math.log10(top) + 0.05, 280, 146);
  const y = (nm: number): number => Math.max(146, Math.min(280, power(Math.log10(nm))));
  const allowed = mostWaves * wavelength / 2;
  const marks = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000]
    .filter((nm) => power(Math.log10(nm)) <= 280 && power(Math.log10(nm)) >= 146);
  return group(
    words([0, 135], "Sag of the glass, RMS (nm)"),
    levels(marks, y, (nm) => fixed(nm, nm < 1 ? 1 : 0)),
    power(Math.log10(allowed)) < 280 && power(Math.log10(allowed)) > 146
      ? group(
        stroke("limit", [44, y(allowed)], [340, y(allowed)]),
        words([336, y(allowed) - 5], "allowed", { kind: "t-rouge halo", anchor: "end" }),
      )
      : undefined,
    path("polished", through(curve.map((one): Point => [x(one.place / 100), y(one.rms)]))),
    dot("mine", [x((place ?? 0) / 100), y(rms)], 4.5),
    [0.2, 0.4, 0.6, 0.8, 1].map((share) =>
      words([x(share), 298], fixed(share, 1), {
        kind: "soft",
        anchor: share === 1 ? "end" : "middle",
      })
    ),
    words([340, 315], "Points, share of the radius", { anchor: "end" }),
  );
}

function picture(values: Values): Html {
  const seen = now(values);
  return drawing({
    width: 352,
    height: 320,
    finding:
      `A disc on its points from the side, bent by its own weight, and its sag against the place of the points: at ${
        fixed(valueOf(values, "place") / 100, 2)
      } of the radius ${fixed(seen.rms, 2)} nanometres RMS.`,
    contents: group(section(values, seen), plot(values, seen)),
  });
}

function reading(values: Values): Html {
  const { rms, refocused, waves } = now(values);
  const { place, ...disc } = values;
  const best = everywhere(disc).reduce((a, b) => b.rms < a.rms ? b : a);
  return safe`Sag of the glass <big><output>${
    fixed(rms, rms < 10 ? 2 : 0)
  } nm</output></big> RMS; on the wavefront <output>${
    fixed(waves, 3)
  } wave</output>, and ${mostWaves} is allowed: <output>${
    waves <= mostWaves ? "it will do" : "too much: more points or thicker glass"
  }</output>. ${
    Math.abs((place ?? 0) - best.place) <= 4
      ? "No place is better."
      : `The best place gives ${fixed(best.rms, best.rms < 10 ? 2 : 0)} nm.`
  } An eye that refocuses sees ${fixed(refocused, refocused < 10 ? 2 : 0)} nm of it.`;
}

const controls: readonly Control[] = [
  {
    ...{ key: "place", label: "Points, from the middle", min: 15, max: 100, step: 1, digits: 0 },
    ...{ unit: "% of the radius", spoken: "percent of the radius" },
  },
  {
    ...{ key: "aperture", label: "Width of the glass", min: 100, max: 400, step: 10, digits: 0 },
    ...{ unit: "mm", spoken: "millimetres" },
  },
  {
    ...{ key: "thickness", label: "Its thickness", min: 12, max: 50, step: 1, digits: 0 },
    ...{ unit: "mm", spoken: "millimetres" },
  },
  {
    ...{ key: "points", label: "How many points", min: 0, max: 1, step: 1, digits: 0 },
    ...{ unit: "", spoken: "", choices: ["three", "six"] },
  },
];

/** The figure: where the points stand, and on what glass. */
export const threePoints: LiveFigure = {
  name: "three-points",
  controls,
  start: { place: 100, aperture: 150, thickness: 25, points: 0 },
  picture,
  reading,
  value: (values) => now(values).rms,
  caption:
    safe`Soda-lime glass, looking straight up, every point carrying alike; bending and shear. <b>A broken point</b> stands beside the section. Glass pinched by a clip bends far more.`,
};
