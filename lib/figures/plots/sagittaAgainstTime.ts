/** The curve against the clock: readings, the line through them with its band, the forecast, target and stop. */
import type { Measured } from "../../quantity/measured.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { extent, fixed } from "../scale.ts";
import type { Shown } from "../show.ts";
import { plusMinus } from "../words.ts";
import { band, dots, lines, onPaper, Plot, plotDocument, styledPlot } from "./style.ts";

/** A reading of the depth, at the full aperture. */
export interface DepthAtTime {
  readonly minutes: number;
  /** mm */
  readonly sagitta: number;
  /** shown struck through, and left out of the line */
  readonly setAside?: boolean;
}

/** A place on the fitted line, with its 95 % interval where known; mm. */
export interface LineAtTime {
  readonly minutes: number;
  readonly sagitta: number;
  readonly low?: number;
  readonly high?: number;
}

/** One mirror's log. */
export interface DepthLog {
  readonly readings: readonly DepthAtTime[];
  /** corners of the fitted line: two for one position, more where the discs were swapped */
  readonly line?: readonly LineAtTime[];
  /** um/min, mirror on top */
  readonly rate?: Measured;
}

/** What the figure shows. */
export interface SagittaAgainstTime extends DepthLog {
  /** mm across, for the axis title */
  readonly aperture: number;
  /** from the last place of the line to where it leads */
  readonly forecast?: readonly LineAtTime[];
  /** wanted depth, mm */
  readonly target?: number;
  /** where to stop so that the finer grades bring it to the target, mm */
  readonly stop?: number;
  readonly beside?: DepthLog & { readonly name: string };
  /** the readings are the demo's: open marks */
  readonly whose?: "yours" | "demo";
  /** the finding in bold under the figure */
  readonly says?: string;
}

type Mark = Plot.Markish;
const place = { x: "minutes", y: "sagitta" } as const;

function withBand(line: readonly LineAtTime[]): LineAtTime[] {
  return line.filter((p) => p.low !== undefined && p.high !== undefined);
}

function logMarks(log: DepthLog, mine: boolean): Mark[] {
  const kept = log.readings.filter((r) => r.setAside !== true);
  const aside = log.readings.filter((r) => r.setAside === true);
  const look = mine ? lines.yours : lines.demo;
  return [
    ...(log.line === undefined ? [] : [Plot.line(log.line, { ...place, ...look })]),
    Plot.dot(kept, { ...place, ...(mine ? dots.yours : dots.demo) }),
    Plot.dot(aside, { ...place, ...dots.demo }),
    Plot.dot(aside, { ...place, symbol: "times", stroke: "var(--rouge)", strokeWidth: 1.5, r: 7 }),
  ];
}

/** Name and rate, standing on the line about two thirds of the way. */
function nameMarks(
  log: DepthLog,
  name: string,
  mine: boolean,
  narrow: boolean,
  end: number,
): Mark[] {
  const kept = log.readings.filter((r) => r.setAside !== true);
  const at = kept[Math.floor((kept.length - 1) * (mine ? 0.67 : 0.45))];
  if (at === undefined) return [];
  const fill = mine ? "var(--glass)" : "var(--graphite)",
    side = mine && at.minutes < 0.75 * end ? 1 : -1;
  const side2 = {
    ...onPaper,
    textAnchor: side > 0 ? "start" : "end",
    dx: 10 * side,
    fill,
  } as const;
  const rate = log.rate !== undefined && (mine || !narrow) &&
    Plot.text([at], {
      ...place,
      ...side2,
      dy: mine ? 30 : -2,
      text: () => `${plusMinus(log.rate as Measured)} µm/min`,
    });
  return [
    Plot.text([at], {
      ...place,
      ...side2,
      dy: mine ? 14 : -18,
      text: () => name,
      fontWeight: mine ? 600 : 400,
    }),
    ...(rate === false ? [] : [rate]),
  ];
}

function levelMarks({ target, stop }: SagittaAgainstTime, left: number, narrow: boolean): Mark[] {
  const label = (y: number, dy: number, text: string, fill: string): Mark =>
    Plot.text([[left, y]], { ...onPaper, dx: 4, dy, text: () => text, fill });
  const both = target !== undefined && stop !== undefined && stop !== target;
  return [
    target !== undefined && Plot.ruleY([target], lines.wanted),
    both && Plot.ruleY([stop], lines.limit),
    target !== undefined &&
    label(target, both && stop > target ? 11 : -9, `target ${fixed(target, 3)}`, "currentColor"),
    both &&
    label(
      stop,
      stop > target ? -9 : 11,
      `stop ${fixed(stop, 3)}${narrow ? ", then finer grades" : ": the finer grades do the rest"}`,
      "var(--rouge)",
    ),
  ].filter((mark) => mark !== false);
}

