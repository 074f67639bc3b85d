/** The telescope on its base from the side, to one scale: how high the pivot must stand, and where the eye is. */
import { eyeHeight, pivotClearance } from "../../telescope/balance.ts";
import { fixed } from "../scale.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, element, group, path, type Point, stroke, through, words } from "../pen.ts";
import type { Shown } from "../show.ts";

/** A tube on its base; lengths mm. */
export interface BasedTube {
  /** from the pivot to the tube's rear and front end, and to the focuser */
  readonly behind: number;
  readonly ahead: number;
  readonly focuser: number;
  /** half the tube's outer width */
  readonly half: number;
  /** of the pivot above the ground */
  readonly pivotHeight: number;
  /** radius of the altitude bearings */
  readonly bearing: number;
  /** where the tube points, rad above level; the first is drawn whole, the others in outline */
  readonly altitudes: readonly number[];
}

const degrees = (angle: number): string => `${fixed((angle * 180) / Math.PI)}°`;

/** Corners of the tube pointed at an altitude, px. */
function tubeAt(t: BasedTube, altitude: number, at: (x: number, up: number) => Point): Point[] {
  const c = Math.cos(altitude), s = Math.sin(altitude);
  const corners = [[-t.behind, -t.half], [t.ahead, -t.half], [t.ahead, t.half], [
    -t.behind,
    t.half,
  ]];
  return corners.map(([u = 0, v = 0]) => at(c * u - s * v, t.pivotHeight + s * u + c * v));
}

function draw(t: BasedTube, width: number, finding: string): Html {
  const small = isNarrow(width), label = small ? 76 : 132;
  const reach = Math.max(...t.altitudes.map((a) => t.ahead * Math.cos(a) + t.half * Math.sin(a)));
  const back = Math.max(pivotClearance(t.behind, t.half), t.bearing + 60);
  const top = Math.max(
    ...t.altitudes.map((a) => t.pivotHeight + t.ahead * Math.sin(a) + t.half * Math.cos(a)),
  );
  const k = Math.min((width - label - 8) / (reach + back), 300 / top);
  const ground = top * k + 14, left = label + back * k;
  const at = (x: number, up: number): Point => [left + x * k, ground - up * k];
  const pivot = at(0, t.pivotHeight), wide = Math.max(t.bearing, t.half) + 30;
  const eyes = t.altitudes.map((altitude) => {
    const up = eyeHeight(t.pivotHeight, t.focuser, altitude);
    return { altitude, up, place: at(t.focuser * Math.cos(altitude), up) };
  }).sort((a, b) => b.up - a.up);
  let last = -Infinity;
  const told = eyes.map(({ altitude, up, place }) => {
    const y = Math.max(last + 17, place[1]);
    last = y;
    const text = `${degrees(altitude)}: ${small ? "" : "eye at "}${fixed(up)}`;
    return group(
      stroke("lead", [label, y], [place[0], place[1]]),
      dot("mine", place, 4),
      words([label - 6, y + 4.5], text, { anchor: "end" }),
    );
  });
  return drawing({
    width,
    height: ground + 30,
    finding,
    contents: [
      path(
        "body",
        through([
          at(-wide, 0),
          at(wide, 0),
          at(t.bearing, t.pivotHeight),
          at(-t.bearing, t.pivotHeight),
        ], true),
      ),
      t.altitudes.map((altitude, i) =>
        path(
          i === 0 ? "steel" : "lead",
          through(tubeAt(t, altitude, at), true),
          i === 0 ? "fill-opacity:.8" : "fill:none;stroke:var(--ink);stroke-dasharray:5 4",
        )
      ).reduceRight((below, one) => group(below, one), group()),
      element("circle", {
        cx: pivot[0],
        cy: pivot[1],
        r: t.bearing * k,
        class: "rim",
        style: "fill:none",
      }),
      dot("mine", pivot, 3),
      stroke("rim", [label - 6, ground], [width, ground]),
      ...told,
      words([label, ground + 18], `pivot ${fixed(t.pivotHeight)} above the ground, in mm`),
    ],
  });
}

/**
 * A tube on its base at several altitudes, with the height of the eye at each.
 *
 * @param tube  lengths mm above 0; the pivot high enough for the tube's rear corner to clear the ground
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const tube = { behind: 524, ahead: 720, focuser: 571, half: 93, pivotHeight: 600, bearing: 90 };
 * assert.match(baseView({ ...tube, altitudes: [Math.PI / 2] }).text, /90°: 1171 mm/);
 * ```
 */
export function baseView(tube: BasedTube): Shown {
  const { behind, ahead, focuser, half, pivotHeight, bearing, altitudes } = tube;
  const least = pivotClearance(Math.max(0, behind), Math.max(0, half));
  const ok = [behind, ahead, focuser, half, bearing].every((x) => x > 0 && Number.isFinite(x)) &&
    pivotHeight >= least && Number.isFinite(pivotHeight) && altitudes.length > 0 &&
    altitudes.every((angle) => angle >= 0 && angle <= Math.PI / 2);
  if (!ok) {
    throw new RangeError(
      `baseView requires lengths above 0 mm, altitudes from 0 to pi/2 rad and a pivot ${
        fixed(least)
      } mm up or more, got ${JSON.stringify(tube)}`,
    );
  }
  const eyes = altitudes.map((altitude) =>
    `${degrees(altitude)}: ${fixed(eyeHeight(pivotHeight, focuser, altitude))} mm`
  ).join(", ");
  const finding = `The tube on its base, to one scale. Its rear corner needs ${
    fixed(least)
  } mm below the pivot, which stands ${fixed(pivotHeight)} mm up. The eye stands at ${eyes}.`;
  return figure({
    finding,
    caption: safe`<b>The base must let the rear corner through.</b> ${
      fixed(least)
    } mm below the pivot at the steepest; the bearing is the round rim about the pivot. Dots: where the eye is, in mm above the ground.`,
    draw: (width) => draw(tube, width, finding),
  });
}
