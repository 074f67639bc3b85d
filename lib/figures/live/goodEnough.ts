/** Live: how a result and its uncertainty together decide, and how fast that turns at the goal. */
import { normalCdf } from "../../numeric/quantiles.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { fixed, type Scale, scale, ticks } from "../scale.ts";
import { type LiveFigure, valueOf, type Values } from "./figure.ts";

/**
 * The probability that the goal is met, and what it lets one say.
 *
 * The wavefront's peak to valley is taken as normal with a known u: a picture of the rule, not the verdict of a record,
 * which throws the readings themselves.
 *
 * @param values  pv, u and goal in waves
 * @example the second of three dates: not shown
 * ```ts
 * import assert from "node:assert/strict";
 * const { probability, verdict } = chanceOf({ pv: 0.237, u: 0.016, goal: 0.25 });
 * assert.equal(verdict, "not shown");
 * assert.equal(probability.toFixed(2), "0.79");
 * ```
 */
export function chanceOf(
  values: Values,
): { probability: number; verdict: "yes" | "no" | "not shown" } {
  const pv = valueOf(values, "pv"), u = valueOf(values, "u"), goal = valueOf(values, "goal");
  const probability = normalCdf((goal - pv) / u);
  // COMMON PRACTICE: 0.95 and 0.05, the rule of the whole course.
  const verdict = probability >= 0.95 ? "yes" : probability <= 0.05 ? "no" : "not shown";
  return { probability, verdict };
}

const foot = 176, left = 10, right = 340;

/** The bell of a result between two values, as tall as its narrowness asks but never over the top. */
function bell(values: Values, from: number, to: number, at: Scale): Point[] {
  const pv = valueOf(values, "pv"),
    u = valueOf(values, "u"),
    tall = Math.min(118, 118 * Math.sqrt(0.008 / u));
  return Array.from({ length: 61 }, (_, i) => {
    const x = from + (to - from) * i / 60, z = (x - pv) / u;
    return [at(x), foot - tall * Math.exp(-z * z / 2)];
  });
}

function picture(values: Values): Html {
  const pv = valueOf(values, "pv"), u = valueOf(values, "u"), goal = valueOf(values, "goal");
  const { probability, verdict } = chanceOf(values), at = scale(0, 0.5, left, right);
  const low = Math.max(0, pv - 3.5 * u), high = Math.min(0.5, pv + 3.5 * u);
  const met = bell(values, Math.min(low, goal), Math.min(goal, high), at);
  const bar = [Math.max(0, pv - 1.96 * u), Math.min(0.5, pv + 1.96 * u)].map(at);
  const [first = 0, last = 0] = bar, flip = goal > 0.3;
  return drawing({
    width: 352,
    height: 222,
    finding: `A result of ${fixed(pv, 3)} wave with a standard uncertainty of ${
      fixed(u, 3)
    }, beside a goal of ${fixed(goal, 2)}: the probability that the goal is met is ${
      fixed(probability, 2)
    }, ${verdict}.`,
    contents: group(
      path(
        "zone-b",
        through([[met[0]?.[0] ?? left, foot], ...met, [met.at(-1)?.[0] ?? left, foot]], true),
      ),
      path("polished", through(bell(values, low, high, at))),
      stroke("limit", [at(goal), 22], [at(goal), foot]),
      words([at(goal), 15], `goal ${fixed(goal, 2)}`, {
        kind: "t-rouge",
        anchor: flip ? "end" : "middle",
      }),
      stroke("mine", [first, foot - 8], [last, foot - 8], "stroke-width:2"),
      dot("mine", [at(pv), foot - 8], 4),
      stroke("axis", [left, foot], [right, foot]),
      ticks(0, 0.5, 5).map((tick) =>
        group(
          stroke("axis", [at(tick), foot], [at(tick), foot + 5]),
          words([at(tick), foot + 20], fixed(tick, 1), { kind: "soft", anchor: "middle" }),
        )
      ),
      words([right, 217], "Wavefront, peak to valley (wave)", { anchor: "end" }),
    ),
  });
}

/** A probability as it is printed: never 0 or 1, which no reading can show. */
function printedChance(probability: number): string {
  return probability > 0.995
    ? "above 0.99"
    : probability < 0.005
    ? "below 0.01"
    : fixed(probability, 2);
}

function reading(values: Values): Html {
  const { probability, verdict } = chanceOf(values);
  return safe`Probability that the goal is met <big><output>${
    printedChance(probability)
  }</output></big> <output>${verdict}</output>: yes from 0.95, no to 0.05.`;
}

/** The figure: the result and its uncertainty to slide. */
export const goodEnough: LiveFigure = {
  name: "good-enough",
  controls: [
    {
      key: "pv",
      label: "Peak to valley",
      min: 0.02,
      max: 0.48,
      step: 0.001,
      digits: 3,
      unit: "wave",
      spoken: "waves",
    },
    {
      key: "u",
      label: "Its uncertainty u",
      min: 0.002,
      max: 0.06,
      step: 0.001,
      digits: 3,
      unit: "wave",
      spoken: "waves",
    },
  ],
  start: { pv: 0.237, u: 0.016, goal: 0.25 },
  picture,
  reading,
  value: (values) => chanceOf(values).probability,
  caption:
    safe`<b>The tinted part</b> of the bell is the probability. The bar is the 95 % interval. Here the result is taken as normal; a record’s verdict draws its readings instead.`,
};
