/** The scale of a plot in a live figure: a hairline across at each round value, its number to the left. */
import { group, type Point, stroke, words } from "../pen.ts";
import type { Html } from "../html.ts";
import type { Scale } from "../scale.ts";

/**
 * Hairlines across a plot, numbered at the left.
 *
 * @param values  where they run
 * @param y       from a value to its place, px
 * @param name    a value as it is written
 * @param ends    left and right end of the lines, px
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { scale } from "../scale.ts";
 * const lines = levels([0, 1], scale(0, 1, 146, 26), String).markup;
 * assert.deepEqual(lines.match(/>[01]</g), [">0<", ">1<"]);
 * ```
 */
export function levels(
  values: readonly number[],
  y: Scale,
  name: (value: number) => string,
  [left, right]: Point = [44, 340],
): Html {
  return group(values.map((value) =>
    group(
      stroke("lead", [left, y(value)], [right, y(value)], "stroke:var(--hair)"),
      words([left - 6, y(value) + 4.5], name(value), { kind: "soft", anchor: "end" }),
    )
  ));
}
