/** The house style on Observable Plot: margins, hairlines at the ticks, axis titles with their units in words. */
import * as Plot from "@observablehq/plot";
import { figure } from "../figure.ts";
import { type Html, safe, trusted } from "../html.ts";
import { digitsOf, fixed, ticks } from "../scale.ts";
import type { Shown } from "../show.ts";
import { DrawnDocument } from "./drawnDocument.ts";

/** An axis: its title with the unit in words, its ends, and how a mark is written. */
export interface Axis {
  readonly title: string;
  readonly domain: readonly [number, number];
  readonly ticks?: number;
  readonly format?: (value: number) => string;
}

/** A plot before it is drawn. */
export interface StyledPlot {
  readonly width: number;
  readonly height: number;
  readonly finding: string;
  readonly x: Axis;
  readonly y: Axis;
  readonly marks: readonly Plot.Markish[];
  readonly marginRight?: number;
}

/** A label standing on its line: paper under it, so that the line does not cross it. */
export const onPaper = {
  fill: "currentColor",
  stroke: "var(--paper)",
  strokeWidth: 5,
  paintOrder: "stroke",
  textAnchor: "start",
} as const;

/** Line of the reader's own and of the demo's; a limit; the wanted; a forecast. */
export const lines = {
  yours: { stroke: "var(--glass)", strokeWidth: 2, strokeLinecap: "round" },
  demo: { stroke: "var(--graphite)", strokeWidth: 1 },
  limit: { stroke: "var(--rouge)", strokeWidth: 1.5, strokeDasharray: "6 4" },
  wanted: { stroke: "currentColor", strokeWidth: 1 },
  forecast: {
    stroke: "var(--glass)",
    strokeWidth: 2,
    strokeDasharray: "2 4",
    strokeLinecap: "round",
  },
} as const;

/** Mark of the reader's own (filled) and of the demo's (open). */
export const dots = {
  yours: { fill: "var(--glass)", stroke: "var(--glass)", r: 4 },
  demo: { fill: "var(--paper)", stroke: "var(--graphite)", strokeWidth: 1.5, r: 3.5 },
} as const;

/** The band of a 95 % interval. */
export const band = { fill: "var(--glass-tint)" } as const;

/** The marks an axis gets: round values, few enough for the width. */
function marksOf(axis: Axis, px: number, pxEach: number): number[] {
  return ticks(axis.domain[0], axis.domain[1], axis.ticks ?? Math.max(2, px / pxEach));
}

function axes({ width, height, x, y }: StyledPlot): Plot.Markish[] {
  const xs = marksOf(x, width - 64, 75), ys = marksOf(y, height - 76, 42);
  const written = (axis: Axis, at: readonly number[]): (value: number) => string => {
    const digits = digitsOf((at[1] ?? 1) - (at[0] ?? 0));
    return axis.format ?? ((value) => fixed(value, digits));
  };
  return [
    Plot.ruleY(ys, { stroke: "var(--hair)", strokeWidth: 0.75 }),
    Plot.axisY(ys, {
      label: null,
      tickSize: 0,
      tickPadding: 9,
      fill: "var(--soft)",
      tickFormat: written(y, ys),
    }),
    Plot.axisX(xs, {
      label: null,
      tickSize: 5,
      stroke: "var(--line)",
      fill: "var(--soft)",
      tickFormat: written(x, xs),
    }),
    Plot.text([x.title], {
      frameAnchor: "bottom-right",
      textAnchor: "end",
      lineAnchor: "bottom",
      dy: 44,
    }),
    Plot.text([y.title], {
      frameAnchor: "top-left",
      textAnchor: "start",
      lineAnchor: "top",
      dx: -44,
      dy: -28,
    }),
  ];
}

/** As much of the drawn svg as is touched here. */
interface Drawn {
  readonly outerHTML: string;
  querySelectorAll(
    selector: string,
  ): Iterable<{ remove(): void; removeAttribute(name: string): void }>;
  setAttribute(name: string, value: string): void;
}

