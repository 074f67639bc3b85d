/** Live: three screws, where they send the star, and the tail that coma gives it. */
import { starImage } from "../../optics/starImage.ts";
import {
  collimationTolerance,
  type Coma,
  comaOf,
  imageShift,
  type Tilt,
  tiltAfter,
} from "../../telescope/collimation.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { fixed, signed } from "../scale.ts";
import { type Control, type LiveFigure, once, valueOf, type Values } from "./figure.ts";
import { type Paint, type Pixels, type Print, sideBySide } from "./pixels.ts";
import { stretch } from "./starPlan.ts";

const aperture = 150, wavelength = 550, fieldStop = 21;
const screws = { pitch: 1, radius: 60, angles: [90, 210, 330].map((a) => (a * Math.PI) / 180) };

/** A telescope whose main mirror leans. */
export interface Aligned {
  /** how the mirror leans away from the line to the flat, mm a mm */
  readonly tilt: Tilt;
  /** where the star stands that should stand in the middle, mm toward the focuser and up */
  readonly star: Tilt;
  /** how far the mirror's axis passes from the middle of the field, mm */
  readonly axis: number;
  /** of a star in the middle of the field */
  readonly coma: Coma;
  /** how far the axis may be off, mm */
  readonly allowed: number;
}

/**
 * Star, axis and coma after the screws were turned, from a mirror that leaned already.
 *
 * @param values  a, b and c in turns, + raises the point toward the sky; focal in mm; leanX and leanY in mm a mm
 * @example the turns that the notebook finds bring the star to the middle
 * ```ts
 * import assert from "node:assert/strict";
 * const { star, coma } = aligned({ ...collimationScrews.start, a: -0.05, b: -0.04, c: 0.09 });
 * assert.ok(Math.hypot(star.x, star.y) < 0.05);
 * assert.ok(coma.wavefrontRms < 1);
 * ```
 */
export function aligned(values: Values): Aligned {
  const focal = valueOf(values, "focal"), mirror = { aperture, focalLength: focal };
  const turned = tiltAfter(screws, ["a", "b", "c"].map((key) => valueOf(values, key)));
  const tilt = {
    x: valueOf(values, "leanX") + turned.x,
    y: valueOf(values, "leanY") + turned.y,
  };
  const axis = focal * Math.hypot(tilt.x, tilt.y);
  return {
    tilt,
    star: imageShift(focal, tilt),
    axis,
    coma: comaOf(mirror, axis),
    allowed: collimationTolerance(mirror, wavelength).axis,
  };
}

const alignedNow = once(aligned);

const disc: Point = [84, 118], r = 62;
/** where the turns of each screw are written */
const labels: readonly Point[] = [[84, 49], [26, 178], [142, 178]];

/** The mirror from the sky: screws, how far each was turned, and the side that now stands higher. */
function mirrorPlan(values: Values, { tilt }: Aligned): Html {
  const lean = Math.hypot(tilt.x, tilt.y), towards = Math.atan2(tilt.y, tilt.x);
  const long = Math.min(44, lean * 12000);
  const tip: Point = [disc[0] + long * Math.cos(towards), disc[1] - long * Math.sin(towards)];
  return group(
    words([84, 14], "The mirror, from the sky", { anchor: "middle" }),
    dot("zone-b", disc, r, "stroke:var(--glass)"),
    screws.angles.map((angle, i) => {
      const turns = valueOf(values, ["a", "b", "c"][i] ?? "a");
      const at: Point = [disc[0] + 46 * Math.cos(angle), disc[1] - 46 * Math.sin(angle)];
      return group(
        dot("theirs", at, 10),
        words([at[0], at[1] + 4.5], "ABC"[i] ?? "", {
          anchor: "middle",
          kind: turns === 0 ? "b" : "b t-glass",
        }),
        words(labels[i] ?? disc, signed(turns, 2), { anchor: "middle", kind: "soft" }),
      );
    }),
    long > 3 && arrow(disc, tip),
    words([84, 222], long > 3 ? "arrow: this side is high" : "nothing leans", {
      kind: "soft",
      anchor: "middle",
    }),
  );
}

function arrow(from: Point, tip: Point): Html {
  const angle = Math.atan2(tip[1] - from[1], tip[0] - from[0]);
  const barb = (turn: number): Point => [
    tip[0] - 8 * Math.cos(angle + turn),
    tip[1] - 8 * Math.sin(angle + turn),
  ];
  return group(
    stroke("polished", from, tip, "stroke-width:2"),
    path("polished", through([barb(0.5), tip, barb(-0.5)]), "stroke-width:2"),
  );
}

const field: Point = [262, 118], k = 5.4;

/** The eyepiece's field: star, axis, and how far the axis may pass. */
function fieldPlan({ star, allowed }: Aligned): Html {
  const at = (p: Tilt): Point => [field[0] + k * p.x, field[1] - k * p.y];
  const away = Math.hypot(star.x, star.y), inside = away <= fieldStop / 2;
  const half = { x: star.x / 2, y: star.y / 2 }, edge = (14.4 * k) / Math.max(1e-9, away * k);
  const far = { x: star.x * edge, y: star.y * edge };
  const axisSeen = away / 2 <= 14.4;
  return group(
    words([262, 14], "The field, 21 mm wide", { anchor: "middle" }),
    dot("dim", field, k * fieldStop / 2, "fill:none"),
    dot("limit", field, k * Math.min(allowed, 14), "fill:none"),
    stroke("lead", [field[0] - 5, field[1]], [field[0] + 5, field[1]]),
    stroke("lead", [field[0], field[1] - 5], [field[0], field[1] + 5]),
    axisSeen && cross(at(half)),
    inside ? dot("mine", at(star), 5) : arrow(at({ x: far.x * 0.84, y: far.y * 0.84 }), at(far)),
    words([262, 222], inside ? "dot: star · cross: axis" : "the star is out of the field", {
      kind: "soft",
      anchor: "middle",
    }),
  );
}

