/** Live: two discs rubbed on one another; which one gets hollow, and what missed turns and uneven strokes do to it. */
import { fittedSagitta, meanRemoval, removalMap } from "../../shaping/grinding/discShape.ts";
import { ringRadius } from "../../shaping/grinding/polarGrid.ts";
import { chordRoutine, playRoutine, type Routine } from "../../shaping/grinding/routine.ts";
import { WearBench, type Worn } from "../../shaping/grinding/wear.ts";
import { overhangSquared, sphereLimit, wearSettings } from "../../shaping/grinding/wearLaws.ts";
import type { DiscShape } from "../../shaping/grinding/wornDisc.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { fixed, signed } from "../scale.ts";
import { type Control, type LiveFigure, once, valueOf, type Values } from "./figure.ts";
import { type Paint, type Pixels, pixels, sideBySide } from "./pixels.ts";

/** One set is two minutes of strokes, forty a minute: coarser than a hand's, fine enough for a slider. */
const minutesPerSet = 2, strokesPerSet = 80, most = 30;
const detail = { rings: 8, angles: 24, places: 3 } as const;

/** How the mirror stands after some minutes. */
export interface Ground {
  readonly worn: Worn;
  /** the mirror's own disc, of the two */
  readonly side: "upper" | "lower";
  readonly minutes: number;
  /** change of the sagitta of the best sphere, um/min; + is more hollow */
  readonly rate: number;
  /** mean glass taken off the mirror, um */
  readonly removal: number;
  /** of two curves at right angles, RMS over the disc, um */
  readonly astigmatism: number;
  /** mean squared overhang over the greatest at which discs stay spheres */
  readonly ofLimit: number;
}

/**
 * Wears two flat discs through the strokes that the sliders ask for; slips are drawn from one seed.
 *
 * @param values  minutes, offset and stroke in mm, missed and unequal in %, below (1: the mirror lies below), aperture
 * @throws {RangeError} for an overhang at which the upper disc tips
 * @example an hour of the usual strokes, mirror on top
 * ```ts
 * import assert from "node:assert/strict";
 * const usual = { aperture: 150, minutes: 60, offset: 37.5, stroke: 50, missed: 0, unequal: 0 };
 * assert.equal(ground({ ...usual, below: 0 }).rate.toFixed(0), "10");
 * assert.ok(ground({ ...usual, below: 1 }).rate < -8);
 * ```
 */
export function ground(values: Values): Ground {
  const aperture = valueOf(values, "aperture");
  const sets = Math.min(most, Math.max(1, Math.round(valueOf(values, "minutes") / minutesPerSet)));
  const routine: Routine = {
    ...chordRoutine(aperture),
    offset: valueOf(values, "offset"),
    travel: valueOf(values, "stroke"),
    strokes: strokesPerSet,
    missedTurns: valueOf(values, "missed") / 100,
    strokeScatter: valueOf(values, "unequal") / 100,
  };
  const worn = play(aperture, routine, sets), minutes = sets * minutesPerSet;
  const side = Math.round(valueOf(values, "below")) === 1 ? "lower" : "upper";
  const disc = worn[side];
  return {
    ...{ worn, side, minutes },
    rate: 1000 * fittedSagitta(disc) / minutes,
    removal: 1000 * meanRemoval(disc),
    astigmatism: astigmatismOf(disc),
    ofLimit: overhangSquared(routine) / sphereLimit(aperture),
  };
}

const groundNow = once(ground);

/**
 * Astigmatism as `departures` names it, um, in a hundredth of its time: on whole rings no other term of its fit has two
 * waves round the disc, so each coefficient is a weighted mean by itself.
 */
function astigmatismOf({ grid, rest }: DiscShape): number {
  let along = 0, across = 0, size = 0;
  for (let at = 0; at < rest.length; at++) {
    const ring = Math.floor(at / grid.angles), turn = 4 * Math.PI * at / grid.angles;
    const rho = ringRadius(grid, ring) / grid.radius, weight = (2 * ring + 1) * rho * rho;
    along += weight * (rest[at] ?? 0) * Math.cos(turn);
    across += weight * (rest[at] ?? 0) * Math.sin(turn);
    size += weight * rho * rho / 2;
  }
  return 1000 * Math.hypot(along, across) / size / Math.sqrt(6);
}