/** No coordinate of a drawing may be NaN: a hole in the data is left out before it is drawn. */
function sound(markup: string): string {
  if (/NaN|Infinity/.test(markup.replace(/<text[\s\S]*?<\/text>|aria-label="[^"]*"/g, ""))) {
    throw new RangeError("housePlot requires finite values, got a coordinate that is not a number");
  }
  return markup;
}

/**
 * Draws a plot in the style.
 *
 * @param plot      size, axes, finding and marks; the marks draw over the hairlines
 * @param document  what Plot draws in: the browser's, or `plotDocument()`
 * @throws {RangeError} where a mark has a coordinate that is not a number
 * @example
 * ```ts
 * import { plotDocument } from "./style.ts";
 * import assert from "node:assert/strict";
 * const svg = styledPlot({
 *   width: 340,
 *   height: 200,
 *   finding: "A straight line.",
 *   x: { title: "Time (min)", domain: [0, 10] },
 *   y: { title: "Depth (mm)", domain: [0, 1] },
 *   marks: [Plot.line([[0, 0], [10, 1]], lines.yours)],
 * }, plotDocument());
 * assert.match(svg.markup, /aria-label="A straight line."/);
 * ```
 */
export function styledPlot(plot: StyledPlot, document: DrawingDocument): Html {
  const { width, height, finding, x, y, marks, marginRight = 20 } = plot;
  const margins = { marginTop: 30, marginRight, marginBottom: 46, marginLeft: 44 };
  const options: Plot.PlotOptions = {
    ...{ width, height, className: "plot", ...margins },
    x: { domain: [...x.domain], label: null },
    y: { domain: [...y.domain], label: null },
    marks: [...axes(plot), ...marks],
  };
  return drawnBy(options, finding, document);
}

/** Draws with Plot, without its own style sheet and labels: the house's sheet and one finding stand for them. */
function drawnBy(options: Plot.PlotOptions, finding: string, document: DrawingDocument): Html {
  const drawn = Plot.plot({ ...options, ...{ document } } as Plot.PlotOptions) as unknown as Drawn;
  for (const style of drawn.querySelectorAll("style")) style.remove();
  for (const part of drawn.querySelectorAll("[aria-label]")) part.removeAttribute("aria-label");
  drawn.setAttribute("role", "img");
  drawn.setAttribute("aria-label", finding);
  return trusted(sound(drawn.outerHTML));
}

/**
 * A plot of a notebook's own cell: Observable Plot's marks and scales in the house's look, for page and phone.
 *
 * @param finding  what it shows, in a sentence; it stands below the plot
 * @param options  of `Plot.plot`; axis labels with their unit, `{ x: { label: "Time (min)" } }`
 * @throws {RangeError} where a mark has a coordinate that is not a number
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = plotted("Two readings.", { x: { label: "Time (min)" }, marks: [Plot.dot([[1, 2], [2, 3]])] });
 * assert.equal(shown.html.match(/<svg/g)?.length, 2);
 * assert.equal(shown.text, "Two readings.");
 * ```
 */
export function plotted(finding: string, options: Plot.PlotOptions): Shown {
  const house = { className: "plot", marginTop: 30, marginLeft: 52, marginBottom: 46, grid: true };
  const axis = { labelArrow: "none" } as const;
  const x = { ...axis, labelAnchor: "right", ...options.x } as const, y = { ...axis, ...options.y };
  const draw = (width: number): Html =>
    drawnBy({ height: 260, ...house, ...options, x, y, width }, finding, plotDocument());
  return { ...figure({ finding, caption: safe`<b>${finding}</b>`, draw }), text: finding };
}

export { Plot };

// The document figures are drawn in: the browser's own, or one in memory where there is no browser.

/** As much of a document as Plot needs to draw. */
export interface DrawingDocument {
  createElement(name: string): unknown;
  createElementNS(namespace: string, name: string): unknown;
}

let inMemory: DrawingDocument | undefined;

/**
 * A document that Plot can draw in.
 *
 * @returns the browser's document; elsewhere one in memory, the same at every call
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(typeof plotDocument().createElement, "function");
 * ```
 */
export function plotDocument(): DrawingDocument {
  const here = (globalThis as { document?: DrawingDocument }).document;
  if (here !== undefined) return here;
  return inMemory ??= new DrawnDocument();
}

// A bracket beside a plot that measures a height: peak to valley of a curve, or the goal.

/** A bracket at the right of a plot. */
export interface Bracket {
  /** in units of the x axis, usually beyond its end */
  readonly x: number;
  readonly low: number;
  readonly high: number;
  readonly label: string;
  readonly colour: string;
  /** where the label stands; default beside */
  readonly where?: "beside" | "below" | "above";
  /** x units for 1 px */
  readonly px: number;
}

/** The bracket's marks: a line with a bar at either end, and its label. */
export function bracket(b: Bracket): Plot.Markish[] {
  const look = { stroke: b.colour, strokeWidth: 1.5 }, bar = 4 * b.px;
  const bars = [b.low, b.high].map((y) => ({ x1: b.x - bar, x2: b.x + bar, y }));
  const where = b.where ?? "beside";
  const side = where === "beside"
    ? { textAnchor: "start", dx: 8 } as const
    : { textAnchor: "middle", dy: where === "below" ? 15 : -13 } as const;
  const y = where === "beside" ? (b.low + b.high) / 2 : where === "below" ? b.low : b.high;
  return [
    Plot.link([b], { x: "x", y1: "low", y2: "high", ...look }),
    Plot.link(bars, { x1: "x1", x2: "x2", y: "y", ...look }),
    Plot.text([[b.x, y]], {
      ...onPaper,
      ...side,
      fill: b.colour,
      fontWeight: 600,
      text: () => b.label,
    }),
  ];
}
