/** The stage of the depth: depth against minutes, what a forecast is worth, and when to stop or turn over. */
import { facts, note, readingsTable } from "../figures/blocks.ts";
import { decide, decisionScale } from "../figures/decide.ts";
import { figure, isNarrow } from "../figures/figure.ts";
import { type Html, safe } from "../figures/html.ts";
import {
  band,
  dots,
  lines,
  onPaper,
  Plot,
  plotDocument,
  styledPlot,
} from "../figures/plots/style.ts";
import { sagittaAgainstTime } from "../figures/plots/sagittaAgainstTime.ts";
import { extent } from "../figures/scale.ts";
import type { Shown } from "../figures/show.ts";
import { quantityHtml } from "../figures/words.ts";
import { depthReading } from "../knowledge/depthReading.ts";
import { allowanceAfter, grainSizes } from "../knowledge/grindingSummary.ts";
import type { Mirror } from "../knowledge/open.ts";
import { grainUm } from "../knowledge/rules.ts";
import { sagitta } from "../optics/sphere.ts";
import { interval } from "../quantity/coverage.ts";
import type { Measured } from "../quantity/measured.ts";
import { decision, fact } from "../record/tables.ts";
import type { MirrorRecord } from "../record/types.ts";
import {
  ahead,
  type CurveLog,
  curveLog,
  type CurveLogInput,
  depthAt,
} from "../shaping/grinding/curveLog.ts";
import { type DepthFit, fitDepths } from "../shaping/grinding/depthColumns.ts";
import type { Meeting } from "../shaping/grinding/forecast.ts";
import {
  type DepthReading,
  type GrindingLog,
  readGrindingLog,
} from "../shaping/grinding/grindingLog.ts";
import { ownOrDemo, type Part, type Whose, withOwn } from "./base.ts";

/** The log of rough grinding alone: what came after it hardly moves the depth. */
function roughLog(mirror: Mirror): LogUpTo | undefined {
  return logUpTo(mirror, logUpTo(mirror)?.grinding.roughMinutes);
}

function depthFigure(log: LogUpTo, { record }: Mirror, whose: Whose, says?: string): Shown {
  const aside = (one: DepthReading): boolean =>
    log.setAside.some(({ file, line }) => file === one.file && line === one.line);
  const line = lineOf(log), forecast = forecastOf(log), rate = log.rates.mirrorOnTop;
  return sagittaAgainstTime({
    aperture: record.settings.aperture,
    readings: log.input.readings.map((one) => ({
      minutes: one.afterMin,
      sagitta: one.sagitta,
      setAside: aside(one),
    })),
    target: log.target,
    stop: log.stopAt,
    whose,
    ...(line.length > 1 ? { line } : {}),
    ...(forecast.length > 1 ? { forecast } : {}),
    ...(rate === undefined ? {} : { rate }),
    ...(says === undefined ? {} : { says }),
  });
}

/**
 * Depth against minutes as a mirror's log stood at some minute, with line, band and forecast.
 *
 * @param minute  later minutes and readings are covered
 * @param says    the finding in bold under the figure
 * @throws {RangeError} where the log has nothing up to then
 */
export function depthPicture(mirror: Mirror, minute: number, says?: string): Shown {
  return depthFigure(requireLog("depthPicture", mirror, minute), mirror, "demo", says);
}

function numbersOf(log: LogUpTo): Shown {
  const { rates, sagittaNow, overshoot } = log, meeting = meetingOf(log);
  const mm = (value: number): string => `${value.toFixed(3)}\u2009mm`;
  const rows: (readonly [string, string | Measured | Html | undefined])[] = [
    ["Sagitta now", sagittaNow && quantityHtml(sagittaNow)],
    ["Target, when all is ground", mm(log.target)],
    ["Stop rough grinding at", mm(log.stopAt)],
    ["Deepens, mirror on top", rates.mirrorOnTop],
    ["Flattens, tool on top", rates.toolOnTop],
    ["Too deep by", overshoot],
    [`To go, ${log.nextPosition}`, meeting?.minutes],
    ["That is, at 95 %", meeting && between(meeting.interval95)],
    ["No forecast yet", log.whyNot],
  ];
  return facts(
    rows.flatMap(([name, value]) => value === undefined ? [] : [[name, value] as const]),
  );
}

