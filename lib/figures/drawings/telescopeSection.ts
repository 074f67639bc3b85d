/** The telescope in section, to one scale: mirror, tube, flat, focuser, and the cone of light that runs through them. */
import { sagitta } from "../../optics/sphere.ts";
import { fixed } from "../scale.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import {
  across,
  dot,
  down,
  drawing,
  group,
  path,
  place,
  type Point,
  rect,
  stroke,
  through,
  words,
} from "../pen.ts";
import type { Shown } from "../show.ts";

/** A telescope to be drawn; lengths mm. */
export interface SectionedTelescope {
  readonly aperture: number;
  readonly focalLength: number;
  readonly thickness: number;
  readonly tube: {
    readonly innerDiameter: number;
    readonly wall: number;
    readonly frontLength: number;
  };
  readonly focuserHeight: number;
  /** flat's centre on the axis to the focus */
  readonly flatToFocus: number;
  /** minor axis of the flat */
  readonly flat: number;
  /** of the flat's centre, away from the focuser and as much toward the mirror */
  readonly offset: number;
  readonly fullyLit: number;
}

/** Tube behind the mirror's face, and the focuser's width, as drawn: neither is in the record. */
const BEHIND = 75, FOCUSER_WIDTH = 60;

/** The sheet: mm along the axis from the vertex and mm toward the focuser, to px. */
interface Sheet extends SectionedTelescope {
  readonly width: number;
  readonly small: boolean;
  readonly k: number;
  readonly left: number;
  readonly axis: number;
  /** along the axis */
  readonly at: (z: number, up: number) => Point;
  /** place of the flat's centre line on the axis */
  readonly hole: number;
  readonly front: number;
  readonly half: number;
}

function sheetOf(telescope: SectionedTelescope, width: number): Sheet {
  const { focalLength, flatToFocus, tube } = telescope, small = isNarrow(width);
  const hole = focalLength - flatToFocus, front = hole + tube.frontLength;
  const left = small ? 6 : 12, label = small ? 46 : 90;
  // the length L stands beside the focuser, also where the tube ends soon after it
  const k = Math.min(
    (width - 2 * left - (small ? 0 : 20)) / (front + BEHIND),
    (width - left - label) / (hole + FOCUSER_WIDTH / 2 + BEHIND),
  );
  const half = tube.innerDiameter / 2 + tube.wall;
  const axis = 46 + Math.max(flatToFocus, half) * k;
  const at = (z: number, up: number): Point => [left + (z + BEHIND) * k, axis - up * k];
  return { ...telescope, width, small, k, left, axis, at, hole, front, half };
}

function tubeOf(s: Sheet): Html {
  const { tube, half, front, hole } = s, wall = Math.max(1.5, tube.wall * s.k);
  const inner = tube.innerDiameter / 2, gap = FOCUSER_WIDTH / 2;
  const side = (from: number, to: number, up: number): Html => {
    const [x, y] = s.at(from, up);
    return rect("steel", [x, up > 0 ? y : y - wall], (to - from) * s.k, wall, "stroke-width:.5");
  };
  const [x, y] = s.at(hole - gap, half + s.focuserHeight);
  return group(
    side(-BEHIND, hole - gap, half),
    side(hole + gap, front, half),
    side(-BEHIND, front, -inner - wall / s.k),
    rect("steel", [x, y], FOCUSER_WIDTH * s.k, s.focuserHeight * s.k, "fill:none;stroke-width:.75"),
  );
}

function glassOf(s: Sheet): Html {
  const a = s.aperture / 2, depth = sagitta(s.aperture, 2 * s.focalLength);
  const [rimX, top] = s.at(depth, a), [bowX] = s.at(-depth, 0), [, low] = s.at(depth, -a);
  const [back] = s.at(-s.thickness, 0),
    [px, pt, pb, pl, bow, mid] = [rimX, top, back, low, bowX, s.axis].map(place);
  const face = `M${px},${pt}Q${bow},${mid} ${px},${pl}`;
  return group(
    path("body", `${face}H${pb}V${pt}Z`),
    path("rim", `M${px},${pt}H${pb}V${pl}H${px}`),
    path("silvered", face, s.small ? "stroke-width:2" : undefined),
  );
}

/** Where a ray from the rim, aimed at the unfolded focus, meets the flat's plane: (z, up). */
function meets(s: Sheet, rim: number): Point {
  const depth = sagitta(s.aperture, 2 * s.focalLength), slope = rim / (s.focalLength - depth);
  // up = rim - slope (z - depth), on the plane z = hole + up
  const up = (rim - slope * (s.hole - depth)) / (1 + slope);
  return [s.hole + up, up];
}

function lightOf(s: Sheet): Html {
  const a = s.aperture / 2, depth = sagitta(s.aperture, 2 * s.focalLength);
  const focus = s.at(s.hole, s.flatToFocus);
  const rays = [a, -a].map((rim) => {
    const [z, up] = meets(s, rim);
    return [s.at(s.front, rim), s.at(depth, rim), s.at(z, up), focus];
  });
  const [top = [], low = []] = rays;
  const [, t1, t2] = top, [, l1, l2] = low;
  const cone = t1 && t2 && l1 && l2 ? [t1, t2, focus, l2, l1] : [];
  return group(
    path("zone-b", through(cone, true)),
    rays.map((ray) => path("ray", through(ray), "stroke-width:.75")),
    stroke("axis", s.at(-BEHIND, 0), s.at(s.front, 0), "stroke-dasharray:8 3 2 3"),
  );
}

