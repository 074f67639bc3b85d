/** What is too high, what the next session takes, and what should be left: three profiles over one radius, in nm of glass. */
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { extent, fixed } from "../scale.ts";
import type { Shown } from "../show.ts";
import { lines, onPaper, Plot, plotDocument, styledPlot } from "./style.ts";

/** Glass at one place, nm; mm from the centre. */
export interface GlassAt {
  readonly radius: number;
  readonly nm: number;
}

export interface DrawnRemoval {
  /** stands above the lowest place */
  readonly stands: readonly GlassAt[];
  /** taken by the next session */
  readonly taken: readonly GlassAt[];
  /** expected to stand after it */
  readonly left: readonly GlassAt[];
  readonly says: string;
  readonly whose?: "yours" | "demo";
}

function draw(drawn: DrawnRemoval, width: number, finding: string): Html {
  const { stands, taken, left, whose = "demo" } = drawn;
  const all = [stands, taken, left].flat().map(({ nm }) => nm);
  const rim = Math.max(...stands.map(({ radius }) => radius));
  const place = { x: "radius", y: "nm" } as const;
  const named = (points: readonly GlassAt[], at: number, text: string, dy: number): Plot.Markish =>
    Plot.text(points.slice(Math.round(at * (points.length - 1))).slice(0, 1), {
      ...place,
      ...onPaper,
      dx: 4,
      dy,
      text: () => text,
    });
  return styledPlot({
    width,
    height: isNarrow(width) ? 280 : 300,
    finding,
    x: { title: "Distance from the centre (mm)", domain: [0, rim] },
    y: { title: "Glass (nm)", domain: extent([0, ...all], 0.12) },
    marks: [
      Plot.line(taken, { ...place, ...lines.limit }),
      Plot.line(left, { ...place, ...lines.forecast }),
      Plot.line(stands, { ...place, ...(whose === "demo" ? lines.demo : lines.yours) }),
      named(stands, 0.04, "stands", -10),
      named(taken, 0.4, "the session takes", -10),
      named(left, 0.7, "left", 12),
    ],
  }, plotDocument());
}

/**
 * The plan of one session.
 *
 * @throws {RangeError} where one of the profiles has fewer than two places
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const line = (nm: number) => [{ radius: 0, nm }, { radius: 74, nm: 0 }];
 * const shown = removalPlan({ stands: line(68), taken: line(30), left: line(38), says: "Half of it." });
 * assert.match(shown.text, /stands 68 nm at the most, the session takes 30, 38 are left/);
 * ```
 */
export function removalPlan(drawn: DrawnRemoval): Shown {
  const { stands, taken, left } = drawn;
  if ([stands, taken, left].some((points) => points.length < 2)) {
    throw new RangeError("removalPlan requires two places or more in each profile");
  }
  const span = (points: readonly GlassAt[]): string => {
    const heights = points.map(({ nm }) => nm);
    return fixed(Math.max(...heights) - Math.min(...heights));
  };
  const most = (points: readonly GlassAt[]): string =>
    fixed(Math.max(...points.map(({ nm }) => nm)));
  const finding = `Glass against the distance from the centre: it stands ${
    span(stands)
  } nm at the most, the session takes ${most(taken)}, ${span(left)} are left.`;
  return figure({
    finding,
    caption:
      safe`<b>${drawn.says}</b> Line: what stands above the lowest place, at best focus. Dashes: what the session takes. Dots: what should be left, foreseen.`,
    draw: (width) => draw(drawn, width, finding),
  });
}