function between([low, high]: readonly [number, number]): string {
  return `${low.toFixed(1)} to ${high.toFixed(1)}\u2009min`;
}

/** What the log says in numbers at some minute: depth, rates, stop, minutes to go. */
export function depthNumbers(mirror: Mirror, minute: number): Shown {
  return numbersOf(requireLog("depthNumbers", mirror, minute));
}

const depthPart: Part = {
  name: "depth against minutes",
  count: (mirror) => roughLog(mirror)?.input.readings.length ?? 0,
  show: (mirror, whose) => {
    const log = roughLog(mirror);
    if (log === undefined) return [];
    const least = decision("forecast_readings_least");
    const few = (log.fit?.used.length ?? 0) < least
      ? [note(`Can’t forecast yet: it takes ${least} depths after the first minutes.`)]
      : [];
    return [depthFigure(log, mirror, whose), ...few, numbersOf(log)];
  },
  how:
    "Write every charge into grinding.csv with its minutes, and every 20 minutes a leaf reading into sagitta.csv. " +
    "From four depths on there is a forecast.",
};

/** The reader's depth against minutes, with line, band, target and stop; the demo's where there is no log. */
export function yourDepth(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(depthPart, yours, demo);
}

/** The last depth before a minute, covered: what the earlier ones foretell for it, and what was read. */
export function coverLast(mirror: Mirror, minute: number): Shown {
  const all = requireLog("coverLast", mirror, minute), last = all.input.readings.at(-1);
  const before = last && logUpTo(mirror, last.afterMin - 1e-6);
  const fit = before?.fit;
  if (last === undefined || fit === undefined) {
    throw new RangeError(`coverLast requires four depths by minute ${minute}, got fewer`);
  }
  const foretold = depthAt(fit, all.grinding.at(last.afterMin));
  const one = { value: last.sagitta, u: last.u, dof: Infinity, unit: "mm" };
  return facts([
    [`Foretold for minute ${last.afterMin}`, foretold],
    ["At 95 %", interval(foretold).map((v) => v.toFixed(3)).join(" to ") + "\u2009mm"],
    ["Read there", one],
    ["Apart by", `${((one.value - foretold.value) * 1000).toFixed(1)}\u2009µm`],
  ]);
}

/** The log of a reader from four depths on, up to its last rough minute; nothing where it does not reach. */
function ownLog(mirror: Mirror): { readonly log: LogUpTo; readonly minute: number } | undefined {
  const log = roughLog(mirror), minute = log?.grinding.roughMinutes ?? NaN;
  const enough = (log?.fit?.used.length ?? 0) >= decision("forecast_readings_least");
  return log !== undefined && enough ? { log, minute } : undefined;
}

/** The demo's forecasts, and below them the reader's own, depth by depth, from four depths on. */
export function withOwnForecasts(example: Shown, yours: Mirror): Shown {
  const own = ownLog(yours);
  const shown = own === undefined ? [] : [forecastByReadings(yours, own.minute)];
  return withOwn(example, yours, "the stopping minute, depth by depth", shown);
}

/** The demo's last depth covered, and below it the reader's own, from five depths on. */
export function withOwnCover(example: Shown, yours: Mirror): Shown {
  const own = ownLog(yours), last = own?.log.input.readings.at(-1);
  const before = last && logUpTo(yours, last.afterMin - 1e-6);
  const shown = own === undefined || before?.fit === undefined
    ? []
    : [coverLast(yours, own.minute)];
  return withOwn(example, yours, "the last depth, covered", shown);
}

