/** The grinding log and the depths measured on the way: rates, depth now, when to stop, how to come back. */
import { type Measured, measured } from "../../quantity/measured.ts";
import {
  type ClockedReading,
  clockSpan,
  type DepthColumns,
  type DepthFit,
  fitDepths,
  type SetAsideReading,
} from "./depthColumns.ts";
import {
  type Foreseen,
  meet,
  type Meeting,
  type OvershootPlan,
  overshootPlan,
} from "./forecast.ts";
import {
  type Clocks,
  type DepthReading,
  type GrainSize,
  type GrindingLog,
  type LogInterval,
  type Position,
  readGrindingLog,
} from "./grindingLog.ts";

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

export interface CurveLog {
  /** today's, um/min, both counted positive, in the rough grade `grade` */
  readonly rates: Rates;
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
  /** the way back from an overshoot; its u takes depth and rate as found independently, as one would on paper */
  readonly plan?: OvershootPlan;
  readonly advice: Advice;
  /** readings of the first minutes, which run fast, and readings that were misread */
  readonly setAside: readonly SetAsideReading[];
  /** readings that the rates rest on */
  readonly used: readonly DepthReading[];
}

/** The first minutes run fast: the discs do not yet fit one another. */
const fastStartMinutes = 12;
/** Fewer depths than this in the log, and there is no forecast. */
const forecastLeast = 4;

/**
 * Reads log and depths together.
 *
 * The depth is a plane over two clocks, minutes with the mirror on top and minutes with the tool on top:
 *
 *     s = start + r_top x top - r_bottom x bottom (+ a slow drift of both, where it shows)
 *
 * Every reading counts alike. Left out are readings of the first 12 minutes, which run fast, and misread rows, each
 * named with file, line and reason. Minutes of another grade count by its grain over that of the grade in use. Once the
 * log has gone on to grades finer than 60 um, the depth now is the mean of the last readings, the rates stay those of
 * the rough grade used longest, and nothing is forecast.
 *
 * No forecast is surer than the brackets allow (see `fitColumns`). Over 400 invented logs of each kind the 95 % interval of
 * the stopping minute held in 94 of 100 with brackets of 0.01 and 0.02 mm, in 96 with 0.05 mm, in 95 where the rate falls by
 * 30 %; with only six depths, where a drift cannot be told from scatter, in 90.
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
  const sagittaNow = isFine || !fit || !last ? latest(readings) : depthAt(fit, last.clocks);
  const state = { log, fit, sagittaNow, isFine, target, stopAt: target - allowance, last };
  const rates = fit && last ? ratesAt(fit, isFine ? log.at(log.roughMinutes) : last.clocks) : {};
  const compared = compare(state, rates);
  const meetings = forecast(state, compared.nextPosition);
  return {
    rates,
    grade: log.grade,
    ...(fit && { start: startOf(fit) }),
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

type Compared = Pick<CurveLog, "overshoot" | "plan" | "onTarget" | "nextPosition">;
type Meetings = Pick<CurveLog, "canForecast" | "whyNot" | "toTarget" | "toStop">;

function compare({ sagittaNow, target, isFine }: State, rates: Rates): Compared {
  if (!sagittaNow) return { onTarget: false, nextPosition: "mirror on top" };
  const off = sagittaNow.value - target;
  const onTarget = Math.abs(off) <= Math.min(2 * sagittaNow.u, depthTolerance);
  const nextPosition = off > 0 ? "tool on top" : "mirror on top";
  if (off <= 0 || onTarget) return { onTarget, nextPosition };
  const overshoot = measured(off * 1000, sagittaNow.u * 1000, "um", sagittaNow.dof);
  const rate = rateBack(rates);
  return {
    onTarget,
    nextPosition,
    overshoot,
    ...(rate && !isFine && { plan: overshootPlan(overshoot, rate) }),
  };
}

/** Measured, or taken over from the other position; absent where it is not above its own doubt. */
function rateBack({ mirrorOnTop, toolOnTop }: Rates): Measured | undefined {
  const rate = toolOnTop ?? (mirrorOnTop && {
    ...mirrorOnTop,
    u: Math.hypot(mirrorOnTop.u, borrowedRate * mirrorOnTop.value),
  });
  return rate && rate.value > 2 * rate.u ? rate : undefined;
}

function forecast(state: State, position: Position): Meetings {
  const { fit, log, last, isFine, target, stopAt } = state;
  const cannot = (whyNot: string): Meetings => ({ canForecast: false, whyNot });
  if (!last) return cannot("no depth has been measured yet");
  if (isFine) return cannot(`${log.gradeNow} hardly changes the depth any more`);
  if (!fit || fit.used.length < forecastLeast) {
    return cannot(`fewer than ${forecastLeast} depths after the first ${fastStartMinutes} minutes`);
  }
  const toTarget = meetWarily(state, position, target);
  if (!toTarget) return cannot("the rate is not known well enough to say");
  const isAhead = position === "mirror on top" && stopAt > depthAt(fit, last.clocks).value;
  const toStop = isAhead ? meetWarily(state, position, stopAt) : undefined;
  return { canForecast: true, toTarget, ...(toStop && { toStop }) };
}

/** The interval also covers what a drift too small to show would do. */
function meetWarily(
  { fit, last, log }: State,
  position: Position,
  target: number,
): Meeting | undefined {
  if (!fit || !last) return undefined;
  const plain = meet(ahead(fit, last.clocks, position, log.share), target, fit.dof);
  if (!plain || !fit.wary) return plain;
  const wary = meet(ahead(fit.wary, last.clocks, position, log.share), target, fit.wary.dof);
  if (!wary) return undefined;
  const [a, b] = plain.interval95, [c, d] = wary.interval95;
  return { ...plain, interval95: [Math.min(a, c), Math.max(b, d)] as const };
}

