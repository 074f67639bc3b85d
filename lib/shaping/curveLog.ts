/** The grinding log and the depths measured on the way: rates, depth now, when to stop, how to come back. */
import { type Measured, measured } from "../quantity/measured.ts";
import { type ClockedReading, type DepthFit, fitDepths, type SetAsideReading } from "./depthFit.ts";
import { meet, type Meeting } from "./forecast.ts";
import {
  type Clocks,
  type DepthReading,
  type GrainSize,
  type GrindingLog,
  type LogInterval,
  type Position,
  readGrindingLog,
} from "./grindingLog.ts";
import { swapShare } from "./overshoot.ts";

export interface CurveLogInput {
  /** lines of the log in the order of the work, at least one */
  readonly intervals: readonly LogInterval[];
  /** depths in the order of the work */
  readonly readings: readonly DepthReading[];
  /** sagitta wanted at the full aperture when all grinding is done, mm */
  readonly target: number;
  /** what the finer grades will still add, mm; from `fineAllowance`, default 0 */
  readonly allowance?: number;
  /** grain sizes of all grades in the log; needed where there is more than one */
  readonly grades?: readonly GrainSize[];
}

export interface Advice {
  readonly do: "measure" | "grind" | "swap" | "go to the finer grades";
  /** how long, before the next reading, min; for "grind" and "swap" */
  readonly minutes?: number;
  readonly why: string;
}

export interface CurveLog {
  /** today's, um/min, both counted positive, in the rough grade `grade` */
  readonly rates: { readonly mirrorOnTop?: Measured; readonly toolOnTop?: Measured };
  readonly grade: string;
  /** where the line begins at minute 0, um: the fast start and the gauge's zero */
  readonly start?: Measured;
  /** how the rate changed over the log as a share of itself, where that shows */
  readonly drift?: number;
  /** at the last reading, mm */
  readonly sagittaNow?: Measured;
  readonly target: number;
  /** where rough grinding stops: target less allowance, mm */
  readonly stopAt: number;
  /** sagittaNow less target, um, where it is deeper and not on target */
  readonly overshoot?: Measured;
  /** within 0.010 mm and two standard uncertainties */
  readonly onTarget: boolean;
  readonly nextPosition: Position;
  readonly canForecast: boolean;
  /** why it cannot forecast yet */
  readonly whyNot?: string;
  /** from the last reading to the target in `nextPosition` */
  readonly toTarget?: Meeting;
  /** from the last reading to `stopAt`, where that lies ahead with the mirror on top */
  readonly toStop?: Meeting;
  readonly advice: Advice;
  /** readings of the first minutes, which run fast, and readings that were misread */
  readonly setAside: readonly SetAsideReading[];
  /** readings that the rates rest on */
  readonly used: readonly DepthReading[];
}

/** The first minutes run fast: the discs do not yet fit one another. */
export const fastStartMinutes = 12;
/** Fewer depths than this in the log, and there is no forecast. */
export const forecastLeast = 4;
/** Relative u of a rate taken over from the other position: the model says equal, hands and discs differ. */
const borrowedRate = 0.15;
/** mm: depth and target agree within this and within two standard uncertainties. */
const depthTolerance = 0.01;
/** Grind on for this share of the forecast, then measure. */
const forecastShare = 0.5;

/**
 * Reads log and depths together.
 *
 * The depth is a plane over two clocks, minutes with the mirror on top and minutes with the tool on top:
 *
 *     s = start + r_top x top - r_bottom x bottom (+ a slow drift of both, where it shows)
 *
 * Every reading counts alike. Left out are readings of the first 12 minutes, which run fast, and misread rows, each named with
 * file, line and reason. Rates rest on rough grinding: minutes of a second rough grade count by its grain over that of
 * the rough grade last in use, and once the log has gone on to grades finer than 60 um, the depth now is the mean of
 * the last readings, the rates stay those of rough grinding, and nothing is forecast.
 *
 * @throws {RangeError} for a log that cannot be (see `readGrindingLog`), readings that run backwards, or a target not above 0
 * @example six depths, mirror on top
 * ```ts
 * import assert from "node:assert/strict";
 * const file = "grinding.csv";
 * const depths = [0.2018, 0.3881, 0.5640, 0.7451, 0.9262, 1.1073];
 * const log = curveLog({
 *   intervals: [{ minutes: 120, position: "mirror on top", abrasive: "F80", file, line: 2 }],
 *   readings: depths.map((sagitta, i) => (
 *     { afterMin: 20 * (i + 1), sagitta, u: 0.004, file: "sagitta.csv", line: i + 2 }
 *   )),
 *   target: 1.168,
 * });
 * assert.equal(log.rates.mirrorOnTop?.value.toFixed(2), "9.03");
 * assert.equal(log.toTarget?.minutes.value.toFixed(0), "7");
 * ```
 */
