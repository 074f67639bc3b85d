/** The log of grinding up to some minute: its line with its band, and where the line leads. */
import { sagitta } from "../optics/sphere.ts";
import { interval } from "../quantity/coverage.ts";
import type { Measured } from "../quantity/measured.ts";
import { depthReading } from "../knowledge/depthReading.ts";
import { allowanceAfter, grainSizes } from "../knowledge/grindingSummary.ts";
import type { Mirror } from "../knowledge/open.ts";
import { grainUm } from "../knowledge/rules.ts";
import { decision } from "../record/tables.ts";
import type { MirrorRecord } from "../record/types.ts";
import { type CurveLog, curveLog, type CurveLogInput } from "../shaping/grinding/curveLog.ts";
import { ahead, depthAt } from "../shaping/grinding/depthAhead.ts";
import { type DepthFit, fitDepths } from "../shaping/grinding/depthFit.ts";
import type { Meeting } from "../shaping/grinding/forecast.ts";
import { type GrindingLog, readGrindingLog } from "../shaping/grinding/grindingLog.ts";

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
    afterMin >= decision("fast_start") && afterMin <= grinding.roughMinutes + 0.5
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
