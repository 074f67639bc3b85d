/** The axis of a hand-drawn scale: a line, its marks, its title with the unit in words. */
import type { Html } from "../html.ts";
import { group, path, place, stroke, widthOf, words } from "../pen.ts";
import { digitsOf, fixed, type Scale, ticks } from "../scale.ts";

/** An axis along the sheet. */
export interface AxisLine {
  readonly domain: readonly [number, number];
  /** px where the axis begins, ends and lies */
  readonly from: number;
  readonly to: number;
  readonly y: number;
  readonly title: string;
  readonly format?: (value: number) => string;
  /** leave out the line itself, keep the marks */
  readonly bare?: boolean;
}

/**
 * Draws an axis along the sheet; the first and last numbers keep inside its ends.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const at = scale(0, 10, 0, 300);
 * const axis = axisLine({ domain: [0, 10], from: 0, to: 300, y: 50, title: "Time (min)" }, at);
 * assert.match(axis.markup, />Time \(min\)<\/text>/);
 * ```
 */
export function axisLine(axis: AxisLine, at: Scale): Html {
  const { domain: [low, high], from, to, y, title } = axis;
  const marks = ticks(low, high, Math.max(2, (to - from) / 75));
  const digits = digitsOf((marks[1] ?? 1) - (marks[0] ?? 0));
  const written = axis.format ?? ((value: number): string => fixed(value, digits));
  let taken = -Infinity;
  const labels = marks.map((mark) => {
    const x = at(mark), text = written(mark), half = widthOf(text) / 2;
    const anchor = x - half < from - 1 ? "start" : x + half > to + 1 ? "end" : "middle";
    const left = anchor === "start" ? x : anchor === "end" ? x - 2 * half : x - half;
    if (left < taken + 12) return undefined;
    taken = left + 2 * half;
    return words([x, y + 20], text, { kind: "soft", anchor });
  });
  return group(
    axis.bare !== true && stroke("axis", [from, y], [to, y]),
    marks.map((mark) => path("axis", `M${place(at(mark))},${place(y)}v5`)),
    labels,
    words([to, y + 40], title, { anchor: "end" }),
  );
}

export { scale } from "../scale.ts";
