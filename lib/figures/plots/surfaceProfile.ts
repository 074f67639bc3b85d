/** The glass over the wanted curve, in nm against the distance from the centre, with its band and the goal beside it. */
import type { Measured } from "../../quantity/measured.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { widthOf } from "../pen.ts";
import { extent, fixed, signed } from "../scale.ts";
import type { Shown } from "../show.ts";
import { plusMinus } from "../words.ts";
import { band, bracket, lines, onPaper, Plot, plotDocument, styledPlot } from "./style.ts";

/** Height of the glass over the wanted curve at one radius; mm and nm. */
export interface ProfilePoint {
  readonly radius: number;
  readonly height: number;
  /** standard uncertainty, nm; absent with a single run */
  readonly u?: number;
}

/** An opening of the zone mask, mm from the centre. */
export interface Opening {
  /** edge toward the middle, mm */
  readonly inner: number;
  /** edge toward the rim, mm */
  readonly outer: number;
}

/** A profile and what it is held against. */
export interface Profile {
  readonly points: readonly ProfilePoint[];
  /** where the mirror was seen */
  readonly openings?: readonly Opening[];
  /** peak to valley of the glass, nm */
  readonly pv?: Measured;
  /** how many diameters it is the mean of, where they differ; their differences are not in the line */
  readonly meanOf?: number;
  /** wanted peak to valley of the glass, nm */
  readonly goal?: number;
  /** an earlier date, drawn thin */
  readonly before?: { readonly name: string; readonly points: readonly ProfilePoint[] };
  readonly wanted?: "paraboloid" | "sphere";
  readonly whose?: "yours" | "demo";
}

function ends(points: readonly ProfilePoint[]): readonly [number, number] {
  const all = points.map((p) => p.height);
  return [Math.min(...all), Math.max(...all)];
}

/** Peak to valley and goal, as brackets in the right margin; on a narrow sheet their labels stand over and under. */
function brackets(profile: Profile, rim: number, px: number, small: boolean): Plot.Markish[] {
  const { points, goal } = profile, [low, high] = ends(points), middle = (low + high) / 2;
  // the whole surface's own P-V stands elsewhere: this one is of the drawn line
  const found = profile.meanOf === undefined ? foundPv(profile) : `mean ${foundPv(profile)}`;
  const near = rim + (small ? 26 : 14) * px;
  const far = small ? near + 46 * px : near + (26 + widthOf(found)) * px;
  return [
    ...bracket({
      ...{ x: near, low, high, label: found, colour: "var(--glass)", px },
      where: small ? "below" : "beside",
    }),
    ...(goal === undefined ? [] : bracket({
      ...{ x: far, low: middle - goal / 2, high: middle + goal / 2, px },
      label: `goal ${fixed(goal)}`,
      colour: "var(--rouge)",
      where: small ? "above" : "below",
    })),
  ];
}

/** Peak to valley as it is printed; without an uncertainty it is the drawn line's own. */
function foundPv({ points, pv }: Profile): string {
  const [low, high] = ends(points);
  return pv === undefined ? fixed(high - low) : plusMinus(pv);
}

/** Openings of several masks as one row of bars: cut at every edge, gaps kept. */
function barsOf(openings: readonly Opening[]): Opening[] {
  const edges = [...new Set(openings.flatMap(({ inner, outer }) => [inner, outer]))].sort((a, b) =>
    a - b
  );
  return edges.slice(1).map((outer, i) => ({ inner: edges[i] ?? 0, outer }))
    .filter((bar) => openings.some((o) => o.inner <= bar.inner && o.outer >= bar.outer));
}

/** Where the mirror was seen: a bar for each opening, at the foot of the plot. */
function openingMarks(openings: readonly Opening[], rim: number, low: number): Plot.Markish[] {
  return [
    Plot.link(barsOf(openings), {
      x1: (o: Opening) => o.inner + 0.004 * rim,
      x2: (o: Opening) => o.outer - 0.004 * rim,
      ...{ y1: low, y2: low, stroke: "var(--line)", strokeWidth: 4 },
    }),
    ...(openings[0] === undefined ? [] : [
      Plot.text([[openings[0].inner, low]], {
        ...{ ...onPaper, dx: 4, dy: -11, fill: "var(--soft)" },
        text: () => "openings of the mask",
      }),
    ]),
  ];
}

