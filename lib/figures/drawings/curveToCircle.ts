/** The mirror, its focus and its centre of curvature on one sheet and to one scale: R is twice f. */
import { sagitta } from "../../optics/sphere.ts";
import { fixed } from "../scale.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { across, dot, drawing, group, path, place, stroke, words } from "../pen.ts";
import type { Shown } from "../show.ts";

/** A concave mirror; lengths mm. */
export interface Curve {
  /** clear width */
  readonly aperture: number;
  /** radius of curvature R */
  readonly radius: number;
  /** thickness of the disc; default a sixth of the aperture */
  readonly thickness?: number;
}

/** The disc at the left, its face towards the centre of curvature. */
function disc(
  { aperture, radius, thickness = aperture / 6 }: Curve,
  x: number,
  y: number,
  k: number,
): Html {
  const half = aperture / 2 * k, depth = sagitta(aperture, radius) * k, back = thickness * k;
  const [vertex, rim, far, top, low, bow] = [
    x,
    x + depth,
    x - back,
    y - half,
    y + half,
    x - depth,
  ].map(place);
  const face = `M${rim},${top}Q${bow},${place(y)} ${rim},${low}`;
  return group(
    path("body", `${face}H${far}V${top}Z`),
    path("rim", `M${rim},${top}H${far}V${low}H${rim}`),
    path("polished", face),
    vertex === rim && stroke("polished", [x, y - half], [x, y + half]),
  );
}

function rays({ aperture, radius }: Curve, x: number, y: number, k: number): Html {
  const half = aperture / 2 * k, depth = sagitta(aperture, radius) * k;
  const focus = x + radius / 2 * k, end = x + radius * k;
  return group([-1, 1].map((side) =>
    group(
      stroke("ray", [end, y + side * half], [x + depth, y + side * half]),
      stroke("ray", [x + depth, y + side * half], [focus, y]),
    )
  ));
}

function draw(curve: Curve, width: number, finding: string): Html {
  const { aperture, radius } = curve, small = isNarrow(width);
  const x = small ? 16 : 24, k = (width - x - 14) / radius;
  const half = aperture / 2 * k, y = 30 + half + (small ? 18 : 0), below = y + half;
  const centre = x + radius * k, focus = x + radius / 2 * k;
  const name = small ? "C, centre" : "C, centre of curvature";
  return drawing({
    width,
    height: below + 92,
    finding,
    contents: group(
      stroke("lead", [x, y], [centre, y]),
      stroke(
        "lead",
        [centre, y],
        [x + sagitta(aperture, radius) * k, y - half],
        "stroke-dasharray:3 3",
      ),
      disc(curve, x, y, k),
      rays(curve, x, y, k),
      dot("mine", [focus, y], 3.5),
      dot("theirs", [centre, y], 3.5, "stroke:var(--ink)"),
      words([focus, y - half - 9], "F, focus", { anchor: "middle", kind: "b" }),
      words([centre + 4, y - half - 9], name, { anchor: "end", kind: "b" }),
      words([x, y - half - 9], small ? "mirror" : "mirror, and the string of the compass", {}),
      across(x, focus, below + 22),
      words([(x + focus) / 2, below + 40], `f = ${fixed(radius / 2)}`, { anchor: "middle" }),
      across(x, centre, below + 56),
      words([(x + centre) / 2, below + 74], `R = ${fixed(radius)}`, { anchor: "middle" }),
      words([centre, below + 90], "everything to one scale, in mm", {
        kind: "soft",
        anchor: "end",
      }),
    ),
  });
}

/**
 * Where the compass stands and where the star’s image falls, drawn to one scale.
 *
 * @param curve  mm; 0 < aperture < 2 x radius
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(curveToCircle({ aperture: 150, radius: 2400 }).text, /focus at 1200 mm/);
 * ```
 */
export function curveToCircle(curve: Curve): Shown {
  const { aperture, radius } = curve, f = fixed(radius / 2);
  const finding =
    `A mirror ${fixed(aperture)} mm across, its focus at ${f} mm and the centre of its ` +
    `curve at ${
      fixed(radius)
    } mm, twice as far, all to one scale. The hollow is too shallow to see.`;
  return figure({
    finding,
    caption:
      safe`<b>R is twice f.</b> The compass that draws the curve stands at C; light from a star meets at F, halfway. The hollow is there, and at this scale no deeper than its line is thick.`,
    draw: (width) => draw(curve, width, finding),
  });
}