/** The stopping minute as it was foretold after each depth in turn: how the interval shrinks. */
export function forecastByReadings(mirror: Mirror, minute: number): Shown {
  const { input } = requireLog("forecastByReadings", mirror, minute);
  const minutes = [...new Set(input.readings.map(({ afterMin }) => afterMin))];
  const rows = minutes.map((at) => {
    const log = requireLog("forecastByReadings", mirror, at), meeting = meetingOf(log);
    const [low, high] = meeting?.interval95 ?? [];
    const ends = low === undefined || high === undefined
      ? "can’t forecast yet"
      : `${(at + low).toFixed(1)} to ${(at + high).toFixed(1)}`;
    const stop = meeting && (at + meeting.minutes.value).toFixed(1);
    return { cells: [at, log.used.length, stop, ends] };
  });
  return readingsTable("The stopping minute, foretold", [
    { title: "Read up to", unit: "min" },
    { title: "Depths used" },
    { title: "Stop at", unit: "min" },
    { title: "At 95 %", unit: "min" },
  ], rows);
}

type State = "none" | "grind" | "measure" | "swap" | "on";

/** Where the depth stands, and what `curveLog` advises for it. */
function stateOf(log: LogUpTo | undefined): State {
  if (log === undefined) return "none";
  const { do: what } = log.advice;
  return what === "go to the finer grades" ? "on" : what;
}

function sayWhat(state: State, log: LogUpTo | undefined): readonly [title: string, what: string] {
  const minutes = log?.advice.minutes?.toFixed(1) ?? "some";
  const told: Readonly<Record<State, readonly [string, string]>> = {
    none: ["measure", "Keep the log, and read the depth every 20 minutes."],
    grind: ["go on", `Grind ${minutes} minutes more, mirror on top, and measure again.`],
    measure: ["measure again", "Measure on other diameters before you grind on."],
    swap: ["swap", `Tool on top for ${minutes} minutes, then measure.`],
    on: ["stop here", "The depth is right: wash everything, and go on to the finer grades."],
  };
  return told[state];
}

/** What the depth calls for: go on, stop, swap, or measure again. */
export function decideDepth(mirror: Mirror): Shown {
  const log = logUpTo(mirror), state = stateOf(log), [title, what] = sayWhat(state, log);
  const tolerance = decision("depth_tolerance").toFixed(3);
  const percent = `${decision("swap_share") * 100}\u2009%`;
  const scale = log && depthScale(log, mirror);
  return decide({
    title,
    do: what,
    ...(scale === undefined ? {} : { scale }),
    choices: [
      {
        name: "Stop here",
        when: `within ${tolerance} mm and twice u of the depth wanted: on to the finer grades.`,
        chosen: state === "on",
      },
      {
        name: "Go on",
        when: "when too shallow: for half of the forecast, then read.",
        chosen: state === "grind",
      },
      {
        name: "Swap",
        when: `when too deep by more than that: tool on top, ${percent} of the minutes, then read.`,
        chosen: state === "swap",
      },
      {
        name: "Measure again",
        when: "when too deep by less than twice u, or with fewer than four depths.",
        chosen: state === "measure" || state === "none",
      },
    ],
  });
}

function depthScale(log: LogUpTo, { record }: Mirror): Shown | undefined {
  const { sagittaNow, stopAt, target } = log, tolerance = decision("depth_tolerance");
  if (sagittaNow === undefined) return undefined;
  const reach = Math.max(4 * tolerance, 1.4 * Math.abs(sagittaNow.value - target));
  return decisionScale({
    from: stopAt - reach,
    to: target + reach,
    title: `Sagitta at the full ${record.settings.aperture} mm (mm)`,
    digits: 3,
    zones: [
      { name: "go on", to: stopAt - tolerance },
      { name: "stop", to: target + tolerance, limit: true },
      { name: "swap", tone: "past" },
    ],
    value: sagittaNow.value,
    interval: interval(sagittaNow),
  });
}

// The log of grinding up to some minute: its line with its band, and where the line leads.

/** A log read up to some minute, with what lies behind it. */
export interface LogUpTo extends CurveLog {
  readonly input: CurveLogInput;
  readonly grinding: GrindingLog;
  /** absent with too few readings for a line */
  readonly fit?: DepthFit;
}

/** The log's lines up to a minute, the last one cut there. */
function intervalsUpTo({ grinding }: MirrorRecord, minute: number): CurveLogInput["intervals"] {
  let before = 0;
  return grinding.filter((row) => grainUm(row.abrasive) !== undefined).flatMap((row) => {
    const minutes = Math.min(row.minutes, minute - before);
    before += row.minutes;
    return minutes > 0 ? [{ ...row, minutes }] : [];
  });
}