export function curveLog(input: CurveLogInput): CurveLog {
  const { target, allowance = 0 } = input;
  requireInput(input);
  const log = readGrindingLog(input.intervals, input.grades);
  const readings = input.readings.map((one) => ({ ...one, clocks: log.at(one.afterMin) }));
  const rough = readings.filter(({ afterMin }) => afterMin <= log.roughMinutes + 0.5);
  const late = rough.filter(({ afterMin }) => afterMin >= fastStartMinutes);
  const fit = fitDepths(late);
  const last = readings[readings.length - 1];
  const isFine = last !== undefined && rough.length < readings.length;
  const sagittaNow = isFine || !fit ? latest(readings) : depthAt(fit, last?.clocks);
  const state = { log, fit, sagittaNow, isFine, target, stopAt: target - allowance, last };
  const compared = compare(state);
  const meetings = forecast(state, compared.nextPosition);
  return {
    rates: fit && last ? ratesAt(fit, isFine ? log.at(log.roughMinutes) : last.clocks) : {},
    grade: log.grade,
    ...(fit && { start: inUm(fit.coefficients[0], fit.covariance[0]?.[0], fit.dof, "um") }),
    ...(fit?.has.drift && { drift: driftShare(fit) }),
    ...(sagittaNow && { sagittaNow }),
    target,
    stopAt: state.stopAt,
    ...compared,
    ...meetings,
    advice: advise({ ...state, ...compared, ...meetings }),
    setAside: [...fastStart(rough), ...(fit?.setAside ?? [])],
    used: fit?.used ?? [],
  };
}

interface State {
  readonly log: GrindingLog;
  readonly fit: DepthFit | undefined;
  readonly sagittaNow: Measured | undefined;
  readonly isFine: boolean;
  readonly target: number;
  readonly stopAt: number;
  readonly last: ClockedReading | undefined;
}

type Compared = Pick<CurveLog, "overshoot" | "onTarget" | "nextPosition">;
type Meetings = Pick<CurveLog, "canForecast" | "whyNot" | "toTarget" | "toStop">;

function compare({ sagittaNow, target }: State): Compared {
  if (!sagittaNow) return { onTarget: false, nextPosition: "mirror on top" };
  const off = sagittaNow.value - target;
  const onTarget = Math.abs(off) <= Math.min(2 * sagittaNow.u, depthTolerance);
  return {
    onTarget,
    nextPosition: off > 0 ? "tool on top" : "mirror on top",
    ...(off > 0 && !onTarget && {
      overshoot: measured(off * 1000, sagittaNow.u * 1000, "um", sagittaNow.dof),
    }),
  };
}

function forecast(state: State, position: Position): Meetings {
  const { fit, log, last, isFine, target, stopAt } = state;
  const cannot = (whyNot: string): Meetings => ({ canForecast: false, whyNot });
  if (!last) return cannot("no depth has been measured yet");
  if (isFine) return cannot(`${log.gradeNow} hardly changes the depth any more`);
  if (!fit || fit.used.length < forecastLeast) {
    return cannot(`fewer than ${forecastLeast} depths after the first ${fastStartMinutes} minutes`);
  }
  const whole = withBothRates(fit);
  const toTarget = meet(ahead(whole, last.clocks, position, log.share), target, fit.dof);
  if (!toTarget) return cannot("the rate is not known well enough to say");
  const toStop = position === "mirror on top" && stopAt > depthAt(fit, last.clocks).value
    ? meet(ahead(whole, last.clocks, position, log.share), stopAt, fit.dof)
    : undefined;
  return { canForecast: true, toTarget, ...(toStop && { toStop }) };
}

/** Depth and its uncertainty, minutes from the last reading, in one position and the grade now in use. */
function ahead(
  fit: DepthFit,
  from: Clocks,
  position: Position,
  share: number,
): (minutes: number) => { value: number; u: number } {
  const sign = position === "mirror on top" ? 1 : -1;
  return (minutes) => {
    const x = minutes * share;
    const moment = x * (from.top + from.bottom) + x * x / 2;
    return depthAt(fit, {
      top: from.top + (sign > 0 ? x : 0),
      bottom: from.bottom + (sign > 0 ? 0 : x),
      drift: from.drift + sign * moment,
    });
  };
}

/** Where one position was never measured, it is taken to run as fast as the other, with 15 % for the doubt. */
function withBothRates(fit: DepthFit): DepthFit {
  if (fit.has.top && fit.has.bottom) return fit;
  const known = fit.has.top ? 1 : 2, missing = 3 - known;
  const source = (i: number): number => i === missing ? known : i;
  const sign = (i: number): number => i === missing ? -1 : 1;
  const rate = fit.coefficients[known] ?? 0;
  const doubt = (borrowedRate * rate) ** 2;
  const [start, , , drift] = fit.coefficients;
  return {
    ...fit,
    coefficients: known === 1 ? [start, rate, -rate, drift] : [start, -rate, rate, drift],
    covariance: [0, 1, 2, 3].map((i) =>
      [0, 1, 2, 3].map((j) =>
        sign(i) * sign(j) * (fit.covariance[source(i)]?.[source(j)] ?? 0) +
        (i === missing && j === missing ? doubt : 0)
      )
    ),
  };
}

