/** Many makers' results on one axis: a mark and its 95 % bar each, by bench and never by rank, drawn by how far the glass is. */
import { interval } from "../../quantity/coverage.ts";
import type { Measured } from "../../quantity/measured.ts";
import { axisLine } from "../drawings/axisLine.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, rect, stroke, widthOf, words } from "../pen.ts";
import { extent, fixed, type Scale, scale } from "../scale.ts";
import type { Shown } from "../show.ts";
import { plusMinus } from "../words.ts";

/** One maker's result. */
export interface MakerDot {
  readonly name: string;
  readonly value: Measured;
  /** how far the glass is: drawn dotted while ground, thin once polished, thick when its figure is done */
  readonly glass: "ground" | "polished" | "done";
  /** the next step's stage, in words */
  readonly stage: string;
  /** far from the others: named in the caption */
  readonly far?: boolean;
}

/** A class's results in one quantity. */
export interface ClassDotsDrawn {
  readonly dots: readonly MakerDot[];
  readonly mean: number;
  /** standard deviation between them */
  readonly sd: number;
  readonly wanted?: number;
  /** of the axis, with the unit: "Focal length by leaves (mm)" */
  readonly title: string;
  /** the finding in bold */
  readonly says: string;
}

const bars = {
  ground: "fill:none;stroke-width:2.6;stroke-linecap:round;stroke-dasharray:0 4.4",
  polished: "fill:none;stroke-width:1.5",
  done: "fill:none;stroke-width:3.5",
} as const;

function row(one: MakerDot, y: number, at: Scale): Html {
  const [low, high] = interval(one.value), x = at(one.value.value);
  return group(
    stroke("mine", [at(low), y], [at(high), y], bars[one.glass]),
    dot(one.glass === "ground" ? "theirs" : "mine", [x, y], 4, "stroke:var(--glass)"),
    one.far === true && dot("limit", [x, y], 9, "fill:none"),
  );
}

function draw(drawn: ClassDotsDrawn, width: number, finding: string): Html {
  const { dots, mean, sd, wanted, title } = drawn, narrow = isNarrow(width);
  const longest = Math.max(...dots.map(({ stage }) => widthOf(stage)));
  const left = narrow ? Math.min(170, longest + 4) : 96;
  const right = narrow ? width - 10 : width - Math.min(200, longest + 20);
  const step = narrow ? 38 : 25, top = 26, bottom = top + dots.length * step + 4;
  const ends = dots.flatMap(({ value }) => [...interval(value)]);
  const domain = extent([...ends, ...(wanted === undefined ? [] : [wanted])], 0.04);
  const at = scale(...domain, left, right);
  const middle = (i: number): number => top + (i + 0.5) * step;
  return drawing({
    width,
    height: bottom + 46,
    finding,
    contents: group(
      rect("zone-b", [at(mean - sd), top], at(mean + sd) - at(mean - sd), bottom - top),
      stroke("dim", [at(mean), top], [at(mean), bottom], "stroke-dasharray:2 3"),
      wanted !== undefined && stroke("dim", [at(wanted), top], [at(wanted), bottom]),
      words([at(mean), top - 8], `mean ${fixed(mean, 1)}`, { anchor: "middle", kind: "t-glass b" }),
      dots.map((one, i) =>
        group(
          words([0, middle(i) + (narrow ? -3 : 4.5)], one.name),
          narrow
            ? words([0, middle(i) + 13], one.stage, { kind: "soft" })
            : words([right + 14, middle(i) + 4.5], one.stage, { kind: "soft" }),
          row(one, middle(i), at),
        )
      ),
      axisLine({ domain, from: left, to: right, y: bottom, title }, at),
    ),
  });
}

function findingOf({ dots, mean, sd, wanted, title }: ClassDotsDrawn): string {
  const each = dots.map(({ name, value, stage, far }) =>
    `${name} ${plusMinus(value)}, next ${stage}${far === true ? ", far from the others" : ""}`
  ).join("; ");
  return `${title}: ${each}. Mean ${fixed(mean, 1)}, spread ${fixed(sd, 1)}${
    wanted === undefined ? "" : `, wanted ${fixed(wanted)}`
  }.`;
}

/**
 * The results of a class on one axis, in the order they are given.
 *
 * @param drawn  values in the unit of the title; at least one
 * @throws {RangeError} without a result, or where a value is not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { measured } from "../../quantity/measured.ts";
 * const dots = [1198, 1229].map((f, i) => ({
 *   name: `Bench ${i + 1}`,
 *   value: measured(f, 3, "mm"),
 *   glass: "ground" as const,
 *   stage: "fine grinding",
 * }));
 * const shown = classDots({ dots, mean: 1213.5, sd: 21.9, title: "Focal length (mm)", says: "Two." });
 * assert.match(shown.text, /Bench 2 1229 ± 3, next fine grinding/);
 * ```
 */
export function classDots(drawn: ClassDotsDrawn): Shown {
  const { dots, says, wanted } = drawn;
  if (dots.length === 0) throw new RangeError("classDots requires one result or more, got none");
  const finding = findingOf(drawn);
  const far = dots.filter((one) => one.far === true).map(({ name }) => name).join(", ");
  return figure({
    finding,
    caption:
      safe`<b>${says}</b> Bars: 95 % of each maker’s own readings. Band: one standard deviation to each side of the mean.${
        wanted !== undefined && ` The thin line is the plan, ${fixed(wanted)}.`
      } Glass being ground is dotted, polished thin, done thick. In the order of the benches: nobody is ranked.${
        far !== "" && ` Ringed, far from the others: ${far}.`
      }`,
    draw: (width) => draw(drawn, width, finding),
  });
}
