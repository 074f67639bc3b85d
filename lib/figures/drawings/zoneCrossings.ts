/** Where the light of each zone crosses the axis: mirror at the left, the crossings drawn apart so that they can be seen. */
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, place, stroke, words } from "../pen.ts";
import type { Opening } from "../plots/surfaceProfile.ts";
import { fixed, roundStep } from "../scale.ts";
import type { Shown } from "../show.ts";

/** Means of the knife readings through the openings; lengths mm. */
export interface Crossings {
  /** of the mask, from the middle outward */
  readonly openings: readonly Opening[];
  /** mean reading of each opening, + = farther from the mirror */
  readonly readings: readonly number[];
  /** radius of curvature R */
  readonly radius: number;
}

function draw(
  { openings, readings, radius }: Crossings,
  width: number,
  finding: string,
  times: number,
): Html {
  const small = isNarrow(width), left = 26, k = (width - left - (small ? 74 : 110)) / radius;
  const rim = Math.max(...openings.map((o) => o.outer)), across = Math.min(72, 0.2 * width) / rim;
  const y = 26 + rim * across, middle = (Math.min(...readings) + Math.max(...readings)) / 2;
  const at = (reading: number): number => left + radius * k + (reading - middle) * k * times;
  const [x, top, low, bow, back] = [left, y - rim * across, y + rim * across, left - 9, left - 20]
    .map(place);
  const face = `M${x},${top}Q${bow},${place(y)} ${x},${low}`;
  const rays = openings.map((opening, i) => {
    const r = Math.sqrt((opening.inner ** 2 + opening.outer ** 2) / 2) * across,
      end = at(readings[i] ?? middle);
    const outer = i === openings.length - 1, kind = outer ? "ray blue" : "ray";
    const style = outer ? "stroke-width:1.5" : "stroke:var(--line)";
    return group(
      [-1, 1].map((side) => stroke(kind, [left, y + side * r], [end, y], style)),
      dot(outer ? "mine" : "theirs", [end, y], 3),
      words([end, y + (i % 2 === 0 ? -10 : 20)], String(i + 1), { anchor: "middle" }),
    );
  });
  return drawing({
    width,
    height: 2 * rim * across + 74,
    finding,
    contents: group(
      stroke("lead", [left, y], [width, y]),
      path("body", `${face}H${back}V${top}Z`),
      path("polished", face),
      rays,
      words(
        [left + 4, y + rim * across + 18],
        small ? "mirror" : "mirror, its zones by their middles",
      ),
      words([width, y + rim * across + 18], `crossings apart × ${times}`, {
        anchor: "end",
        kind: "soft",
      }),
      words([width, y + rim * across + 36], "towards the eye →", { anchor: "end", kind: "soft" }),
    ),
  });
}

/**
 * The crossings of the zones' light, from the knife readings.
 *
 * @param zones  mm; one reading for each opening, larger = farther from the mirror
 * @throws {RangeError} unless there is a finite reading for each opening and a radius above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = zoneCrossings({
 *   openings: [{ inner: 0, outer: 30 }, { inner: 30, outer: 45 }],
 *   readings: [12.1, 12.4],
 *   radius: 2396,
 * });
 * assert.match(shown.text, /0\.30 mm apart/);
 * ```
 */
export function zoneCrossings(zones: Crossings): Shown {
  const { openings, readings, radius } = zones;
  const sound = readings.length === openings.length && readings.every(Number.isFinite);
  if (!(sound && readings.length > 0 && radius > 0)) {
    throw new RangeError(
      `zoneCrossings requires a finite reading for each opening and a radius above 0, got ${readings.length} for ${openings.length}, radius=${radius}`,
    );
  }
  const spread = Math.max(...readings) - Math.min(...readings);
  const times = spread === 0 ? 1 : Math.max(1, roundStep(radius * 0.22 / spread, 1));
  const finding =
    `Light from ${openings.length} zones crosses the axis at places ${
      fixed(spread, 2)
    } mm apart, ` +
    `near the centre of curvature ${fixed(radius)} mm away.`;
  return figure({
    finding,
    caption: safe`<b>The crossings lie ${
      fixed(spread, 2)
    } mm apart.</b> Not to scale: the mirror is drawn too wide, and the crossings ${times} times too far apart.`,
    draw: (width) => draw(zones, width, finding, times),
  });
}
