/** Live: readings drawn from a distribution, their mean, and what is known of it as their number grows. */
import { random, type RandomSource } from "../../numeric/random.ts";
import { coverageFactor } from "../../quantity/coverage.ts";
import { typeA } from "../../quantity/typeB.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, rect, stroke, through, words } from "../pen.ts";
import { fixed, scale } from "../scale.ts";
import { type Control, levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";

/** What the readings are of, mm: nobody at the bench knows it. */
export const truth = 1200;
const most = 100;

/** Distributions of mean 0 and standard deviation 1, by the slider's place. */
const shapes: readonly ((draw: RandomSource) => number)[] = [
  (draw) => draw.normal(),
  (draw) => Math.sqrt(12) * (draw.uniform() - 0.5),
  (draw) => -Math.log(1 - draw.uniform()) - 1,
];

/** What the first readings know. */
export interface Drawn {
  readonly readings: readonly number[];
  readonly mean: number;
  /** spread of one reading, mm; it tends to the width of the distribution */
  readonly s: number;
  /** standard uncertainty of the mean, mm */
  readonly u: number;
  /** half of the 95 % interval, mm */
  readonly half: number;
  /** whether that interval holds the truth */
  readonly holds: boolean;
}

/** All the readings that the slider can reach; the first of them are the same whatever their number. */
const series = once((values) => {
  const draw = random(500 + Math.round(valueOf(values, "draw")));
  const one = shapes[Math.round(valueOf(values, "shape"))] ?? shapes[0];
  const width = valueOf(values, "width"), off = valueOf(values, "off");
  return Array.from({ length: most }, () => truth + off + width * (one?.(draw) ?? 0));
});

/**
 * The first readings of a series, and what they know of what is measured.
 *
 * @param values  count; width mm, standard deviation of the distribution; shape 0 bell, 1 even, 2 lopsided; off mm, the same in every
 *   reading; draw, a whole number: which series
 * @example four times as many readings, half the uncertainty or so
 * ```ts
 * import assert from "node:assert/strict";
 * const bag = { width: 4, shape: 0, off: 0, draw: 1 };
 * const few = drawsNow({ ...bag, count: 10 }), many = drawsNow({ ...bag, count: 40 });
 * assert.ok(many.u < 0.7 * few.u && few.holds && many.holds);
 * ```
 */
export function drawsNow(values: Values): Drawn {
  const { count: _, ...bag } = values;
  return known(series(bag).slice(0, Math.round(valueOf(values, "count"))));
}

function known(readings: readonly number[]): Drawn {
  const { mean, s, u, dof } = typeA(readings), half = coverageFactor(0.95, dof) * u;
  return { readings, mean, s, u, half, holds: Math.abs(mean - truth) <= half };
}

const now = once(drawsNow);

/** What each number of readings knows, from two on. */
const growth = once((bag) =>
  Array.from({ length: most - 1 }, (_, i) => ({
    n: i + 2,
    ...known(series(bag).slice(0, i + 2)),
  }))
);

const reach = 20, x = scale(truth - reach, truth + reach, 8, 344);
const within = (mm: number): number => Math.min(truth + reach, Math.max(truth - reach, mm));

/** A bar for each millimetre, as tall as the tallest wants. */
function histogram({ readings, mean, half }: Drawn): Html {
  const counts = new Map<number, number>();
  for (const one of readings) {
    const at = Math.round(within(one));
    counts.set(at, (counts.get(at) ?? 0) + 1);
  }
  const tall = Math.min(14, 84 / Math.max(...counts.values())), foot = 112, bar = foot + 12;
  return group(
    words([0, 13], "How often each place was read"),
    [...counts].map(([mm, n]) =>
      rect(
        "body",
        [x(mm - 0.42), foot - n * tall],
        0.84 * (x(1) - x(0)),
        n * tall,
        "fill:var(--glass);opacity:.55",
      )
    ),
    stroke("axis", [8, foot], [344, foot]),
    stroke("limit", [x(truth), 20], [x(truth), foot + 20]),
    stroke("mine", [x(within(mean - half)), bar], [x(within(mean + half)), bar], "stroke-width:2"),
    dot("mine", [x(within(mean)), bar], 4),
    [-20, -10, 0, 10, 20].map((mm) =>
      words([x(truth + mm), foot + 36], fixed(truth + mm), {
        kind: "soft",
        anchor: mm === -20 ? "start" : mm === 20 ? "end" : "middle",
      })
    ),
    words([344, foot + 53], "Reading (mm)", { anchor: "end" }),
  );
}

const number = scale(0, most, 44, 344), off = scale(-10, 10, 300, 196);
const held = (mm: number): number => Math.min(10, Math.max(-10, mm - truth));

function meanPlot(values: Values, { readings, mean }: Drawn): Html {
  const { count: _, ...bag } = values, grown = growth(bag);
  const edge = (side: number): Point[] =>
    grown.map(({ n, mean, half }) => [number(n), off(held(mean + side * half))]);
  return group(
    words([0, 186], "The mean and its 95 % (mm off the truth)"),
    path("zone-b", through([...edge(1), ...edge(-1).reverse()], true)),
    levels([-10, -5, 0, 5, 10], off, fixed, [44, 344]),
    stroke("limit", [44, off(0)], [344, off(0)]),
    path("polished", through(grown.map(({ n, mean }) => [number(n), off(held(mean))]))),
    stroke("lead", [number(readings.length), 196], [number(readings.length), 300]),
    dot("mine", [number(readings.length), off(held(mean))], 4.5),
    [0, 25, 50, 75, 100].map((n) =>
      words([number(n), 318], fixed(n), { kind: "soft", anchor: n === 100 ? "end" : "middle" })
    ),
    words([344, 335], "Number of readings", { anchor: "end" }),
  );
}

function picture(values: Values): Html {
  const drawn = now(values), { readings, mean, half, holds } = drawn;
  return drawing({
    width: 352,
    height: 338,
    finding:
      `${readings.length} readings as a histogram, and their mean against their number. Mean ${
        fixed(mean, 1)
      } millimetres, 95 percent within ${fixed(half, 1)} of it; the truth, ${truth}, lies ${
        holds ? "inside" : "outside"
      }.`,
    contents: group(histogram(drawn), meanPlot(values, drawn)),
  });
}

function reading(values: Values): Html {
  const { readings, mean, s, u, half, holds } = now(values), digits = u < 0.1 ? 2 : 1;
  const off = valueOf(values, "off");
  const why = holds
    ? "it holds the truth"
    : off !== 0
    ? "the truth is not in it: what is the same each time does not show in the spread"
    : "the truth is not in it: that happens once in twenty";
  return safe`u of the mean <big><output>${
    fixed(u, digits)
  } mm</output></big> Mean of ${readings.length}: <output>${
    fixed(mean, digits)
  } mm</output>. One reading spreads by ${fixed(s, 1)} mm, however many there are. At 95 % from ${
    fixed(mean - half, 1)
  } to ${fixed(mean + half, 1)}: <output>${why}</output>.`;
}

const controls: readonly Control[] = [
  {
    ...{ key: "count", label: "Readings", min: 2, max: most, step: 1, digits: 0 },
    ...{ unit: "readings", spoken: "readings" },
  },
  {
    ...{ key: "width", label: "Spread of one reading", min: 1, max: 8, step: 0.5, digits: 1 },
    ...{ unit: "mm", spoken: "millimetres" },
  },
  {
    ...{ key: "shape", label: "The distribution", min: 0, max: 2, step: 1, digits: 0 },
    ...{ unit: "", spoken: "", choices: ["a bell", "even", "lopsided"] },
  },
  {
    ...{ key: "off", label: "Off by the same each time", min: -5, max: 5, step: 0.5, digits: 1 },
    ...{ unit: "mm", spoken: "millimetres" },
  },
  {
    ...{ key: "draw", label: "Other readings", min: 1, max: 9, step: 1, digits: 0 },
    ...{ unit: "of nine", spoken: "of nine" },
  },
];

/** The figure: how many readings, how wide they spread, and what all of them share. */
export const drawsAndMean: LiveFigure = {
  name: "draws-and-mean",
  controls,
  start: { count: 6, width: 4, shape: 0, off: 0, draw: 2 },
  picture,
  reading,
  value: (values) => now(values).u,
  caption:
    safe`<b>The dot</b> is the mean, its bar and the tinted band the 95 % interval, the broken line the truth, which no bench ever sees. Readings drawn at random.`,
};
