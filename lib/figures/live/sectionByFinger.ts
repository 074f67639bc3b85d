/** Live: the glass from above, and its section along the diameter that a finger turns. */
import { faceFromAbove, heightFromAbove } from "../drawings/surfaceFromAbove.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { fixed, scale, signed, ticks } from "../scale.ts";
import { type Control, levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";

/** Radii at which a figure's profile is given, middle and rim among them. */
export const SECTION_RADII = 17;

/** The band reaches so many standard uncertainties to each side. */
const WIDE = 2;
const PLACES = 81, DEGREE = Math.PI / 180;
const centre: Point = [170, 152], radius = 112;

/** A place of a section. */
interface Place {
  /** mm from the middle, + toward the angle */
  readonly at: number;
  /** nm of glass, and its standard uncertainty */
  readonly height: number;
  readonly u: number;
}

/** A section with what is highest and lowest on it. */
export interface Section {
  readonly places: readonly Place[];
  readonly highest: Place;
  readonly lowest: Place;
  /** highest less lowest, nm of glass */
  readonly pv: number;
}

interface Surface {
  readonly rim: number;
  readonly at: (share: number, angle: number) => readonly [height: number, u: number];
  /** the face, and the step between two of its lines, nm */
  readonly markup: Html;
  readonly step: number;
}

function profileOf(
  values: Values,
  letter: "h" | "u",
  rim: number,
): { radius: number; height: number }[] {
  return Array.from({ length: SECTION_RADII }, (_, k) => ({
    radius: (rim * k) / (SECTION_RADII - 1),
    height: valueOf(values, `${letter}${k}`),
  }));
}

const surface = once((values): Surface => {
  const rim = valueOf(values, "rim"), amplitude = valueOf(values, "amplitude");
  const axis = { value: valueOf(values, "axis"), u: 0, dof: Infinity, unit: "deg" };
  const round = valueOf(values, "round");
  const seen = {
    profile: profileOf(values, "h", rim),
    astigmatism: {
      amplitude: { value: amplitude, u: round, dof: Infinity, unit: "nm" },
      axis,
      interval95: [valueOf(values, "least"), amplitude + WIDE * round] as const,
    },
  };
  const height = heightFromAbove(seen);
  const doubt = heightFromAbove({ profile: profileOf(values, "u", rim) });
  return {
    rim,
    at: (share, angle) => [
      height(share, angle),
      Math.hypot(doubt(share, angle), round * share ** 2),
    ],
    ...faceFromAbove(seen, centre, radius),
  };
});

/** The surface does not turn with the finger: it is worked out once. */
const still = (values: Values): Surface => surface({ ...values, angle: 0 });

/**
 * The section along a diameter.
 *
 * @param values  angle, degrees counter-clockwise from the mark; rim mm; h0 ... h16 and u0 ... u16 nm from the middle to the rim;
 *                amplitude, its doubt `round` and its least nm; axis degrees
 * @example a round bowl that is 20 nm high at the rim: alike whichever way it is cut
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(sectionAt({ ...sectionByFinger.start, amplitude: 0 }).pv, sectionAt({ ...sectionByFinger.start, amplitude: 0, angle: 90 }).pv);
 * ```
 */
export function sectionAt(values: Values): Section {
  const { rim, at } = still(values), angle = valueOf(values, "angle") * DEGREE;
  const places = Array.from({ length: PLACES }, (_, k): Place => {
    const share = (2 * k) / (PLACES - 1) - 1;
    const [height, u] = at(Math.abs(share), share < 0 ? angle + Math.PI : angle);
    return { at: share * rim, height, u };
  });
  const pick = (is: (a: Place, b: Place) => boolean): Place =>
    places.reduce((best, place) => is(place, best) ? place : best);
  const highest = pick((a, b) => a.height > b.height), lowest = pick((a, b) => a.height < b.height);
  return { places, highest, lowest, pv: highest.height - lowest.height };
}

const sectionNow = once(sectionAt);

function where({ at }: Place): string {
  const far = fixed(Math.abs(at));
  return far === "0"
    ? "in the middle"
    : `${far} mm from the middle, on the ${at < 0 ? "tail" : "arrow"}’s side`;
}

function said({ highest, lowest }: Section): string {
  return `highest ${signed(highest.height, 0)} nm ${where(highest)}; lowest ${
    signed(lowest.height, 0)
  } nm ${where(lowest)}`;
}

function picture(values: Values): Html {
  const { markup, rim, step } = still(values), section = sectionNow(values);
  const angle = valueOf(values, "angle") * DEGREE;
  const end = (share: number): Point => [
    centre[0] - share * radius * Math.sin(angle),
    centre[1] - share * radius * Math.cos(angle),
  ];
  const most = Math.max(...section.places.map(({ height, u }) => Math.abs(height) + WIDE * u), 10);
  const x = scale(-rim, rim, 44, 330), y = scale(-most, most, 466, 330);
  const edge = (side: number): Point[] =>
    section.places.map(({ at, height, u }): Point => [x(at), y(height + side * WIDE * u)]);
  return safe`<div data-dial="angle" data-middle="${
    centre.join(" ")
  }" style="touch-action:none;cursor:grab">${
    drawing({
      width: 340,
      height: 506,
      finding: `The glass from above with a line every ${fixed(step)} nm, and its section at ${
        fixed(valueOf(values, "angle"))
      } degrees from the mark: ${said(section)}.`,
      contents: group(
        markup,
        stroke("mine", end(-1), end(1), "stroke-width:2"),
        dot("mine", end(1), 8),
        words([0, 314], "Height along the line (nm)"),
        levels(ticks(-most, most, 4), y, (height) => signed(height, 0), [44, 330]),
        path(
          "band",
          through([...edge(1), ...edge(-1).reverse()], true),
          "fill:var(--glass);fill-opacity:.18;stroke:none",
        ),
        path(
          "polished",
          through(section.places.map(({ at, height }): Point => [x(at), y(height)])),
        ),
        dot("mine", [330, 478], 5),
        words([44, 484], `−${fixed(rim)} mm`, { kind: "soft" }),
        words([x(0), 484], "middle", { kind: "soft", anchor: "middle" }),
        words([320, 484], `+${fixed(rim)} mm`, { kind: "soft", anchor: "end" }),
      ),
    })
  }</div>`;
}

function reading(values: Values): Html {
  const section = sectionNow(values), { u } = section.highest;
  return safe`Along <output>${
    fixed(valueOf(values, "angle"))
  }°</output> from the mark: <big><output>${
    fixed(section.pv)
  } nm</output></big> from peak to valley; ${said(section)}. At its highest it is known to ± ${
    fixed(u)
  } nm, standard uncertainty; the band is two of them to each side.`;
}

const controls: readonly Control[] = [
  {
    ...{ key: "angle", label: "Turn the line", min: 0, max: 355, step: 5, digits: 0 },
    ...{ unit: "°", spoken: "degrees from the mark" },
  },
];

/** What the figure shows before a record comes: a rim that is low, and two sides that are high. */
const start: Values = {
  angle: 0,
  rim: 74,
  amplitude: 25,
  axis: 30,
  round: 8,
  least: 9,
  ...Object.fromEntries(Array.from({ length: SECTION_RADII }, (_, k) => {
    const q = (k / (SECTION_RADII - 1)) ** 2;
    return [`h${k}`, 60 * q * (1 - q) - 10];
  })),
  ...Object.fromEntries(Array.from({ length: SECTION_RADII }, (_, k) => [`u${k}`, 6])),
};

/** The figure: a line over the glass to turn, by a finger on the glass or by the slider. */
export const sectionByFinger: LiveFigure = {
  name: "section-by-finger",
  controls,
  start,
  picture,
  reading,
  value: (values) => sectionNow(values).pv,
  caption:
    safe`The glass seen from the tester, the mark at the top; angles run counter-clockwise. <b>The dot on the glass and the dot under the curve are the same end.</b> Dashed: the likeliest high diameter. Put a finger on the glass, and turn.`,
};
