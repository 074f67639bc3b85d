/** Live: tube, focuser and flat, the light of two stars that comes through them or not, and the field it lights. */
import { sagitta } from "../../optics/sphere.ts";
import { contrastAt } from "../../optics/contrast.ts";
import { type Layout, layOut } from "../../telescope/layout.ts";
import { illumination } from "../../telescope/vignetting.ts";
import { fixed } from "../scale.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, rect, stroke, through, words } from "../pen.ts";
import { type Control, type LiveFigure, once, valueOf, type Values } from "./figure.ts";

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

/** Light of one ring of the field, seen from the front. */
export interface LitRing {
  /** outer radius in the field, mm */
  readonly radius: number;
  /** share of the mirror's light at its middle, 0 to 1 */
  readonly share: number;
}

/**
 * The lit field from its edge to its middle, ring by ring, up to the field stop.
 *
 * @param plan   of the telescope
 * @param rings  how many, 1 or more
 * @example a flat of 31 mm lights all but the outermost millimetres
 * ```ts
 * import assert from "node:assert/strict";
 * const rings = litField(flatPlan({ tube: 180, height: 70, flat: 31 }), 21);
 * assert.deepEqual([rings[0]?.radius, rings.at(-1)?.share], [10.5, 1]);
 * ```
 */
export function litField(plan: Layout, rings = 30): readonly LitRing[] {
  const place = { aperture, focalLength, flatToFocus: plan.flatToFocus, minorAxis: plan.flat };
  const wide = fieldStop / 2 / rings;
  return Array.from({ length: rings }, (_, i) => ({
    radius: (rings - i) * wide,
    share: illumination(place, (rings - i - 0.5) * wide),
  }));
}

/** Grey that gives off this share of the page's white light: the screen's own curve undone. */
function greyOf(share: number): string {
  const light = share <= 0.0031308 ? 12.92 * share : 1.055 * share ** (1 / 2.4) - 0.055;
  const level = Math.round(255 * light);
  return `fill:rgb(${level},${level},${level});stroke:none`;
}

const top = 430, middle: Point = [98, top + 104], wide = 84, perMm = wide / (fieldStop / 2);
const bar = { x: 228, width: 18, top: middle[1] - wide, foot: middle[1] + wide };
const level = (share: number): number => bar.foot + share * (bar.top - bar.foot);

/** The field as the eyepiece sees it, from the front: how much light comes to each place. */
function fieldFromFront(plan: Layout): Html {
  const rings = litField(plan), edge = plan.illuminationAtStop, centre = rings.at(-1)?.share ?? 0;
  const steps = Array.from({ length: 24 }, (_, i) => i / 24), high = (bar.foot - bar.top) / 24;
  const apart = Math.max(0, 16 - (level(edge) - level(centre)));
  const mark = (share: number, text: string, down: number): Html =>
    group(
      stroke("axis", [bar.x, level(share)], [bar.x + bar.width + 5, level(share)]),
      words([bar.x + bar.width + 9, level(share) + 5 + down], `${text} ${fixed(100 * share)} %`),
    );
  return group(
    words([0, top], "The field, from the front"),
    rings.map(({ radius, share }) => dot("", middle, perMm * radius, greyOf(share))),
    dot("dim", middle, wide, "fill:none;stroke-width:1.5"),
    plan.fullyLit > 0 &&
      dot("mine", middle, Math.min(wide, perMm * plan.fullyLit / 2), "fill:none;stroke-width:2"),
    words([middle[0], middle[1] + wide + 18], `${fieldStop} mm`, {
      kind: "soft",
      anchor: "middle",
    }),
    steps.map((share) =>
      rect("", [bar.x, level(share + 1 / 24)], bar.width, high + 0.5, greyOf(share + 1 / 48))
    ),
    rect("dim", [bar.x, bar.top], bar.width, bar.foot - bar.top, "fill:none;stroke-width:1"),
    words([bar.x - 6, bar.foot + 4], "none", { kind: "soft", anchor: "end" }),
    words([bar.x - 6, bar.top + 4], "all", { kind: "soft", anchor: "end" }),
    mark(centre, "middle", 0),
    mark(edge, "edge", apart),
  );
}

function picture(values: Values): Html {
  const plan = planNow(values);
  return drawing({
    width: 352,
    height: middle[1] + wide + 24,
    finding:
      `Tube, focuser and flat in section, to scale, with the light of a star in the middle of the field and of one at its edge; below, the field from the front, a disc that grows darker toward its edge. A flat of ${
        fixed(plan.flat)
      } mm, ${fixed(plan.flatToFocus)} mm from the focus: ${
        field(plan)
      }; at the edge of the field ${fixed(100 * plan.illuminationAtStop)} percent of the light.`,
    contents: group(
      lightOf(plan, 0, ""),
      lightOf(plan, fieldStop / 2, "blue"),
      hardware(values, plan),
      names(values, plan),
      fieldFromFront(plan),
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
    safe`To scale, for 150 mm and f = 1198 mm, wall 3 mm, 15 mm of spare travel. Plain lines: the light of a star in the middle of the field; blue: of one at its edge. <b>Red, broken: light that misses the flat.</b> The thick bar in the field is the part that is fully lit, and the ring in the disc below. The disc is the field as the eyepiece sees it; half the light is half as bright on a screen. Along the tube one side is really some 3 % darker, the other lighter.`,
};
