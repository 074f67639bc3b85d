/** A reading is a draw from a histogram: the readings as dots, the histogram behind them, their mean with its interval. */
import { interval } from "../../quantity/coverage.ts";
import type { Measured } from "../../quantity/measured.ts";
import { axisLine } from "../drawings/axisLine.ts";
import { figure } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { across, dot, drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { extent, fixed, type Scale, scale } from "../scale.ts";
import type { Shown } from "../show.ts";
import { plusMinus } from "../words.ts";

/** One reading; `setAside` gives the reason why it does not count. */
export interface HistogramReading {
  readonly value: number;
  readonly setAside?: string;
}

/** Readings of one thing. */
export interface Histogram {
  readonly readings: readonly HistogramReading[];
  /** of the axis, with the unit: "Sun’s image from the glass (mm)" */
  readonly title: string;
  readonly unit: string;
  readonly digits: number;
  /** standard deviation of one reading: how wide the histogram is */
  readonly spread?: number;
  readonly mean?: Measured;
  readonly whose?: "yours" | "demo";
}

const radius = 4.5;

/** Dots that would cover one another stand on one another. */
function stacked(
  readings: readonly HistogramReading[],
  at: Scale,
  ground: number,
): { reading: HistogramReading; place: Point }[] {
  const placed: { reading: HistogramReading; place: Point }[] = [];
  for (const reading of [...readings].sort((a, b) => a.value - b.value)) {
    const x = at(reading.value);
    let y = ground - radius - 3;
    while (placed.some(({ place }) => Math.hypot(place[0] - x, place[1] - y) < 2 * radius + 1)) {
      y -= 2 * radius + 1.5;
    }
    placed.push({ reading, place: [x, y] });
  }
  return placed;
}

/** The bell behind the dots, as wide as one reading's spread. */
function bell(middle: number, spread: number, at: Scale, ground: number): Html {
  const points: Point[] = Array.from({ length: 49 }, (_, i) => {
    const z = (i - 24) / 8;
    return [at(middle + z * spread), ground - 100 * Math.exp(-z * z / 2)];
  });
  return path("zone-b", through([...points], true));
}

function dotHtml(
  { reading, place: [x, y] }: { reading: HistogramReading; place: Point },
  mine: boolean,
): Html {
  const aside = reading.setAside !== undefined;
  return group(
    dot(mine && !aside ? "mine" : "theirs", [x, y], aside || !mine ? 4 : radius),
    aside && stroke("limit", [x - 9, y + 6], [x + 9, y - 6], "stroke-dasharray:none"),
  );
}

function draw(histogram: Histogram, width: number, finding: string): Html {
  const { readings, mean, spread, title, digits } = histogram;
  const counted = readings.filter((r) => r.setAside === undefined).map((r) => r.value);
  const middle = mean?.value ?? counted.reduce((a, b) => a + b, 0) / (counted.length || 1);
  const wide = spread === undefined || spread === 0 || counted.length === 0
    ? []
    : [middle - 3 * spread, middle + 3 * spread];
  const ends = mean === undefined ? [] : [...interval(mean)];
  const domain = extent([...readings.map((r) => r.value), ...wide, ...ends], 0.04);
  const ground = wide.length > 0 ? 150 : 90,
    at = scale(...domain, 6, width - 6),
    bar = ends.map(at);
  const inside = (x: number): number => Math.min(width - 70, Math.max(70, x));
  return drawing({
    width,
    height: ground + 46,
    finding,
    contents: group(
      wide.length > 0 && spread !== undefined && bell(middle, spread, at, ground),
      mean !== undefined && stroke("dim", [at(mean.value), 28], [at(mean.value), ground]),
      mean !== undefined && group(
        across(bar[0] ?? 0, Math.max(bar[1] ?? 0, (bar[0] ?? 0) + 1), 28, "mine"),
        words([inside(at(mean.value)), 16], `mean ${plusMinus(mean)}`, {
          anchor: "middle",
          kind: "t-glass b",
        }),
      ),
      stacked(readings, at, ground).map((placed) => dotHtml(placed, histogram.whose !== "demo")),
      axisLine({
        domain,
        from: 6,
        to: width - 6,
        y: ground,
        title,
        format: (v) => fixed(v, digits),
      }, at),
    ),
  });
}

function findingOf({ readings, title, unit, digits, spread, mean }: Histogram): string {
  const counted = readings.filter((r) => r.setAside === undefined).map((r) => r.value);
  const aside = readings.filter((r) => r.setAside !== undefined).map((r) => fixed(r.value, digits));
  const span = counted.length === 0
    ? "no readings"
    : counted.length === 1
    ? `one reading, ${fixed(counted[0] ?? 0, digits)} ${unit}`
    : `${counted.length} readings from ${fixed(Math.min(...counted), digits)} to ${
      fixed(Math.max(...counted), digits)
    } ${unit}`;
  return `${title}: ${span}.` +
    (spread === undefined ? "" : ` One reading spreads by ${fixed(spread, digits + 1)} ${unit}.`) +
    (mean === undefined ? "" : ` Mean ${plusMinus(mean)} ${unit}.`) +
    (aside.length === 0 ? "" : ` Set aside and struck through: ${aside.join(", ")} ${unit}.`);
}

/**
 * Readings of one thing, with the histogram they are drawn from.
 *
 * @param histogram  values in the unit of the title
 * @throws {RangeError} where a value is not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const histogram = histogramOfReadings({
 *   readings: [{ value: 1199 }, { value: 1194 }, { value: 1290, setAside: "far from the others" }],
 *   title: "Sun’s image from the glass (mm)",
 *   unit: "mm",
 *   digits: 0,
 * });
 * assert.match(histogram.text, /2 readings from 1194 to 1199 mm. Set aside and struck through: 1290 mm/);
 * ```
 */
export function histogramOfReadings(histogram: Histogram): Shown {
  const finding = findingOf(histogram);
  const reasons = [...new Set(histogram.readings.flatMap((r) => r.setAside ?? []))];
  return figure({
    finding,
    caption: safe`<b>${
      histogram.readings.length < 3
        ? "Too few to see a histogram: measure again."
        : "Every reading is a draw from a distribution."
    }</b>${
      histogram.spread !== undefined && histogram.spread > 0 &&
      " The tinted curve is as wide as one reading spreads."
    }${histogram.mean !== undefined && " The bar is a 95 % interval of the mean."}${
      histogram.whose === "demo" && " Open marks: demo mirror, not yours."
    }${reasons.length > 0 && ` Struck through, kept in the file: ${reasons.join("; ")}.`}`,
    draw: (width) => draw(histogram, width, finding),
  });
}