/** The work as far as it was played last: the slider of minutes looks things up, or goes on from there. */
let bench: WearBench | undefined, benchKey = "", course: Worn[] = [];

function play(aperture: number, routine: Routine, sets: number): Worn {
  const key = JSON.stringify([aperture, routine]);
  if (bench === undefined || key !== benchKey) {
    [bench, benchKey] = [new WearBench(wearSettings(aperture), detail), key];
    course = [bench.worn];
  }
  for (const set of playRoutine(routine, sets).slice(course.length - 1)) {
    bench.grind(set);
    course.push(bench.worn);
  }
  return course[sets] as Worn;
}

const middle: Point = [112, 104], px = 0.84;

/** Both discs from above, each with its mark; the upper one stands at an end of its stroke. */
function plan(values: Values, { worn, side, minutes }: Ground): Html {
  const a = valueOf(values, "aperture") / 2, end = (minutes / minutesPerSet) % 2 === 0 ? 1 : -1;
  const over: Point = [
    middle[0] + px * end * valueOf(values, "stroke") / 2,
    middle[1] - px * valueOf(values, "offset"),
  ];
  const mark = ([x, y]: Point, angle: number, kind: string): Html =>
    stroke(
      kind,
      [x, y],
      [x + px * a * Math.cos(angle), y - px * a * Math.sin(angle)],
      "stroke-width:2",
    );
  const name = (disc: string): string => disc === side ? "mirror" : "tool";
  return group(
    dot("theirs", middle, px * a, "fill:var(--tint)"),
    mark(middle, worn.lower.turned, "axis"),
    dot("rim", over, px * a, "fill:var(--glass-tint);fill-opacity:.7"),
    mark(over, worn.upper.turned, "polished"),
    words([middle[0], middle[1] + px * a + 16], `below: ${name("lower")}`, { anchor: "middle" }),
    words([over[0], over[1] - px * a - 5], `on top: ${name("upper")}`, {
      kind: "t-glass",
      anchor: "middle",
    }),
  );
}

/** Mean height of the mirror's rings, fifty times as high as wide. */
function section(values: Values, { worn, side }: Ground): Html {
  const { grid, rest, curve } = worn[side], aperture = valueOf(values, "aperture");
  const k = 112 / aperture, high = 50 * k, ground = 84;
  const heights = Array.from({ length: grid.rings }, (_, ring) => {
    const row = rest.subarray(ring * grid.angles, (ring + 1) * grid.angles);
    const r = (ring + 0.5) * grid.radius / grid.rings;
    return [r, row.reduce((sum, h) => sum + h, 0) / grid.angles + curve * r * r] as const;
  });
  const both: Point[] = [
    ...heights.toReversed().map(([r, h]): Point => [286 - k * r, ground - high * h]),
    ...heights.map(([r, h]): Point => [286 + k * r, ground - high * h]),
  ];
  return group(
    words([286, 22], "the mirror, cut", { anchor: "middle" }),
    words([286, 38], "depth × 50", { kind: "soft", anchor: "middle" }),
    stroke("lead", [230, ground], [342, ground]),
    path("ground", through(both)),
    words([230, ground - 6], "flat", { kind: "soft" }),
  );
}

/** One map of the mirror by the angle from its own mark, straight between the nodes. */
function map(
  node: Float64Array,
  rings: number,
  angles: number,
  grey: (v: number) => number,
): Pixels {
  return pixels(71, (x, y) => {
    const r = Math.sqrt(x * x + y * y);
    if (r >= 1) return NaN;
    const across = Math.min(rings - 1, Math.max(0, r * rings - 0.5));
    const around = (Math.atan2(-y, x) / (2 * Math.PI) + 1) * angles;
    const ring = Math.min(rings - 2, Math.floor(across)), turn = Math.floor(around);
    const s = across - ring, t = around - turn;
    const at = (out: number, on: number): number =>
      node[(ring + out) * angles + (turn + on) % angles] ?? NaN;
    return grey(
      (1 - s) * ((1 - t) * at(0, 0) + t * at(0, 1)) + s * ((1 - t) * at(1, 0) + t * at(1, 1)),
    );
  });
}