function depthAt(fit: DepthFit, clocks: Clocks = { top: 0, bottom: 0, drift: 0 }): Measured {
  return combination(fit, [1, clocks.top, clocks.bottom, clocks.drift], "mm");
}

function ratesAt(fit: DepthFit, { top, bottom }: Clocks): CurveLog["rates"] {
  const now = top + bottom;
  const rate = (row: readonly number[]): Measured => {
    const { value, u, dof } = combination(fit, row, "mm");
    return measured(value * 1000, u * 1000, "um/min", dof);
  };
  return {
    ...(fit.has.top && { mirrorOnTop: rate([0, 1, 0, now]) }),
    ...(fit.has.bottom && { toolOnTop: rate([0, 0, -1, now]) }),
  };
}

function combination(fit: DepthFit, row: readonly number[], unit: string): Measured {
  let value = 0, variance = 0;
  row.forEach((a, i) => {
    value += a * (fit.coefficients[i] ?? 0);
    row.forEach((b, j) => variance += a * b * (fit.covariance[i]?.[j] ?? 0));
  });
  return measured(value, Math.sqrt(Math.max(0, variance)), unit, fit.dof);
}

function inUm(mm: number, variance = 0, dof: number, unit: string): Measured {
  return measured(mm * 1000, Math.sqrt(variance) * 1000, unit, dof);
}

function driftShare({ coefficients, used }: DepthFit): number {
  const clocks = used.map(({ clocks: { top, bottom } }) => top + bottom);
  const early = Math.min(...clocks), late = Math.max(...clocks);
  const rate = coefficients[1] || -coefficients[2];
  return coefficients[3] * (late - early) / (rate + coefficients[3] * early);
}

/** Mean of the readings of the last minute. */
function latest(readings: readonly DepthReading[]): Measured | undefined {
  const last = readings[readings.length - 1];
  if (!last) return undefined;
  const group = readings.filter(({ afterMin }) => afterMin >= last.afterMin - 1);
  const n = group.length;
  const mean = group.reduce((sum, { sagitta }) => sum + sagitta, 0) / n;
  const stated = group.reduce((sum, { u }) => sum + u * u, 0) / n;
  const seen = n > 1
    ? group.reduce((sum, { sagitta }) => sum + (sagitta - mean) ** 2, 0) / (n - 1)
    : 0;
  return measured(
    mean,
    Math.sqrt(Math.max(stated, seen) / n),
    "mm",
    seen > stated ? n - 1 : Infinity,
  );
}

function fastStart(readings: readonly DepthReading[]): SetAsideReading[] {
  return readings.filter(({ afterMin }) => afterMin < fastStartMinutes).map((one) => ({
    file: one.file,
    line: one.line,
    value: one.sagitta,
    why: `the first ${fastStartMinutes} minutes run fast and are left out of the rate`,
  }));
}

function advise(state: State & Compared & Meetings): Advice {
  const { sagittaNow, isFine, stopAt, target, overshoot, toTarget, toStop } = state;
  if (!sagittaNow) return { do: "measure", why: "no depth has been measured yet" };
  const { value, u } = sagittaNow;
  const isDone = value >= stopAt - Math.min(2 * u, depthTolerance) && !overshoot;
  if (isFine || isDone || state.onTarget) {
    return {
      do: "go to the finer grades",
      why: `the depth is ${um(value - target)} um from the target`,
    };
  }
  if (overshoot && overshoot.value <= 2 * overshoot.u) {
    return { do: "measure", why: "the overshoot is smaller than twice its uncertainty" };
  }
  if (overshoot && toTarget) {
    const minutes = swapShare * toTarget.minutes.value;
    return { do: "swap", minutes, why: `${um(overshoot.value / 1000)} um too deep: tool on top` };
  }
  const meeting = toStop ?? toTarget;
  if (!meeting) return { do: "measure", why: state.whyNot ?? "cannot tell yet" };
  const { value: left, u: doubt } = meeting.minutes;
  const minutes = left < 3 * doubt || left < 5 ? left : forecastShare * left;
  return { do: "grind", minutes, why: `${um(stopAt - value)} um to go` };
}

function um(mm: number): string {
  return Math.round(mm * 1000).toString();
}

function requireInput({ readings, target, allowance = 0 }: CurveLogInput): void {
  if (!(target > 0 && Number.isFinite(target) && Number.isFinite(allowance))) {
    throw new RangeError(
      `curveLog requires a target above 0 and a finite allowance in mm, got target=${target}, allowance=${allowance}`,
    );
  }
  let before = 0;
  for (const { afterMin, sagitta, u, file, line } of readings) {
    if (!(afterMin >= before && afterMin < Infinity)) {
      throw new RangeError(
        `curveLog requires readings in the order of the work, got after_min=${afterMin} after ${before} in ${file}, line ${line}`,
      );
    }
    if (!(Number.isFinite(sagitta) && u >= 0 && u < Infinity)) {
      throw new RangeError(
        `curveLog requires finite depths with u of 0 or more, got ${sagitta} and ${u} in ${file}, line ${line}`,
      );
    }
    before = afterMin;
  }
}