const cross = ([x, y]: Point): Html =>
  group(
    stroke("polished", [x - 5, y - 5], [x + 5, y + 5]),
    stroke("polished", [x - 5, y + 5], [x + 5, y - 5]),
  );

const extent = 8, size = 81;
const upright = { a: 0, b: 0, c: 0, focal: 1200, leanX: 0, leanY: 0 };

/** A star in the middle of the field, its tail pointing away from the mirror's axis. */
function comaPixels({ tilt, coma }: Aligned): Pixels {
  const lean = Math.hypot(tilt.x, tilt.y), waves = coma.wavefrontPeak / wavelength;
  // the axis passes on the low side; in the picture y runs down, and the tail lies on the side away from the axis
  const c = lean === 0 ? 0 : tilt.x / lean, s = lean === 0 ? 0 : -tilt.y / lean;
  // least tilt: the tail's light about the middle of the picture, cos(a) (rho^3 - 2 rho / 3)
  const tail = (x: number, y: number): number => waves * (c * x + s * y) * (x * x + y * y - 2 / 3);
  const { values } = starImage({ waves: tail }, size, extent, 64);
  return {
    width: size,
    height: size,
    values: values.map((light) => Math.max(0, light) ** stretch),
  };
}

const perfect = once((values) => comaPixels(aligned(values)));

function picture(values: Values, paint: Paint): Html {
  const now = alignedNow(values), { star, axis, coma, allowed } = now;
  const rms = coma.wavefrontRms / wavelength, focal = valueOf(values, "focal");
  const perPixel = (wavelength * 1e-6 * focal) / aperture;
  const sheet = drawing({
    width: 352,
    height: 228,
    finding: `The star stands ${
      fixed(Math.hypot(star.x, star.y), 1)
    } mm from the middle of the field, ${fixed(star.x, 1)} towards the focuser and ${
      fixed(star.y, 1)
    } up. The mirror’s axis passes ${fixed(axis, 1)} mm from the middle; ${
      fixed(allowed, 1)
    } are allowed.`,
    contents: group(mirrorPlan(values, now), fieldPlan(now)),
  });
  const print = (finding: string): Print => ({ shown: 158, finding });
  const lopsided = `A star in the middle of the field, ${
    rms < 0.02 ? "nearly round" : "lopsided"
  }: coma of ${fixed(rms, 3)} wave RMS.`;
  return safe`${sheet}${
    sideBySide([
      [
        `star in the middle, ${fixed(2000 * extent * perPixel)} µm`,
        paint(comaPixels(now), print(lopsided)),
      ],
      [
        "as it should be",
        paint(perfect(upright), print("A star as it should be: round rings.")),
      ],
    ])
  }`;
}

function reading(values: Values): Html {
  const { star, axis, coma, allowed } = alignedNow(values);
  const good = axis <= allowed / 3
    ? "good enough for planets"
    : axis <= allowed
    ? "good enough"
    : "not good enough";
  return safe`Coma in the middle, RMS <big><output>${
    fixed(coma.wavefrontRms / wavelength, 3)
  } wave</output></big> <output>${good}</output>: up to 0.071. The star is <output>${
    fixed(Math.hypot(star.x, star.y), 1)
  } mm</output> off, the mirror’s axis ${fixed(axis, 1)} mm; ${fixed(allowed, 1)} mm are allowed.`;
}

const screw = (key: string, where: string): Control => ({
  ...{ key, label: `Screw ${key.toUpperCase()}, ${where}`, min: -0.5, max: 0.5, step: 0.01 },
  ...{ digits: 2, unit: "turn", spoken: "turns" },
});
const controls: readonly Control[] = [
  screw("a", "at the top"),
  screw("b", "lower left"),
  screw("c", "lower right"),
  {
    ...{ key: "focal", label: "Focal length of the 150 mm", min: 600, max: 1200, step: 10 },
    ...{ digits: 0, unit: "mm", spoken: "millimetres" },
  },
];

/** The figure: three screws to turn; the mirror leans at first as the demo's did. */
export const collimationScrews: LiveFigure = {
  name: "collimation-screws",
  controls,
  start: {
    ...{ a: 0, b: 0, c: 0, focal: 1200 },
    // the demo's star stood at (3, -2) mm with f = 1198.3 mm: it moves by 2f for each unit of slope, away from the high side
    ...{ leanX: -3 / (2 * 1198.3), leanY: 2 / (2 * 1198.3) },
  },
  picture,
  reading,
  value: (values) => alignedNow(values).coma.wavefrontRms / wavelength,
  caption:
    safe`Pitch 1 mm, screws on a circle of 60 mm; the focuser is to the right. <b>The star moves twice as far as the axis.</b> Places are those of the bare focus: an eyepiece may turn them. Within the broken circle the axis does no harm.`,
};