function maps(ground: Ground, paint: Paint): Html {
  const disc = ground.worn[ground.side], { rings, angles } = disc.grid;
  const removal = Float64Array.from(removalMap(disc), (node) => node.removal * 1000);
  // removalMap tells the angle from the mark: put each node where the mark points to the right
  const steps = Math.round(disc.turned * angles / (2 * Math.PI));
  const fromMark = removal.map((_, at) => {
    const ring = Math.floor(at / angles), turn = (((at + steps) % angles) + angles) % angles;
    return removal[ring * angles + turn] ?? NaN;
  });
  const mean = Array.from(
    { length: rings },
    (_, ring) =>
      fromMark.subarray(ring * angles, (ring + 1) * angles).reduce((sum, v) => sum + v, 0) / angles,
  );
  const lopsided = fromMark.map((v, at) => v - (mean[Math.floor(at / angles)] ?? 0));
  return sideBySide([
    [
      "glass gone, black 1 mm",
      paint(map(fromMark, rings, angles, (v) => 1 - v / 1000), {
        shown: 142,
        rim: true,
        finding: `Glass taken off the mirror, ${fixed(ground.removal)} micrometres in the mean.`,
      }),
    ],
    [
      "off its ring, ±60 µm",
      paint(map(lopsided, rings, angles, (v) => 0.5 - v / 120), {
        shown: 142,
        rim: true,
        finding: `Departure of each place from the mean of its ring; astigmatism ${
          fixed(ground.astigmatism, 1)
        } micrometres.`,
      }),
    ],
  ]);
}

function picture(values: Values, paint: Paint): Html {
  const now = groundNow(values), hollow = now.rate > 0 ? "hollow" : "a hill";
  const sheet = drawing({
    width: 352,
    height: 196,
    finding: `Two discs from above, one over the other, and the mirror cut through. After ${
      fixed(now.minutes)
    } minutes the mirror has become ${hollow}, ${signed(now.rate, 1)} micrometres a minute.`,
    contents: group(plan(values, now), section(values, now)),
  });
  return safe`${sheet}${maps(now, paint)}`;
}

function reading(values: Values): Html {
  const { rate, removal, astigmatism, ofLimit, minutes } = groundNow(values);
  const limit = ofLimit > 1 ? "past it the discs leave the sphere" : "within it they stay spheres";
  return safe`Sagitta of the mirror <big><output>${signed(rate, 1)} µm/min</output></big> over ${
    fixed(minutes)
  } min; <output>${fixed(removal)} µm</output> of glass gone. Astigmatism <output>${
    fixed(astigmatism, 1)
  } µm</output>. Overhang at ${fixed(100 * ofLimit)} % of the limit: ${limit}.`;
}

const mm = { unit: "mm", spoken: "millimetres", digits: 0 } as const;
const percent = { unit: "%", spoken: "percent", digits: 0, min: 0, step: 5 } as const;
const controls: readonly Control[] = [
  {
    ...{ key: "minutes", label: "Minutes of grinding", min: 2, max: 60, step: 2, digits: 0 },
    ...{ unit: "min", spoken: "minutes" },
  },
  {
    ...{ key: "below", label: "The mirror lies", min: 0, max: 1, step: 1, digits: 0 },
    ...{ unit: "", spoken: "", choices: ["on top", "below"] },
  },
  {
    key: "offset",
    label: "Stroke beside the centre",
    min: 0,
    max: 50,
    step: 0.5,
    ...mm,
    digits: 1,
  },
  { key: "stroke", label: "Length of the stroke", min: 20, max: 90, step: 1, ...mm },
  { key: "missed", label: "Turns forgotten", max: 100, ...percent },
  { key: "unequal", label: "Strokes unequal by up to", max: 60, ...percent },
];

/** The figure: time, place and length of the strokes, and the hand's slips to slide. */
export const strokesAndTurns: LiveFigure = {
  name: "strokes-and-turns",
  controls,
  start: {
    ...{ minutes: 30, below: 0, offset: 37.5, stroke: 50, missed: 0, unequal: 0 },
    aperture: 150,
  },
  picture,
  reading,
  value: (values) => groundNow(values).rate,
  caption:
    safe`Reckoned on a coarse grid, 80 strokes to a set, from two flat discs; how fast it goes is an assumption that your own log sets right. The strokes on the discs are their <b>marks</b>: watch them turn as you slide the minutes.`,
};