/**
 * A mirror's log and depths as they stood at some minute: rates, forecast, overshoot, what to do.
 *
 * @param minute  of grinding; what was done or read later is covered; default all of the log
 * @returns `undefined` without a log or without a depth
 * @throws {RangeError} for a log that cannot be read
 */
export function logUpTo({ record }: Mirror, minute = Infinity): LogUpTo | undefined {
  const intervals = intervalsUpTo(record, minute);
  const readings = record.sagitta.flatMap((row) => depthReading(row, record.settings) ?? [])
    .filter(({ afterMin }) => afterMin <= minute).sort((a, b) => a.afterMin - b.afterMin);
  if (intervals.length === 0 || readings.length === 0) return undefined;
  const { aperture, focalLength } = record.settings;
  const grades = grainSizes(intervals.map(({ abrasive }) => abrasive));
  const grinding = readGrindingLog(intervals, grades);
  const input = {
    intervals,
    readings,
    grades,
    target: sagitta(aperture, 2 * focalLength),
    allowance: allowanceAfter(grinding.grade),
  };
  const log = curveLog(input);
  const inLine = readings.filter(({ afterMin }) =>
    afterMin >= fact("fast_start") && afterMin <= grinding.roughMinutes + 0.5
  );
  const fit = fitDepths(inLine.map((one) => ({ ...one, clocks: grinding.at(one.afterMin) })));
  return { ...log, input, grinding, ...(fit && { fit }) };
}

/** A place on the line: minutes of grinding, depth in mm with its 95 % interval. */
export interface LinePoint {
  readonly minutes: number;
  readonly sagitta: number;
  readonly low: number;
  readonly high: number;
}

function pointAt(minutes: number, depth: Measured): LinePoint {
  const [low, high] = interval(depth);
  return { minutes, sagitta: depth.value, low, high };
}

/** The fitted line, at the log's corners and every five minutes between. */
export function lineOf({ fit, grinding, input }: LogUpTo): readonly LinePoint[] {
  if (fit === undefined) return [];
  const first = fit.used[0]?.afterMin ?? 0, last = input.readings.at(-1)?.afterMin ?? 0;
  let minute = 0;
  const corners = input.intervals.map(({ minutes }) => minute += minutes);
  const places = Array.from({ length: Math.ceil((last - first) / 5) }, (_, i) => first + 5 * i);
  const all = [...new Set([...places, ...corners.filter((at) => at > first && at < last), last])];
  return all.sort((a, b) => a - b).map((at) => pointAt(at, depthAt(fit, grinding.at(at))));
}

/** From the last reading to the stop, or to the target where the way is back; nothing once it is deep enough. */
export function meetingOf({ toStop, toTarget, advice }: CurveLog): Meeting | undefined {
  return advice.do === "go to the finer grades" ? undefined : toStop ?? toTarget;
}

/** From the last reading to where the log should end, by the line carried on; empty without a forecast. */
export function forecastOf(log: LogUpTo): readonly LinePoint[] {
  const meeting = meetingOf(log), last = log.fit?.used.at(-1);
  if (meeting === undefined || log.fit === undefined || last === undefined) return [];
  const depth = ahead(log.fit, last.clocks, log.nextPosition, log.grinding.share);
  return [0, 0.25, 0.5, 0.75, 1].map((share) => {
    const minutes = share * meeting.minutes.value, { value, u } = depth(minutes);
    return pointAt(last.afterMin + minutes, {
      value,
      u,
      dof: log.fit?.dof ?? Infinity,
      unit: "mm",
    });
  });
}

/** The log up to a minute. @throws {RangeError} where there is nothing up to then */
export function requireLog(name: string, mirror: Mirror, minute: number): LogUpTo {
  const log = logUpTo(mirror, minute);
  if (log !== undefined) return log;
  throw new RangeError(
    `${name} requires a log and a depth by the minute asked, got none by ${minute}`,
  );
}