function driftShare({ coefficients, used }: DepthFit): number {
  const { early, late } = clockSpan(used);
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

// What a fit of the log says: the depth at any reading of the clocks, the rates there, the depth to come.

/** Relative u of a rate taken over from the other position: the model says equal, hands and discs differ. */
export const borrowedRate = 0.15;

/** Today's rates in um/min, both counted positive; a position never measured is absent. */
export interface Rates {
  readonly mirrorOnTop?: Measured;
  readonly toolOnTop?: Measured;
}

/** Depth when the clocks show this, mm. */
export function depthAt(fit: DepthColumns, { top, bottom, drift }: Clocks): Measured {
  return combination(fit, [1, top, bottom, drift], 1, "mm");
}

/** Rates when the clocks show this. */
export function ratesAt(fit: DepthColumns, { top, bottom }: Clocks): Rates {
  const now = top + bottom;
  return {
    ...(fit.has.top && { mirrorOnTop: combination(fit, [0, 1, 0, now], 1000, "um/min") }),
    ...(fit.has.bottom && { toolOnTop: combination(fit, [0, 0, -1, now], 1000, "um/min") }),
  };
}

/** Where the line begins at minute 0, um. */
export function startOf(fit: DepthColumns): Measured {
  return combination(fit, [1, 0, 0, 0], 1000, "um");
}

/**
 * Depth foreseen, minutes from a reading, in one position.
 *
 * @param share  how fast the grade in use wears, against the one whose minutes the clocks count
 */
export function ahead(
  known: DepthColumns,
  from: Clocks,
  position: Position,
  share: number,
): Foreseen {
  const fit = withBothRates(known);
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
function withBothRates(fit: DepthColumns): DepthColumns {
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

function combination(
  fit: DepthColumns,
  row: readonly number[],
  scale: number,
  unit: string,
): Measured {
  let value = 0, variance = 0;
  row.forEach((a, i) => {
    value += a * (fit.coefficients[i] ?? 0);
    row.forEach((b, j) => variance += a * b * (fit.covariance[i]?.[j] ?? 0));
  });
  return measured(value * scale, Math.sqrt(Math.max(0, variance)) * scale, unit, fit.dof);
}

// What to do next at the bench, once log and depths have been read.

export interface Advice {
  readonly do: "measure" | "grind" | "swap" | "go to the finer grades";
  /** how long, before the next reading, min; for "grind" and "swap" */
  readonly minutes?: number;
  readonly why: string;
}

/** What the advice rests on. */
export interface Standing {
  /** mm */
  readonly sagittaNow: Measured | undefined;
  /** mm */
  readonly target: number;
  /** mm */
  readonly stopAt: number;
  readonly onTarget: boolean;
  /** whether the log has gone on to the finer grades */
  readonly isFine: boolean;
  /** um */
  readonly overshoot?: Measured;
  readonly plan?: OvershootPlan;
  readonly toTarget?: Meeting;
  readonly toStop?: Meeting;
  readonly whyNot?: string;
}

/** mm: depth and target agree within this and within two standard uncertainties. */
export const depthTolerance = 0.01;
/** Grind on for this share of the forecast, then measure. */
const forecastShare = 0.5;
/** Nearer than this the whole forecast is ground at once, min. */
const shortSession = 5;

/**
 * The next step: measure, grind on for half of the forecast, swap for 60 % of the plan, or go to the finer grades.
 *
 * An overshoot smaller than twice its uncertainty is measured again before anything is done about it. Near the end, or
 * where the forecast is hardly surer than a third of itself, the whole of it is ground.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const sagittaNow = { value: 1.18, u: 0.006, dof: 8, unit: "mm" };
 * const overshoot = { value: 8, u: 6, dof: 8, unit: "um" };
 * const target = 1.172;
 * const next = advise({ sagittaNow, overshoot, target, stopAt: 1.168, onTarget: false, isFine: false });
 * assert.equal(next.do, "measure");
 * ```
 */
export function advise(standing: Standing): Advice {
  const { sagittaNow, stopAt, target, overshoot, plan, isFine, onTarget } = standing;
  if (!sagittaNow) return { do: "measure", why: "no depth has been measured yet" };
  const { value, u } = sagittaNow;
  const isDeepEnough = value >= stopAt - Math.min(2 * u, depthTolerance);
  if (isFine || onTarget || (isDeepEnough && !overshoot)) {
    const side = value > target ? "deeper" : "shallower";
    return {
      do: "go to the finer grades",
      why: `${um(value - target)} µm ${side} than the target`,
    };
  }
  if (overshoot && overshoot.value <= 2 * overshoot.u) {
    return { do: "measure", why: "the overshoot is smaller than twice its uncertainty" };
  }
  if (plan) {
    return { do: "swap", minutes: plan.workMinutes, why: `${um(value - target)} µm too deep` };
  }
  return onwards(standing, stopAt - value);
}

function onwards({ toStop, toTarget, whyNot }: Standing, left: number): Advice {
  const meeting = toStop ?? toTarget;
  if (!meeting) return { do: "measure", why: whyNot ?? "the rate is not known well enough" };
  const { value, u } = meeting.minutes;
  const minutes = value < 3 * u || value < shortSession ? value : forecastShare * value;
  return { do: "grind", minutes, why: `${um(left)} µm to go` };
}

function um(mm: number): string {
  return Math.round(Math.abs(mm) * 1000).toString();
}
