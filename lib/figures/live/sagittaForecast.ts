/** Live: when a growing depth meets its target, from a noisy log, and how the first minutes spoil it. */
import { random } from "../../numeric/random.ts";
import { ahead, curveLog } from "../../shaping/grinding/curveLog.ts";
import { fitColumns } from "../../shaping/grinding/depthColumns.ts";
import { meet } from "../../shaping/grinding/forecast.ts";
import type { DepthReading } from "../../shaping/grinding/grindingLog.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { fixed, scale } from "../scale.ts";
import { levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";

/** An invented bench, mm and minutes: a steady rate after a fast start that dies away. */
const rate = 0.00903, fastGain = 0.04, fastTime = 6;
/** An eager beginner: every two minutes at first, then every ten. */
const minuteOf = (i: number): number => i < 5 ? 2 * (i + 1) : 10 * (i - 3);
const trueDepth = (t: number): number => rate * t + fastGain * (1 - Math.exp(-t / fastTime));

/** What the log foretells. */
export interface Foretold {
  readonly readings: readonly DepthReading[];
  /** best guess of the minute, from the beginning of the work */
  readonly stop: number;
  /** 95 %, minutes from the beginning; absent where it has no end yet */
  readonly interval?: readonly [number, number];
  /** when this bench really gets there */
  readonly truth: number;
  /** the line drawn: depth now, mm, and its rise, mm/min, at the last reading */
  readonly depth: number;
  readonly rise: number;
}

/** The first readings of the log; the same sliders give the same log. */
function logOf(values: Values): DepthReading[] {
  const draw = random(40 + Math.round(valueOf(values, "log"))),
    u = valueOf(values, "scatter") / 1000;
  const count = Math.round(valueOf(values, "readings"));
  return Array.from({ length: count }, (_, i) => {
    const afterMin = minuteOf(i);
    return {
      ...{ afterMin, sagitta: trueDepth(afterMin) + u * draw.normal(), u },
      ...{ file: "sagitta.csv", line: i + 2 },
    };
  });
}

/** A straight line through every reading, the fast first ones too: what a ruler on paper would give. */
function throughAll(
  readings: readonly DepthReading[],
  target: number,
): Omit<Foretold, "readings" | "truth"> {
  const clocked = readings.map((one) => ({
    ...one,
    clocks: { top: one.afterMin, bottom: 0, drift: one.afterMin ** 2 / 2 },
  }));
  const fit = fitColumns(clocked, false), last = clocked.at(-1);
  if (fit === undefined || last === undefined) {
    throw new RangeError(
      `sagitta-forecast requires three readings or more, got ${readings.length}`,
    );
  }
  const [start, rise] = fit.coefficients, depth = start + rise * last.afterMin;
  const met = meet(ahead(fit, last.clocks, "mirror on top", 1), target, fit.dof);
  return {
    ...{ depth, rise, stop: last.afterMin + (target - depth) / rise },
    ...(met && {
      interval: [last.afterMin + met.interval95[0], last.afterMin + met.interval95[1]] as const,
    }),
  };
}

/** The kit's own forecast, which leaves the first twelve minutes out. */
function byTheKit(
  readings: readonly DepthReading[],
  target: number,
): Omit<Foretold, "readings" | "truth"> {
  const now = readings.at(-1)?.afterMin ?? 0;
  const log = curveLog({
    intervals: [{
      ...{ minutes: now, position: "mirror on top", abrasive: "F80" },
      ...{ file: "grinding.csv", line: 2 },
    }],
    ...{ readings, target },
  });
  const depth = log.sagittaNow?.value ?? NaN, rise = (log.rates.mirrorOnTop?.value ?? NaN) / 1000;
  const met = log.toTarget;
  return {
    ...{ depth, rise, stop: now + (met?.minutes.value ?? (target - depth) / rise) },
    ...(met && { interval: [now + met.interval95[0], now + met.interval95[1]] as const }),
  };
}

/**
 * Forecasts the stopping minute from the first readings of an invented log.
 *
 * @param values  target in mm, readings used, scatter of one reading in um, early (1: the first minutes count too),
 *   log: which of the invented logs
 * @example with the first minutes in, the forecast is early, and sure of itself
 * ```ts
 * import assert from "node:assert/strict";
 * const few = { target: 1.168, readings: 10, scatter: 3, log: 1 };
 * const honest = foretell({ ...few, early: 0 }), spoilt = foretell({ ...few, early: 1 });
 * assert.ok(honest.interval !== undefined && spoilt.interval !== undefined);
 * assert.ok(honest.interval[0] < honest.truth && honest.truth < honest.interval[1]);
 * assert.ok(spoilt.interval[1] < spoilt.truth);
 * ```
 */
export function foretell(values: Values): Foretold {
  const target = valueOf(values, "target"), readings = logOf(values);
  const early = Math.round(valueOf(values, "early")) === 1;
  const told = early ? throughAll(readings, target) : byTheKit(readings, target);
  // long after the fast start only the steady rate is left
  return { readings, truth: (target - fastGain) / rate, ...told };
}

const told = once(foretell);

const end = 160, x = scale(0, end, 44, 340), y = scale(0, 1.35, 186, 22);
const inside = (t: number): number => x(Math.min(end, Math.max(0, t)));

function frame(target: number, truth: number): Html {
  return group(
    levels([0, 0.5, 1], y, (s) => fixed(s, 1)),
    [0, 50, 100, 150].map((t) =>
      group(
        stroke("axis", [x(t), 190], [x(t), 195]),
        words([x(t), 208], fixed(t), { kind: "soft", anchor: "middle" }),
      )
    ),
    stroke("axis", [44, 190], [340, 190]),
    stroke("limit", [44, y(target)], [340, y(target)]),
    words([50, y(target) - 6], `target ${fixed(target, 3)}`, { kind: "t-rouge" }),
    stroke("dim", [inside(truth), y(target) - 10], [inside(truth), y(target) + 10]),
    words([0, 13], "Sagitta (mm)"),
    words([340, 224], "Minutes of grinding", { anchor: "end" }),
  );
}

function picture(values: Values): Html {
  const { readings, stop, interval, truth, depth, rise } = told(values);
  const target = valueOf(values, "target"), early = Math.round(valueOf(values, "early")) === 1;
  const now = readings.at(-1)?.afterMin ?? 0,
    at = (t: number): Point => [x(t), y(depth + rise * (t - now))];
  const from = early ? 0 : 12, to = Math.min(end, Math.max(now, stop)), bar = y(target) + 16;
  return drawing({
    width: 352,
    height: 228,
    finding: `Depths against minutes, a line through them and a target of ${
      fixed(target, 3)
    } millimetres. The line meets it at minute ${
      fixed(stop, 1)
    }; this bench really does at minute ${fixed(truth, 1)}.`,
    contents: group(
      frame(target, truth),
      path("polished", through([at(from), at(now)])),
      path("ground", through([at(now), at(to)]), "stroke-width:2"),
      interval &&
        group(
          stroke("mine", [inside(interval[0]), bar], [inside(interval[1]), bar], "stroke-width:2"),
          [0, 1].map((i) => {
            const place = inside(interval[i as 0 | 1]);
            return stroke("mine", [place, bar - 5], [place, bar + 5], "stroke-width:2");
          }),
        ),
      readings.map(({ afterMin, sagitta }) =>
        dot(early || afterMin >= 12 ? "mine" : "theirs", [x(afterMin), y(sagitta)], 3)
      ),
      dot("mine", [inside(stop), bar], 3.5),
    ),
  });
}

function reading(values: Values): Html {
  const { stop, interval, truth } = told(values);
  const lies = interval !== undefined && (truth < interval[0] || truth > interval[1]);
  const half = interval && (interval[1] - interval[0]) / 2;
  const sure = interval === undefined
    ? safe`no interval yet: too few readings for their scatter`
    : safe`from ${fixed(interval[0], 1)} to ${fixed(interval[1], 1)}, ± ${
      fixed(half ?? 0, 1)
    } min at 95 %`;
  return safe`Stop at minute <big><output>${
    fixed(stop, 1)
  }</output></big> ${sure}. This bench gets there at minute ${fixed(truth, 1)}: <output>${
    interval === undefined ? "wait" : lies ? "the interval lies" : "the interval holds"
  }</output>.`;
}

/** The figure: target, readings used, their scatter, and whether the first minutes count. */
export const sagittaForecast: LiveFigure = {
  name: "sagitta-forecast",
  controls: [
    {
      ...{ key: "readings", label: "Readings used", min: 9, max: 16, step: 1, digits: 0 },
      ...{ unit: "of 16", spoken: "of 16" },
    },
    {
      ...{ key: "early", label: "First 12 minutes", min: 0, max: 1, step: 1, digits: 0 },
      ...{ unit: "", spoken: "", choices: ["left out", "counted too"] },
    },
    {
      ...{ key: "target", label: "Target", min: 1, max: 1.25, step: 0.002, digits: 3 },
      ...{ unit: "mm", spoken: "millimetres" },
    },
    {
      ...{ key: "scatter", label: "Scatter of a reading", min: 1, max: 8, step: 0.5, digits: 1 },
      ...{ unit: "µm", spoken: "micrometres" },
    },
    {
      ...{ key: "log", label: "Another log", min: 1, max: 9, step: 1, digits: 0 },
      ...{ unit: "of nine", spoken: "of nine" },
    },
  ],
  start: { readings: 10, early: 0, target: 1.168, scatter: 3, log: 1 },
  picture,
  reading,
  value: (values) => told(values).stop,
  caption:
    safe`<b>Filled</b> dots count, open ones do not; the bar is the 95 % interval, the upright stroke on the target the truth. Invented logs of one bench, which grinds 9.03 µm a minute after a fast start; its beginner measured every two minutes at first.`,
};
