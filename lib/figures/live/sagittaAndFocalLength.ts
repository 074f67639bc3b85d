/** Live: what leaves under a straight-edge say of the focal length, and what a forgotten bevel does to it. */
import { radiusFromSagitta } from "../../optics/sphere.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, place, stroke, through, words } from "../pen.ts";
import { fixed, scale } from "../scale.ts";
import { type LiveFigure, valueOf, type Values } from "./figure.ts";

/** Lengths mm; u is what a hundredth of a millimetre of leaf does. */
export interface FocalReading {
  readonly focal: number;
  readonly u: number;
  readonly forgotten: number;
}

/**
 * The focal length that leaves speak for.
 *
 * @param values  aperture, leaves, bevel in mm
 * @throws {RangeError} where the leaves are deeper than a hemisphere
 * @example a 150 mm disc, a 1 mm bevel, leaves of 1.14 mm
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(focalReading({ aperture: 150, leaves: 1.14, bevel: 1 }).focal.toFixed(0), "1201");
 * ```
 */
export function focalReading(values: Values): FocalReading {
  const aperture = valueOf(values, "aperture"), leaves = valueOf(values, "leaves");
  const chord = aperture - 2 * valueOf(values, "bevel");
  const f = (depth: number, width: number): number => radiusFromSagitta(depth, width) / 2;
  return {
    focal: f(leaves, chord),
    u: (f(leaves - 0.01, chord) - f(leaves + 0.01, chord)) / 2,
    forgotten: f(leaves, aperture),
  };
}

const deeper = 20, wider = 2, left = 26, right = 326, ground = 44;

function section(values: Values): Html {
  const k = (right - left) / valueOf(values, "aperture"), leaves = valueOf(values, "leaves");
  const b = valueOf(values, "bevel") * wider * k, depth = Math.min(leaves * deeper * k, 62);
  const [x0, x1, y, low] = [left + b, right - b, ground, ground + 2 * depth].map(place);
  const [l, r, rim, back] = [left, right, ground + b, 112].map(place);
  const face = `M${x0},${y}Q176,${low} ${x1},${y}`;
  return group(
    path("body", `${face}L${r},${rim}V${back}H${l}V${rim}Z`),
    path("rim", `M${x0},${y}L${l},${rim}V${back}H${r}V${rim}L${x1},${y}`),
    path("ground", face),
    stroke("dim", [16, ground], [336, ground]),
    stroke("dim", [176, ground], [176, ground + depth]),
    words([184, ground + depth / 2 + 5], `${fixed(leaves, 2)} mm`),
    words([16, 30], "straight-edge"),
    words([34, 106], `depth × ${deeper}, bevel × ${wider}`, { kind: "soft" }),
  );
}

const marks = [1000, 1100, 1200, 1300, 1400, 1500];

function ruler(values: Values): Html {
  const { focal, u, forgotten } = focalReading(values), wanted = valueOf(values, "wanted");
  const share = wanted / 1200, at = scale(950 * share, 1550 * share, 20, 332);
  const inside = (f: number): number => Math.min(332, Math.max(20, at(f)));
  const x = inside(focal), [low, high] = [inside(focal - u), inside(focal + u)];
  const whisker = group(
    stroke("mine", [low, 172], [high, 172], "stroke-width:1.5"),
    stroke("mine", [low, 167], [low, 177], "stroke-width:1.5"),
    stroke("mine", [high, 167], [high, 177], "stroke-width:1.5"),
  );
  return group(
    stroke("axis", [20, 184], [332, 184]),
    marks.map((mark) => {
      const f = mark * share;
      return group(
        stroke("axis", [at(f), 184], [at(f), 189]),
        words([at(f), 203], fixed(f), { anchor: "middle", kind: "soft" }),
      );
    }),
    words([332, 220], "Focal length (mm)", { anchor: "end" }),
    path("dim", through([[at(wanted), 146], [at(wanted), 184]])),
    words([at(wanted), 140], `wanted ${fixed(wanted)}`, { anchor: "middle" }),
    dot("theirs", [inside(forgotten), 172], 4),
    whisker,
    dot("mine", [x, 172], 3),
  );
}

function picture(values: Values): Html {
  const { focal, forgotten } = focalReading(values);
  return drawing({
    width: 352,
    height: 222,
    finding: `Section of the disc over a scale of focal lengths. These leaves speak for ${
      fixed(focal)
    } millimetres; with the bevel forgotten, for ${fixed(forgotten)}.`,
    contents: group(section(values), ruler(values)),
  });
}

function reading(values: Values): Html {
  const { focal, u, forgotten } = focalReading(values);
  return safe`Focal length <big><output>${fixed(focal)} mm</output></big> ± ${
    fixed(u)
  } mm for 0.01 mm of leaf.<br>Bevel forgotten: long by <output>${
    fixed(forgotten - focal)
  } mm</output>.`;
}

const mm = { unit: "mm", spoken: "millimetres" } as const;

/** The figure: leaves and bevel to slide. */
export const sagittaAndFocalLength: LiveFigure = {
  name: "sagitta-and-focal-length",
  controls: [
    {
      key: "leaves",
      label: "Leaves that just pass",
      min: 0.95,
      max: 1.4,
      step: 0.01,
      digits: 2,
      ...mm,
    },
    { key: "bevel", label: "Width of the bevel", min: 0, max: 4, step: 0.1, digits: 1, ...mm },
  ],
  start: { aperture: 150, wanted: 1200, leaves: 1.14, bevel: 1 },
  picture,
  reading,
  value: (values) => focalReading(values).focal,
  caption: safe`<b>Filled:</b> with the bevel taken off. <b>Open:</b> with the bevel forgotten.`,
};
