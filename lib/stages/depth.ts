/** The stage of the depth: depth against minutes, what a forecast is worth, and when to stop or turn over. */
import { facts, note, readingsTable } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { decisionScale } from "../figures/drawings/decisionScale.ts";
import type { Html } from "../figures/html.ts";
import { sagittaAgainstTime } from "../figures/plots/sagittaAgainstTime.ts";
import type { Shown } from "../figures/show.ts";
import { quantityHtml } from "../figures/words.ts";
import { interval } from "../quantity/coverage.ts";
import type { Measured } from "../quantity/measured.ts";
import type { Mirror } from "../knowledge/open.ts";
import { decision } from "../record/tables.ts";
import { depthAt } from "../shaping/grinding/depthAhead.ts";
import type { DepthReading } from "../shaping/grinding/grindingLog.ts";
import { forecastOf, lineOf, type LogUpTo, logUpTo, meetingOf, requireLog } from "./depthLog.ts";
import { ownOrDemo, type Part, type Whose } from "./whose.ts";

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