function draw(log: SagittaAgainstTime, width: number, finding: string): Html {
  const { line = [], forecast = [], beside, target, stop } = log, mine = log.whose !== "demo";
  const all = [...log.readings, ...line, ...forecast, ...(beside?.readings ?? [])];
  const minutes = extent([0, ...all.map((p) => p.minutes)], 0.04);
  const depths = extent([0, target ?? 0, stop ?? 0, ...all.map((p) => p.sagitta)], 0.07);
  const narrow = isNarrow(width);
  const areas = [withBand(line), withBand(forecast)].filter((points) => points.length > 1);
  return styledPlot({
    width,
    height: narrow ? 300 : 340,
    finding,
    x: { title: "Time of grinding (min)", domain: [0, minutes[1]] },
    y: { title: `Sagitta at the full ${fixed(log.aperture)} mm (mm)`, domain: [0, depths[1]] },
    marks: [
      ...areas.map((points) =>
        Plot.areaY(points, { x: "minutes", y1: "low", y2: "high", ...band })
      ),
      ...levelMarks(log, 0, narrow),
      ...(beside === undefined ? [] : logMarks(beside, false)),
      ...(forecast.length > 1 ? [Plot.line(forecast, { ...place, ...lines.forecast })] : []),
      ...logMarks(log, mine),
      ...nameMarks(log, mine ? "yours" : "the demo’s", mine, narrow, minutes[1]),
      ...(beside === undefined ? [] : nameMarks(beside, beside.name, false, narrow, minutes[1])),
    ],
  }, plotDocument());
}

function findingOf(log: SagittaAgainstTime): string {
  const kept = log.readings.filter((r) => r.setAside !== true);
  const aside = log.readings.length - kept.length;
  const first = kept[0], last = kept.at(-1);
  const whose = log.whose === "demo" ? "The demo’s" : "Your";
  const at = (r: DepthAtTime): string => `${fixed(r.sagitta, 3)} at ${fixed(r.minutes)} minutes`;
  const course = first === undefined || last === undefined
    ? "No readings yet."
    : kept.length === 1
    ? `${whose} one reading is ${at(first)}.`
    : `${whose} ${kept.length} readings go from ${at(first)} to ${at(last)}.`;
  const end = log.forecast?.at(-1);
  return `Sagitta in millimetres against grinding time in minutes. ${course}` +
    (aside > 0 ? ` ${aside} set aside, struck through.` : "") +
    (log.stop === undefined ? "" : ` Stop at ${fixed(log.stop, 3)}.`) +
    (end === undefined
      ? ""
      : ` The line leads to ${fixed(end.sagitta, 3)} at minute ${fixed(end.minutes)}.`) +
    (log.beside === undefined ? "" : ` Beside it the readings of ${log.beside.name}.`);
}

/**
 * Depth against minutes of grinding.
 *
 * @param log  minutes and mm; the line's corners in order of time
 * @throws {RangeError} where a value is not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = sagittaAgainstTime({
 *   aperture: 150,
 *   readings: [{ minutes: 20, sagitta: 0.202 }, { minutes: 40, sagitta: 0.388 }],
 *   target: 1.172,
 * });
 * assert.match(shown.text, /Your 2 readings go from 0.202 at 20 minutes to 0.388 at 40 minutes/);
 * ```
 */
export function sagittaAgainstTime(log: SagittaAgainstTime): Shown {
  const finding = findingOf(log);
  const banded = [...(log.line ?? []), ...(log.forecast ?? [])].some((p) => p.low !== undefined);
  const marks = log.whose === "demo"
    ? " Open marks: demo mirror, not yours."
    : log.beside === undefined
    ? ""
    : " Filled marks are yours, open ones the demo’s.";
  return figure({
    finding,
    caption: safe`<b>${log.says ?? "Depth against minutes."}</b>${
      banded && " The band is a 95 % interval of the line."
    }${(log.forecast?.length ?? 0) > 1 && " Dots are a forecast."}${marks}`,
    draw: (width) => draw(log, width, finding),
  });
}