// The last minutes before and after the stop, drawn large: how far from it in micrometres.

/** How far back the drawing goes, min. */
const lastMinutes = 15;

/** A place in micrometres over the stop. */
interface Over {
  readonly minutes: number;
  readonly um: number;
  readonly low: number;
  readonly high: number;
}

interface Near {
  readonly readings: readonly { readonly minutes: number; readonly um: number }[];
  readonly line: readonly Over[];
  readonly forecast: readonly Over[];
  readonly target: number;
}

function nearOf(mirror: Mirror, minute: number): Near {
  const log = requireLog("nearStop", mirror, minute);
  const um = (depth: number): number => 1000 * (depth - log.stopAt);
  const over = ({ minutes, sagitta, low, high }: LinePoint): Over => (
    { minutes, um: um(sagitta), low: um(low), high: um(high) }
  );
  const from = (log.input.readings.at(-1)?.afterMin ?? 0) - lastMinutes;
  const aside = log.setAside.map(({ file, line }) => `${file} ${line}`);
  const kept = log.input.readings.filter(({ file, line, afterMin }) =>
    afterMin >= from && !aside.includes(`${file} ${line}`)
  );
  return {
    readings: kept.map(({ afterMin, sagitta }) => ({ minutes: afterMin, um: um(sagitta) })),
    line: lineOf(log).filter(({ minutes }) => minutes >= from).map(over),
    forecast: forecastOf(log).map(over),
    target: um(log.target),
  };
}

function draw(near: Near, width: number, finding: string): Html {
  const { readings, line, forecast, target } = near, narrow = isNarrow(width);
  const all = [...line, ...forecast], place = { x: "minutes", y: "um" } as const;
  const minutes = extent([...all, ...readings].map((p) => p.minutes), 0.05);
  const heights = extent([0, target, ...[...all, ...readings].map((p) => p.um)], 0.15);
  const bands = [line, forecast].filter((points) => points.length > 1);
  return styledPlot({
    width,
    height: narrow ? 300 : 340,
    finding,
    x: { title: "Time of grinding (min)", domain: minutes },
    y: { title: "Deeper than the stop (µm)", domain: heights },
    marks: [
      ...bands.map((points) =>
        Plot.areaY(points, { x: "minutes", y1: "low", y2: "high", ...band, clip: true })
      ),
      Plot.ruleY([target], lines.wanted),
      Plot.ruleY([0], lines.limit),
      Plot.text([[minutes[0], target]], { ...onPaper, dx: 4, dy: -9, text: () => "target" }),
      Plot.text([[minutes[0], 0]], {
        ...onPaper,
        dx: 4,
        dy: 11,
        text: () => "stop",
        fill: "var(--rouge)",
      }),
      Plot.line(line, { ...place, ...lines.demo }),
      ...(forecast.length > 1 ? [Plot.line(forecast, { ...place, ...lines.forecast })] : []),
      Plot.dot(readings, { ...place, ...dots.demo }),
    ],
  }, plotDocument());
}

/**
 * A mirror's last quarter of an hour up to some minute, in micrometres from where rough grinding should stop.
 *
 * @param minute  later minutes and readings are covered
 * @param says    the finding in bold under the figure
 * @throws {RangeError} where the log has nothing up to then
 */
export function nearStop(mirror: Mirror, minute: number, says: string): Shown {
  const near = nearOf(mirror, minute), end = near.line.at(-1), ahead = near.forecast.at(-1);
  const finding = `Micrometres deeper than the stop, against minutes. ${says}` +
    (end === undefined
      ? ""
      : ` At minute ${end.minutes} the line stands at ${end.um.toFixed(0)}.`) +
    (ahead === undefined
      ? ""
      : ` It leads back to ${ahead.um.toFixed(0)} at minute ${ahead.minutes.toFixed(1)}.`);
  return figure({
    finding,
    caption: safe`<b>${says}</b> The band is a 95 % interval of the line.${
      near.forecast.length > 1 && " Dots are a forecast."
    } Open marks: demo mirror, not yours.`,
    draw: (width) => draw(near, width, finding),
  });
}