function flatOf(s: Sheet): Html {
  const r = s.flat / 2, c = s.offset;
  const from = s.at(s.hole - c - r, -c - r), to = s.at(s.hole - c + r, -c + r);
  const lit = Math.max(0, s.fullyLit) / 2;
  return group(
    stroke("silvered", from, to),
    lit > 0 &&
      stroke(
        "mine",
        s.at(s.hole - lit, s.flatToFocus),
        s.at(s.hole + lit, s.flatToFocus),
        "stroke-width:2",
      ),
    dot("mine", s.at(s.hole, s.flatToFocus), 3),
  );
}

function namesOf(s: Sheet): Html {
  const [holeX] = s.at(s.hole, 0), [vertex] = s.at(0, 0), [, focusY] = s.at(0, s.flatToFocus);
  const [focuserX, focuserY] = s.at(s.hole - FOCUSER_WIDTH / 2, s.half + s.focuserHeight / 2);
  const [, bottom] = s.at(0, -s.half), [, top] = s.at(0, s.half);
  const [flatX, flatY] = s.at(s.hole - s.offset - s.flat / 2, -s.offset - s.flat / 2);
  const flat = s.small ? `flat ${fixed(s.flat)}` : `flat, ${fixed(s.flat)} wide`;
  return group(
    words([holeX, focusY - 10], "focus", { kind: "b", anchor: "middle" }),
    words([focuserX - 6, focuserY + 4.5], "focuser", { anchor: "end" }),
    words([s.left, top - 8], "tube"),
    stroke("lead", [vertex - 4, s.axis + 20], [vertex - 4, bottom + 8]),
    words([s.left, bottom + 21], s.small ? "mirror" : `mirror, ${fixed(s.aperture)} wide`),
    stroke("lead", [flatX, flatY + 2], [flatX, bottom + 8]),
    words([flatX - 2, bottom + 21], flat, { anchor: "end" }),
  );
}

function dimensionsOf(s: Sheet): Html {
  const [vertex] = s.at(0, 0), [hole] = s.at(s.hole, 0), [, bottom] = s.at(0, -s.half);
  const [, focus] = s.at(0, s.flatToFocus), [, top] = s.at(0, s.half), y = bottom + 40;
  const right = hole + FOCUSER_WIDTH / 2 * s.k + (s.small ? 10 : 16);
  return group(
    across(vertex, hole, y),
    words(
      [(vertex + hole) / 2, y + 18],
      `${fixed(s.hole)} from the mirror${s.small ? "" : "’s middle to the hole"}`,
      { anchor: "middle" },
    ),
    stroke("lead", [hole, s.axis], [hole, y]),
    down(right, focus, s.axis),
    stroke("lead", [hole + 6, focus], [right + 5, focus]),
    words(
      [right + 6, (focus + top) / 2 + 4.5],
      s.small ? fixed(s.flatToFocus) : `L = ${fixed(s.flatToFocus)}`,
    ),
  );
}

function draw(telescope: SectionedTelescope, width: number, finding: string): Html {
  const s = sheetOf(telescope, width), [, bottom] = s.at(0, -s.half);
  const height = bottom + 82;
  return drawing({
    width,
    height,
    finding,
    contents: [
      lightOf(s),
      tubeOf(s),
      glassOf(s),
      flatOf(s),
      dimensionsOf(s),
      namesOf(s),
      words([s.left, height - 4], "to one scale, in mm; light comes from the right", {
        kind: "soft",
      }),
    ],
  });
}

/**
 * The telescope in section, everything to one scale, with the light that a star on the axis sends through it.
 *
 * @param telescope  lengths mm, above 0; the flat between mirror and focus
 * @returns a wide figure
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = telescopeSection({
 *   aperture: 150, focalLength: 1198.3, thickness: 25, flatToFocus: 178, flat: 31, offset: 0.91, fullyLit: 10.1,
 *   tube: { innerDiameter: 180, wall: 3, frontLength: 150 }, focuserHeight: 70,
 * });
 * assert.match(shown.text, /1020 mm from the mirror/);
 * ```
 */
export function telescopeSection(telescope: SectionedTelescope): Shown {
  const { aperture, focalLength, thickness, flatToFocus, flat, tube, offset, fullyLit } = telescope;
  const sizes = [
    aperture,
    focalLength,
    thickness,
    flatToFocus,
    flat,
    tube.innerDiameter,
    tube.frontLength,
  ];
  const ok = sizes.every((size) => size > 0 && Number.isFinite(size)) &&
    flatToFocus < focalLength &&
    Number.isFinite(offset + fullyLit + tube.wall + telescope.focuserHeight);
  if (!ok) {
    throw new RangeError(
      `telescopeSection requires lengths above 0 mm and a flat between mirror and focus, got ${
        JSON.stringify(telescope)
      }`,
    );
  }
  const hole = fixed(focalLength - flatToFocus),
    field = fullyLit >= 0
      ? `a field of ${fixed(fullyLit, 1)} mm gets all the light`
      : "no point of the field gets all the light";
  const finding =
    `A telescope in section, to one scale: the hole for the focuser ${hole} mm from the mirror, the focus ${
      fixed(flatToFocus)
    } mm from the flat’s centre, a flat of ${fixed(flat)} mm; ${field}.`;
  return figure({
    span: "wide",
    finding,
    caption:
      safe`<b>The cone of light, folded.</b> Light falls in from the right, the mirror gathers it, the flat turns it into the focuser. With a flat of ${
        fixed(flat)
      } mm ${field}. The tube’s rear end and the focuser’s width are drawn as usual.`,
    draw: (width) => draw(telescope, width, finding),
  });
}
