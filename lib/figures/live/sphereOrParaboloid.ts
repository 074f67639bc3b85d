/** Live: how deep a mirror is, and how far a perfect sphere is from good enough, for any width and focal length. */
import { sagitta } from "../../optics/sphere.ts";
import { sphereDepartures, sphereGlassPv } from "../drawings/sphereDeparture.ts";
import { type Html, safe } from "../html.ts";
import { drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { fixed, scale, ticks } from "../scale.ts";
import { levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";
import { type Paint, sideBySide } from "./pixels.ts";
import { raysDrawing, sphereStar } from "./sphereStar.ts";
import { starPixels } from "./starPlan.ts";

/** What a sphere of that size comes to. */
export interface SphereReading {
  /** mm */
  readonly depth: number;
  /** peak to valley of the glass at best focus, nm */
  readonly glassPv: number;
  readonly wavefrontPvWaves: number;
  /** glass over the paraboloid that touches middle and rim, nm, at equal steps from middle to rim */
  readonly heights: readonly number[];
}

const steps = 60;

/**
 * A sphere beside the paraboloid that touches it in the middle and at the rim.
 *
 * @param values  aperture and focal length in mm, wavelength in nm
 * @throws {RangeError} where the aperture does not fit the sphere
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { wavefrontPvWaves } = sphereReading({ aperture: 150, focal: 1200, wavelength: 550 });
 * assert.equal(wavefrontPvWaves.toFixed(3), "0.260");
 * ```
 */
export function sphereReading(values: Values): SphereReading {
  const aperture = valueOf(values, "aperture"), radius = 2 * valueOf(values, "focal");
  const heights = sphereDepartures(aperture, radius, steps).map(({ best }) => best);
  const glassPv = sphereGlassPv(aperture, radius);
  const wavefrontPvWaves = 2 * glassPv / valueOf(values, "wavelength");
  return { depth: sagitta(aperture, radius), glassPv, wavefrontPvWaves, heights };
}

function departure(values: Values): Html {
  const { heights, wavefrontPvWaves } = sphereReading(values), goal = valueOf(values, "goal");
  const aperture = valueOf(values, "aperture"), wavelength = valueOf(values, "wavelength");
  const waves = heights.map((glass) => 2 * glass / wavelength);
  const x = scale(0, 150, 44, 340), y = scale(0, -1.2, 34, 172);
  const curve: Point[] = waves.map((w, i) => [x(aperture / 2 * i / steps), Math.min(176, y(w))]);
  return drawing({
    width: 352,
    height: 222,
    finding:
      `Wavefront of a perfect sphere over the wanted curve, in waves, against the distance from the centre: peak to valley ${
        fixed(wavefrontPvWaves, 3)
      }, wanted ${fixed(goal, 2)} or less.`,
    contents: group(
      levels(ticks(-1.2, 0, 5), y, (w) => fixed(w, 1)),
      ticks(0, 150, 4).map((r) =>
        group(
          stroke("axis", [x(r), 182], [x(r), 187]),
          words([x(r), 202], fixed(r), { kind: "soft", anchor: r === 150 ? "end" : "middle" }),
        )
      ),
      stroke("axis", [44, 182], [340, 182]),
      stroke("dim", [44, y(0)], [340, y(0)]),
      stroke("limit", [44, y(-goal)], [340, y(-goal)]),
      path("polished", through(curve), "stroke-width:2"),
      words([0, 15], "Wavefront of the sphere (wave)"),
      words([338, y(-goal) + 16], `goal ${fixed(goal, 2)}`, {
        kind: "t-rouge halo",
        anchor: "end",
      }),
      words([340, 219], "Distance from the centre (mm)", { anchor: "end" }),
    ),
  });
}

const starNow = once(sphereStar);

function picture(values: Values, paint: Paint): Html {
  const star = starNow(values), shown = 142;
  return safe`${departure(values)}${raysDrawing(values, star)}${
    sideBySide([
      [
        "star by the sphere",
        paint(starPixels(star.sphere), {
          shown,
          finding: `The sphere’s star: ${fixed(star.strehl, 2)} of the brightness in the middle.`,
        }),
      ],
      [
        "by the paraboloid",
        paint(starPixels(star.paraboloid), {
          shown,
          finding: `The paraboloid’s star, ${fixed(star.defocusWaves, 1)} waves out of focus.`,
        }),
      ],
    ])
  }`;
}

function reading(values: Values): Html {
  const { spot, strehl } = starNow(values);
  const { depth, glassPv, wavefrontPvWaves } = sphereReading(values),
    goal = valueOf(values, "goal");
  const f = valueOf(values, "focal") / valueOf(values, "aperture");
  const says = wavefrontPvWaves <= goal ? "a sphere is enough" : "it must be figured";
  return safe`Wavefront, peak to valley <big><output>${
    fixed(wavefrontPvWaves, 3)
  } wave</output></big> from ${fixed(glassPv)} nm of glass: ${says}.<br>f/${fixed(f, 1)}, <output>${
    fixed(depth, 3)
  } mm</output> deep. At the eyepiece: Strehl ratio <output>${fixed(strehl, 2)}</output>, rays ${
    fixed(spot, 4)
  } mm wide.`;
}

/** The figure: aperture, focal length and the place of the eyepiece to slide. */
export const sphereOrParaboloid: LiveFigure = {
  name: "sphere-or-paraboloid",
  controls: [
    {
      key: "aperture",
      label: "Aperture",
      min: 80,
      max: 250,
      step: 1,
      digits: 0,
      unit: "mm",
      spoken: "millimetres",
    },
    {
      key: "focal",
      label: "Focal length",
      min: 900,
      max: 2400,
      step: 10,
      digits: 0,
      unit: "mm",
      spoken: "millimetres",
    },
    {
      key: "eyepiece",
      label: "Eyepiece, from the best focus",
      min: -1,
      max: 1,
      step: 0.01,
      digits: 2,
      unit: "mm",
      spoken: "millimetres",
    },
  ],
  start: { aperture: 150, focal: 1200, eyepiece: 0, wavelength: 550, goal: 0.25 },
  picture,
  reading,
  value: (values) => sphereReading(values).wavefrontPvWaves,
  caption:
    safe`<b>The line</b> is the best a perfect sphere can do; below the dashed limit it must be figured. Depth grows with D² ÷ f, the sphere’s error with D⁴ ÷ f³. Stars are drawn brighter where they are faint (power 0.4), 10 λN across.`,
};
