/** The grinding log and the depths measured on the way: rates, depth now, when to stop, how to come back. */
import { type Measured, measured } from "../../quantity/measured.ts";
import { type Advice, advise, depthTolerance } from "./curveAdvice.ts";
import { ahead, borrowedRate, depthAt, type Rates, ratesAt, startOf } from "./depthAhead.ts";
import type { ClockedReading } from "./depthColumns.ts";
import { clockSpan, type DepthFit, fitDepths } from "./depthFit.ts";
import { meet, type Meeting } from "./forecast.ts";
import {
  type DepthReading,
  type GrainSize,
  type GrindingLog,
  type LogInterval,
  type Position,
  readGrindingLog,
} from "./grindingLog.ts";
import type { SetAsideReading } from "./misreadDepths.ts";
import { type OvershootPlan, overshootPlan } from "./overshoot.ts";

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
