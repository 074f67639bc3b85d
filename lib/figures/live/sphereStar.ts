/** What a sphere and a paraboloid make of a star: rays near the focus, and the image at the eyepiece. */
import { conicHeight, conicSlope, exactWavefront } from "../../optics/conic.ts";
import { atBestFocus, strehlOf } from "../../optics/quality.ts";
import type { Html } from "../html.ts";
import { drawing, group, type Point, stroke, words } from "../pen.ts";
import { fixed, signed } from "../scale.ts";
import { valueOf, type Values } from "./figure.ts";
import { type StarBrightness, starPlan } from "./starPlan.ts";

/** One ray near the focus. */
export interface NearRay {
  /** where it crosses the axis, from the sphere's best focus, mm */
  readonly crosses: number;
  /** how fast it nears the axis */
  readonly slope: number;
}

export interface SphereStar {
  /** sphere's rays from the rim inward */
  readonly rays: readonly NearRay[];
  /** width of the patch the rays make at the eyepiece, mm */
  readonly spot: number;
  readonly sphere: StarBrightness;
  readonly paraboloid: StarBrightness;
  /** of the sphere's star, at the eyepiece */
  readonly strehl: number;
  /** waves of defocus at the rim, + eyepiece farther out */
  readonly defocusWaves: number;
}

const extent = 5, steps = 40, shares = [1, 0.75, 0.5, 0.25] as const;

/**
 * Rays and star images of a sphere and a paraboloid, each at the same distance from its best focus (least RMS).
 *
 * @param values  aperture, focal length and eyepiece (+ farther out) in mm, wavelength in nm
 * @example the best star of a 150 mm f/8 sphere keeps 0.79 of a perfect one's brightness
 * ```ts
 * import assert from "node:assert/strict";
 * const star = sphereStar({ aperture: 150, focal: 1200, eyepiece: 0, wavelength: 550 });
 * assert.equal(star.strehl.toFixed(2), "0.79");
 * assert.equal(star.paraboloid.brightness[0]?.toFixed(6), "1.000000");
 * ```
 */
export function sphereStar(values: Values): SphereStar {
  const half = valueOf(values, "aperture") / 2, focal = valueOf(values, "focal");
  const wavelength = valueOf(values, "wavelength"), eyepiece = valueOf(values, "eyepiece");
  const ratio = focal / (2 * half), travelPerWave = 8 * wavelength * 1e-6 * ratio * ratio;
  const defocusWaves = eyepiece / travelPerWave, sphere = { radius: 2 * focal, conic: 0 };
  // places enough for the turns of phase over the aperture; few kinds of grid, so that their plans are kept
  const { grid, image } = starPlan(40 * Math.ceil(1 + Math.abs(defocusWaves) / 10), extent, steps);
  const waves = exactWavefront(grid, sphere, half).map((nm) => nm / wavelength);
  const best = atBestFocus(grid, waves), away = grid.q.map((q) => defocusWaves * q);
  const seen = best.waves.map((w, i) => w + (away[i] ?? 0));
  const focus = focal - best.focusWaves * travelPerWave;
  const rays = shares.map((share) => {
    const r = half * share, slope = Math.tan(2 * Math.atan(conicSlope(r, sphere)));
    return { slope, crosses: conicHeight(r, sphere) + r / slope - focus };
  });
  return {
    rays,
    spot: 2 * Math.max(...rays.map((ray) => Math.abs(ray.slope * (eyepiece - ray.crosses)))),
    sphere: image(seen),
    paraboloid: image(away),
    strehl: strehlOf(grid, seen),
    defocusWaves,
  };
}

/** The sphere's rays through the focus, and the eyepiece's plane, ten times as high as long or more. */
export function raysDrawing(values: Values, { rays, spot }: SphereStar): Html {
  const eyepiece = valueOf(values, "eyepiece"), reach = 1.25, middle = 74;
  const x = (z: number): number => 176 + 160 * z / reach;
  const ky = 42 / (Math.max(...rays.map(({ slope }) => slope)) * reach);
  const at = (z: number, { slope, crosses }: NearRay, side: number): Point => [
    x(z),
    middle + side * ky * slope * (crosses - z),
  ];
  return drawing({
    width: 352,
    height: 156,
    finding:
      `Rays of the sphere near the focus: those from the rim cross nearer to the glass than those from the middle, so the smallest patch is ${
        fixed(spot, 4)
      } mm wide where the eyepiece stands.`,
    contents: group(
      words([0, 22], "Rays of the sphere near its focus"),
      rays.map((ray) =>
        [-1, 1].map((side) => stroke("ray blue", at(-reach, ray, side), at(reach, ray, side)))
      ),
      stroke("dim", [x(eyepiece), 32], [x(eyepiece), 116], "stroke-width:3"),
      stroke("axis", [16, 122], [336, 122]),
      [-1, 0, 1].map((z) =>
        group(
          stroke("axis", [x(z), 122], [x(z), 127]),
          words([x(z), 140], signed(z), { kind: "soft", anchor: "middle" }),
        )
      ),
      words([352, 155], "From the best focus (mm)", { anchor: "end" }),
    ),
  });
}
