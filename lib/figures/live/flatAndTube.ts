/** Live: tube, focuser and flat, and the light of two stars that comes through them or not. */
import { sagitta } from "../../optics/sphere.ts";
import { contrastAt } from "../../optics/contrast.ts";
import { type Layout, layOut } from "../../telescope/layout.ts";
import { illumination } from "../../telescope/vignetting.ts";
import { fixed } from "../digits.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, rect, stroke, through, words } from "../pen.ts";
import { scale } from "../scale.ts";
import { type Control, type LiveFigure, once, valueOf, type Values } from "./figure.ts";
import { levels } from "./levels.ts";

const aperture = 150, focalLength = 1198.3, wall = 3, margin = 15, front = 150, fieldStop = 21;

/**
 * The layout of a 150 mm mirror, by the library.
 *
 * @param values  tube (inner diameter), height (focuser, racked in) and flat (minor axis) in mm
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const plan = flatPlan({ tube: 180, height: 70, flat: 31 });
 * assert.deepEqual([plan.flatToFocus, plan.fullyLit.toFixed(1)], [178, "10.1"]);
 * ```
 */
export function flatPlan(values: Values): Layout {
  const bend = {
    innerDiameter: valueOf(values, "tube"),
    ...{ wall, height: valueOf(values, "height"), margin },
  };
  return layOut({
    ...{ aperture, focalLength, bend, frontLength: front, fieldStop },
    flats: [valueOf(values, "flat")],
  });
}

const planNow = once(flatPlan);

/** A ray from the glass in the plane of tube and focuser; mm along the axis from the flat's centre line, mm toward the focuser. */
export interface FoldedRay {
  readonly from: Point;
  /** on the flat's plane */
  readonly meets: Point;
  /** where it ends: in the field, or past the flat */
  readonly ends: Point;
  /** whether the flat sends it on */
  readonly caught: boolean;
}

/**
 * The way of light from a place on the mirror's rim or face to a point of the field.
 *
 * @param plan    of the telescope
 * @param up      place on the mirror, mm from its middle toward the focuser
 * @param height  of the point in the field, mm from its middle; + lies toward the tube's front
 * @example the ray from the very middle runs along the axis and is turned into the focuser
 * ```ts
 * import assert from "node:assert/strict";
 * const ray = foldedRay(flatPlan({ tube: 180, height: 70, flat: 31 }), 0, 0);
 * assert.deepEqual([ray.caught, ray.meets, ray.ends], [true, [0, 0], [0, 178]]);
 * ```
 */
export function foldedRay(plan: Layout, up: number, height: number): FoldedRay {
  const { flatToFocus: reach, offset, flat } = plan;
  const start = sagitta(2 * Math.max(1e-9, Math.abs(up)), 2 * focalLength) - plan.flatFromVertex;
  // unfolded, the field's point (height toward the front) lies at (reach, height); the flat's plane is up = along
  const slope = (height - up) / (reach - start), met = (up - slope * start) / (1 - slope);
  const along = (met + offset) * Math.SQRT2, caught = Math.abs(along) <= flat / Math.SQRT2;
  const past = 60;
  return {
    from: [start, up],
    meets: [met + 0, met + 0],
    ends: caught ? [height, reach] : [past, up + slope * (past - start)],
    caught,
  };
}

const k = 1.15, hole: Point = [222, 276], left = -hole[0] / k, right = (352 - hole[0]) / k;
const at = ([along, up]: Point): Point => [hole[0] + k * along, hole[1] - k * up];
const places = Array.from({ length: 7 }, (_, i) => (aperture / 2) * (1 - i / 3));

function lightOf(plan: Layout, height: number, kind: string): Html {
  return group(places.map((up) => {
    const ray = foldedRay(plan, up, height);
    return path(
      ray.caught ? `ray ${kind}` : "ray red",
      through([entering(ray), ray.meets, ray.ends].map(at)),
    );
  }));
}

/** Where a ray comes into the picture, whose left edge cuts the tube. */
function entering({ from, meets }: FoldedRay): Point {
  const share = (left - from[0]) / (meets[0] - from[0]);
  return [left, from[1] + share * (meets[1] - from[1])];
}

function hardware(values: Values, plan: Layout): Html {
  const half = valueOf(values, "tube") / 2, height = valueOf(values, "height"), gap = 32;
  const thick = Math.max(2, wall * k), r = plan.flat / 2, c = -plan.offset;
  const side = (from: number, to: number, up: number): Html => {
    const [x, y] = at([from, up]);
    return rect("steel", [x, up > 0 ? y - thick : y], k * (to - from), thick, "stroke-width:.5");
  };
  const [x, y] = at([-gap, half + wall + height]);
  return group(
    side(left, -gap, half),
    side(gap, right, half),
    side(left, right, -half),
    rect("steel", [x, y], k * 2 * gap, k * height, "fill:none;stroke-width:.75"),
    stroke("silvered", at([c - r, c - r]), at([c + r, c + r])),
    stroke("axis", at([left, 0]), at([right, 0]), "stroke-dasharray:8 3 2 3"),
    stroke(
      "dim",
      at([-fieldStop / 2, plan.flatToFocus]),
      at([fieldStop / 2, plan.flatToFocus]),
      "stroke-width:1.5",
    ),
    plan.fullyLit > 0 &&
      stroke(
        "mine",
        at([-plan.fullyLit / 2, plan.flatToFocus]),
        at([plan.fullyLit / 2, plan.flatToFocus]),
        "stroke-width:4",
      ),
  );
}

