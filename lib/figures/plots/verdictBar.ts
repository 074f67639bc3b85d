/** Is it good enough: each result with its 95 % bar against the goal, and what that lets one say. */
import { interval } from "../../quantity/coverage.ts";
import type { Measured } from "../../quantity/measured.ts";
import { axisLine } from "../drawings/axisLine.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, rect, stroke, words } from "../pen.ts";
import { extent, fixed, type Scale, scale } from "../scale.ts";
import type { Shown } from "../show.ts";

/** One result, as on one date. */
export interface Judged {
  readonly name: string;
  readonly value: Measured;
  /** 95 %; default by the value's u and degrees of freedom */
  readonly interval?: readonly [low: number, high: number];
  readonly verdict: "yes" | "no" | "not shown";
  /** of meeting the goal, 0 to 1 */
  readonly probability?: number;
  readonly whose?: "yours" | "demo";
}

/** Results against one goal. */
export interface Verdicts {
  readonly results: readonly Judged[];
  readonly goal: number;
  /** of the axis, with noun and unit: "Wavefront, peak to valley (wave)" */
  readonly title: string;
  readonly digits: number;
}

function chance(probability: number | undefined): string {
  if (probability === undefined) return "";
  if (probability > 0.995) return ", P > 0.99";
  if (probability < 0.005) return ", P < 0.01";
  return `, P ${fixed(probability, 2)}`;
}

/** Name and verdict above the bar; on a narrow sheet the verdict stands below it. */
function row(result: Judged, y: number, at: Scale, digits: number, width: number): Html {
  const [low = 0, high = 0] = (result.interval ?? interval(result.value)).map(at);
  const mine = result.whose !== "demo", kind = mine ? "mine" : "theirs", small = isNarrow(width);
  const verdict = `${result.verdict}${chance(result.probability)}`;
  return group(
    words([4, y - 12], `${result.name}: ${fixed(result.value.value, digits)}`),
    small
      ? words([4, y + 21], verdict, { kind: "b" })
      : words([width, y - 12], verdict, { anchor: "end", kind: "b halo" }),
    stroke(kind, [low, y], [high, y], `fill:none;stroke-width:${mine ? 2 : 1}`),
    dot(kind, [at(result.value.value), y], mine ? 5 : 4),
  );
}

function draw({ results, goal, title, digits }: Verdicts, width: number, finding: string): Html {
  const all = results.flatMap((r) => [r.value.value, ...(r.interval ?? interval(r.value))]);
  const domain: [number, number] = [0, extent([0, goal * 1.15, ...all], 0.05)[1]];
  const rowHeight = isNarrow(width) ? 62 : 46, at = scale(...domain, 1, width - 8);
  const bottom = 34 + results.length * rowHeight;
  const flip = at(goal) > width * 0.6;
  return drawing({
    width,
    height: bottom + 46,
    finding,
    contents: group(
      rect("zone-b", [at(0), 24], at(goal) - at(0), bottom - 24),
      stroke("limit", [at(goal), 18], [at(goal), bottom]),
      words([at(goal) + (flip ? -6 : 6), 15], `goal ${fixed(goal, digits)}`, {
        kind: "t-rouge",
        anchor: flip ? "end" : "start",
      }),
      results.map((result, i) => row(result, 62 + i * rowHeight, at, digits, width)),
      axisLine({ domain, from: 1, to: width - 1, y: bottom, title }, at),
    ),
  });
}

/**
 * Results beside the goal.
 *
 * @param verdicts  values and goal in the unit of the title; glass and wavefront never mixed
 * @throws {RangeError} unless the goal is above 0 and every value finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { measured } from "../../quantity/measured.ts";
 * const shown = verdictBar({
 *   results: [{ name: "12 June", value: measured(0.292, 0.016, "wave"), verdict: "no", probability: 0.003 }],
 *   goal: 0.25,
 *   title: "Wavefront, peak to valley (wave)",
 *   digits: 3,
 * });
 * assert.match(shown.text, /12 June 0\.292, interval 0\.261 to 0\.323: no, P < 0\.01/);
 * ```
 */
export function verdictBar(verdicts: Verdicts): Shown {
  const { results, goal, title, digits } = verdicts;
  if (!(goal > 0 && Number.isFinite(goal))) {
    throw new RangeError(`verdictBar requires a goal above 0, got goal=${goal}`);
  }
  const each = results.map((r) => {
    const [low, high] = r.interval ?? interval(r.value);
    return `${r.name} ${fixed(r.value.value, digits)}, interval ${fixed(low, digits)} to ${
      fixed(high, digits)
    }: ${r.verdict}${chance(r.probability)}`;
  });
  const finding = `${title}, goal ${fixed(goal, digits)}. ${each.join(". ") || "No result yet"}.`;
  return figure({
    finding,
    caption:
      safe`<b>Read the whole bar.</b> Bars are 95 % intervals; tinted is what meets the goal. Yes when the goal is met with probability P of 0.95 or more, no at 0.05 or less, else not shown.`,
    draw: (width) => draw(verdicts, width, finding),
  });
}
