/** Several ways to one quantity: each a mark with its 95 % bar, what they give together as a band beneath. */
import { interval } from "../../quantity/coverage.ts";
import type { Measured } from "../../quantity/measured.ts";
import { axisLine } from "../drawings/axisLine.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, place, rect, stroke, words } from "../pen.ts";
import { extent, fixed, type Scale, scale } from "../scale.ts";
import type { Shown } from "../show.ts";
import { plusMinus } from "../words.ts";

/** One method's result. */
export interface MethodBar {
  readonly name: string;
  readonly value: Measured;
  /** the demo's is drawn open */
  readonly whose?: "yours" | "demo";
  /** found to disagree with the others: struck through, and named in the caption */
  readonly odd?: boolean;
}

/** Several methods beside one another. */
export interface Methods {
  readonly bars: readonly MethodBar[];
  /** what they give together; absent when they do not agree */
  readonly together?: Measured;
  readonly wanted?: number;
  /** of the axis, with the unit: "Radius of curvature (mm)" */
  readonly title: string;
  readonly birgeRatio?: number;
}

const rowHeight = 27;

function bar(method: MethodBar, y: number, at: Scale): Html {
  const [low, high] = interval(method.value), mine = method.whose !== "demo";
  const kind = mine ? "mine" : "theirs", x = at(method.value.value);
  const thick = `fill:none;stroke-width:${mine ? 2 : 1}`;
  const line = stroke(kind, [at(low), y], [at(high), y], thick);
  const strike = method.odd === true &&
    stroke("limit", [x - 14, y + 9], [x + 14, y - 9], "stroke-dasharray:none");
  return group(line, dot(kind, [x, y], mine ? 4 : 3.5), strike);
}

function summary({ bars, together, wanted, birgeRatio }: Methods): string {
  const each = bars.map((b) => `${b.name} ${plusMinus(b.value)}`).join(", ");
  const odd = bars.filter((b) => b.odd === true).map((b) => ` ${b.name} stands apart.`).join("");
  return `${each}${
    bars[0] === undefined ? "no readings yet" : ""
  }; bars are 95 percent intervals.` +
    (together === undefined ? "" : ` Together ${plusMinus(together)}.`) + odd +
    (wanted === undefined ? "" : ` Wanted ${fixed(wanted)}.`) +
    (birgeRatio === undefined ? "" : ` Birge ratio ${fixed(birgeRatio, 2)}.`);
}

function caption({ bars, together, wanted, birgeRatio }: Methods): Html {
  const odd = bars.filter((b) => b.odd === true).map((b) => b.name).join(", ");
  const says = odd !== ""
    ? `${odd} stands apart: look for the cause before you average.`
    : together === undefined
    ? "No common value is drawn."
    : "They agree.";
  const ratio = birgeRatio === undefined ? "" : ` Birge ratio ${fixed(birgeRatio, 2)}.`;
  const demos = bars.some((b) => b.whose === "demo") ? " Open marks are the demo’s." : "";
  return safe`<b>${bars.length < 2 ? "One way is no check." : says}</b> Bars${
    together !== undefined && " and band"
  }: 95 %.${ratio}${
    wanted !== undefined && ` The thin line is the wanted ${fixed(wanted)}.`
  }${demos}`;
}

function draw(methods: Methods, width: number, finding: string): Html {
  const { bars, together, wanted, title } = methods;
  const left = isNarrow(width) ? 104 : 150,
    right = width - 12,
    bottom = 22 + bars.length * rowHeight + 34;
  const ends = [...bars.map((b) => b.value), ...(together === undefined ? [] : [together])]
    .flatMap((m) => interval(m)).concat(wanted ?? []);
  const domain = extent(ends, 0.05), at = scale(...domain, left, right);
  const band = together === undefined ? undefined : interval(together).map(at);
  const row = (i: number): number => 34 + i * rowHeight;
  return drawing({
    width,
    height: bottom + 46,
    finding,
    contents: group(
      band !== undefined &&
        rect(
          "zone-b",
          [band[0] ?? 0, 14],
          Math.max(1.5, (band[1] ?? 0) - (band[0] ?? 0)),
          bottom - 14,
        ),
      wanted !== undefined && stroke("dim", [at(wanted), 14], [at(wanted), bottom]),
      bars.map((b, i) => group(words([0, row(i) + 4.5], b.name), bar(b, row(i), at))),
      together !== undefined && band !== undefined &&
        group(
          words([0, row(bars.length) + 4.5], "Together", { kind: "b" }),
          bar({ name: "Together", value: together }, row(bars.length), at),
          words([clamp(at(together.value), left + 60, right - 60), 9.5], plusMinus(together), {
            kind: "t-glass b",
            anchor: "middle",
          }),
        ),
      axisLine({ domain, from: left, to: right, y: bottom, title }, at),
    ),
  });
}

function clamp(value: number, low: number, high: number): number {
  return Number(place(Math.min(high, Math.max(low, value))));
}

/**
 * Estimates of one quantity by several methods, with what they give together.
 *
 * @param methods  quantities in the unit of the axis title
 * @throws {RangeError} where a value is not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { measured } from "../../quantity/measured.ts";
 * const shown = threeMethods({
 *   bars: [
 *     { name: "Leaves", value: measured(2399, 14, "mm") },
 *     { name: "Spherometer", value: measured(2396.1, 5.7, "mm") },
 *   ],
 *   together: measured(2396.6, 5.3, "mm"),
 *   wanted: 2400,
 *   title: "Radius of curvature (mm)",
 * });
 * assert.match(shown.html, /They agree/);
 * ```
 */
export function threeMethods(methods: Methods): Shown {
  const finding = `${methods.title}: ${summary(methods)}`;
  return figure({
    finding,
    caption: caption(methods),
    draw: (width) => draw(methods, width, finding),
  });
}