function marksOf(profile: Profile, rim: number, low: number): Plot.Markish[] {
  const { points, openings = [], before, whose } = profile;
  const sure = points.every((p) => p.u !== undefined) && points.length > 1;
  const place = { x: "radius", y: "height" } as const;
  const line = whose === "demo" ? lines.demo : lines.yours;
  return [
    ...(sure
      ? [Plot.areaY(points, {
        x: "radius",
        y1: (p: ProfilePoint) => p.height - 1.96 * (p.u ?? 0),
        y2: (p: ProfilePoint) => p.height + 1.96 * (p.u ?? 0),
        ...band,
      })]
      : []),
    Plot.ruleY([0], lines.wanted),
    ...openingMarks(openings, rim, low),
    ...(before === undefined ? [] : [
      Plot.line(before.points, { ...place, ...lines.demo, stroke: "var(--glass)", strokeWidth: 1 }),
      Plot.text(before.points.slice(Math.floor(before.points.length * 0.4)).slice(0, 1), {
        ...place,
        ...onPaper,
        dx: 6,
        dy: -9,
        text: () => before.name,
      }),
    ]),
    Plot.line(points, { ...place, ...line, ...(sure ? {} : { strokeDasharray: "5 4" }) }),
  ];
}

function draw(profile: Profile, width: number, finding: string): Html {
  const { points, goal = 0, before } = profile, small = isNarrow(width);
  const room = small ? 52 : 48 + widthOf(foundPv(profile));
  const marginRight = profile.goal === undefined ? room : room + (small ? 46 : 34);
  const rim = Math.max(...points.map((p) => p.radius));
  const [low, high] = ends(points), middle = (low + high) / 2;
  const spread = points.flatMap((p) => [p.height - 2 * (p.u ?? 0), p.height + 2 * (p.u ?? 0)]);
  const domain = extent([
    ...[middle - goal / 2, middle + goal / 2, 0, ...spread],
    ...(before?.points ?? []).map((p) => p.height),
  ], 0.14);
  return styledPlot({
    width,
    height: small ? 240 : 250,
    finding,
    marginRight,
    x: { title: "Distance from the centre (mm)", domain: [0, rim] },
    y: {
      title: small
        ? "Glass over the wanted curve (nm)"
        : "Height of the glass over the wanted curve (nm)",
      domain,
      format: (value) => signed(value),
    },
    marks: [
      ...marksOf(profile, rim, domain[0] + (domain[1] - domain[0]) * 0.03),
      ...brackets(profile, rim, rim / (width - 44 - marginRight), small),
    ],
  }, plotDocument());
}

function findingOf(profile: Profile): string {
  const { points, goal, wanted = "paraboloid", whose, meanOf } = profile;
  const [low, high] = ends(points), first = points[0], last = points.at(-1);
  const lowest = points.find((p) => p.height === low),
    highest = points.find((p) => p.height === high);
  const at = (p?: ProfilePoint): string =>
    p === undefined ? "" : `${signed(p.height)} at ${fixed(p.radius)} mm`;
  return `Height of the ${
    whose === "demo" ? "demo’s glass" : "glass"
  } over the best ${wanted}, in nanometres: ${at(first)}, lowest ${at(lowest)}, highest ${
    at(highest)
  }, ${at(last)}. Peak to valley ${foundPv(profile)} nm of glass${
    meanOf === undefined ? "" : `, as the mean of ${meanOf} diameters`
  }` +
    (goal === undefined ? "." : `; the goal is ${fixed(goal)}.`);
}

/**
 * The profile of the glass.
 *
 * @param profile  at least two points from the centre outwards; radius mm, heights nm of glass, + is high
 * @throws {RangeError} with fewer points, or where a value is not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = surfaceProfile({
 *   points: [{ radius: 0, height: 32 }, { radius: 50, height: -17 }, { radius: 75, height: 27 }],
 *   goal: 69,
 * });
 * assert.match(shown.text, /Peak to valley 49 nm of glass; the goal is 69/);
 * ```
 */
export function surfaceProfile(profile: Profile): Shown {
  if (profile.points.length < 2) {
    throw new RangeError(
      `surfaceProfile requires two points or more, got ${profile.points.length}`,
    );
  }
  const finding = findingOf(profile), sure = profile.points.every((p) => p.u !== undefined);
  return figure({
    span: "wide",
    finding,
    caption: safe`<b>+ is high glass.</b> Mean and focus are removed. ${
      sure
        ? "The band is a 95 % interval."
        : "One run only: the line is dashed, and nobody knows how sure it is."
    }${
      profile.openings !== undefined &&
      " Between the openings, and finer than one, the line is drawn, not seen."
    }${
      profile.meanOf !== undefined &&
      " The line is the mean of all diameters; what differs between them is drawn from above."
    }${profile.whose === "demo" && " Demo mirror, not yours."}`,
    draw: (width) => draw(profile, width, finding),
  });
}