function names(values: Values, plan: Layout): Html {
  const half = valueOf(values, "tube") / 2, [, tubeY] = at([0, half + wall]);
  const [, bottom] = at([0, -half - wall]), [, focus] = at([0, plan.flatToFocus]);
  return group(
    words([hole[0], focus - 8], "field", { kind: "b", anchor: "middle" }),
    words([hole[0] + k * 32 + 6, tubeY - 8], "focuser"),
    words([0, tubeY - 8], "tube"),
    words([0, bottom + 17], `← ${fixed(plan.flatFromVertex)} mm to the mirror`),
    words([352, bottom + 17], "sky →", { kind: "soft", anchor: "end" }),
  );
}

const top = 456, foot = 536, x = scale(0, 15, 44, 340), y = scale(0, 1, foot, top);

/** How much light comes to each place in the field. */
function lightAcross(plan: Layout): Html {
  const place = { aperture, focalLength, flatToFocus: plan.flatToFocus, minorAxis: plan.flat };
  const curve = Array.from({ length: 46 }, (_, i): Point => [
    x(i / 3),
    y(illumination(place, i / 3)),
  ]);
  return group(
    words([0, top - 12], "Light that reaches the field (%)"),
    levels([0, 0.5, 1], y, (share) => fixed(100 * share)),
    path("polished", through(curve)),
    stroke("limit", [x(fieldStop / 2), top], [x(fieldStop / 2), foot], "stroke:var(--ink)"),
    words([x(fieldStop / 2) + 5, foot - 6], "edge of field"),
    dot("mine", [x(fieldStop / 2), y(plan.illuminationAtStop)], 4),
    [0, 5, 10, 15].map((mm) =>
      words([x(mm), foot + 17], fixed(mm), { kind: "soft", anchor: mm === 15 ? "end" : "middle" })
    ),
    words([340, foot + 34], "From the middle of the field (mm)", { anchor: "end" }),
  );
}

function picture(values: Values): Html {
  const plan = planNow(values);
  return drawing({
    width: 352,
    height: foot + 40,
    finding:
      `Tube, focuser and flat in section, to scale, with the light of a star in the middle of the field and of one at its edge. A flat of ${
        fixed(plan.flat)
      } mm, ${fixed(plan.flatToFocus)} mm from the focus: ${
        field(plan)
      }; at the edge of the field ${fixed(100 * plan.illuminationAtStop)} percent of the light.`,
    contents: group(
      lightOf(plan, 0, ""),
      lightOf(plan, fieldStop / 2, "blue"),
      hardware(values, plan),
      names(values, plan),
      lightAcross(plan),
    ),
  });
}

function field({ fullyLit }: Layout): string {
  return fullyLit < 0 ? "no point gets all the light" : `${fixed(fullyLit, 1)} mm are fully lit`;
}

function reading(values: Values): Html {
  const plan = planNow(values), { obstructionByDiameter: share, tubeBore } = plan;
  const contrast = contrastAt(0.25, share) / contrastAt(0.25, 0);
  const tube = plan.tubeIsWideEnough
    ? "wide enough"
    : `too narrow: ${fixed(tubeBore, 1)} mm are needed`;
  return safe`Fully lit field <big><output>${
    plan.fullyLit < 0 ? "none" : `${fixed(plan.fullyLit, 1)} mm`
  }</output></big> ${
    fixed(100 * plan.illuminationAtStop)
  } % of the light at the edge of a 21 mm field. The flat takes <output>${
    fixed(100 * plan.obstructionByArea, 1)
  } %</output> of the light and leaves ${
    fixed(100 * contrast)
  } % of the contrast of a planet’s detail. It sits <output>${
    fixed(plan.flatToFocus)
  } mm</output> from the focus. The tube is ${tube}.`;
}

const mm = { step: 1, digits: 0, unit: "mm", spoken: "millimetres" } as const;
const controls: readonly Control[] = [
  { key: "flat", label: "Width of the flat", min: 15, max: 60, ...mm },
  { key: "height", label: "Height of the focuser", min: 30, max: 100, ...mm },
  { key: "tube", label: "Bore of the tube", min: 156, max: 200, ...mm },
];

/** The figure: flat, focuser and tube to slide, for the course's 150 mm f/8. */
export const flatAndTube: LiveFigure = {
  name: "flat-and-tube",
  controls,
  start: { flat: 25, height: 70, tube: 180 },
  picture,
  reading,
  value: (values) => planNow(values).fullyLit,
  caption:
    safe`To scale, for 150 mm and f = 1198 mm, wall 3 mm, 15 mm of spare travel. Plain lines: the light of a star in the middle of the field; blue: of one at its edge. <b>Red, broken: light that misses the flat.</b> The thick bar in the field is the part that is fully lit.`,
};
