/** The grinding log with the depths read on the way: rates, depth now, how far to the target. */
import { sagitta } from "../optics/sphere.ts";
import { type CurveLog, curveLog, depthTolerance } from "../shaping/grinding/curveLog.ts";
import { fineAllowance } from "../shaping/grinding/ladder.ts";
import {
  type Clocks,
  type GrainSize,
  type GrindingLog,
  readGrindingLog,
  roughSizeUm,
} from "../shaping/grinding/grindingLog.ts";
import { type RateBelief, rateBelief, usualRate } from "../shaping/grinding/usualRate.ts";
import { depthReading, depthsRead, type MethodDepth } from "./depthReading.ts";
import type { Method } from "../measuring/methods/methods.ts";
import { departureFromParaboloid } from "../optics/conic.ts";
import { rectangular } from "../quantity/typeB.ts";
import { mm } from "../quantity/format.ts";
import type { Measured } from "../quantity/measured.ts";
import { groupBy } from "../numeric/groupBy.ts";
import { depthOf, median } from "../record/readings.ts";
import { exactQ, toQ } from "./q.ts";
import { grainUm, ladder } from "./rules.ts";
import type { CurveSummary, DepthChoice, GrindingSummary, Q, SetAside } from "./summaryTypes.ts";
import type { GrindingRow, MirrorRecord, Position, Warning } from "../record/types.ts";

/** Grain sizes of the grades among some names of abrasives. */
export function grainSizes(names: readonly string[]): readonly GrainSize[] {
  return names.flatMap((name) => {
    const sizeUm = grainUm(name);
    return sizeUm === undefined ? [] : [{ name, sizeUm }];
  });
}

/** What the grades after the one in use will still add, mm. */
export function allowanceAfter(grade: string): number {
  const from = grainUm(grade) ?? 0;
  const finer = grainSizes(ladder).filter(({ sizeUm }) => sizeUm < from * 0.95);
  return finer.length === 0
    ? 0
    : fineAllowance({ grades: [{ name: grade, sizeUm: from }, ...finer] });
}

/** What the log says, with readings set aside and warnings beside it. */
export interface GrindingFound {
  readonly grinding?: GrindingSummary;
  readonly setAside: readonly SetAside[];
  readonly warnings: readonly Warning[];
}

/**
 * The first line of a log that tells fewer minutes so far than the line above; undefined where the minutes run forwards.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const line = { file: "grinding.csv", abrasive: "F80", position: "mirror on top", minutes: 20 } as const;
 * const log = [{ ...line, line: 2, afterMin: 20 }, { ...line, line: 3, afterMin: 10 }];
 * assert.deepEqual(backwardsAt(log), { line: 3, afterMin: 10, before: 20 });
 * ```
 */
export function backwardsAt(
  grinding: readonly GrindingRow[],
): { readonly line: number; readonly afterMin: number; readonly before: number } | undefined {
  let before = 0;
  for (const { line, afterMin } of grinding) {
    if (afterMin === undefined) continue;
    if (afterMin < before) return { line, afterMin, before };
    before = afterMin;
  }
  return undefined;
}

/** Where the minutes so far that a maker wrote beside the log are not the sum of its lines. */
function clockWarnings({ grinding }: MirrorRecord): readonly Warning[] {
  const back = backwardsAt(grinding);
  if (back !== undefined) {
    const { line, afterMin, before } = back;
    const message =
      `${afterMin} min stands below ${before} min: the log is not used until this is mended`;
    return [{ file: "grinding.csv", line, column: "after_min", message }];
  }
  let sum = 0, off = 0;
  return grinding.flatMap(({ file, line, minutes, afterMin }): Warning[] => {
    sum += minutes;
    if (afterMin === undefined) return [];
    const apart = afterMin - sum, isNew = Math.abs(apart - off) > 0.5;
    off = apart;
    if (!isNew || Math.abs(apart) <= 0.5) return [];
    const told = Number(sum.toPrecision(6));
    const what = apart > 0 ? "is a stretch missing" : "is a line there twice";
    const message = `${afterMin} min, but the lines up to here add up to ${told} min: ${what}?`;
    return [{ file, line, column: "after_min", message }];
  });
}

const NOTHING: GrindingFound = { setAside: [], warnings: [] };

/** Finer than this the work goes over the centre: what a minute then does to the depth, as a share of the rough stroke's. */
const FINE_SHARE = 0.13;
/** How well the depth is known that minutes without a reading bring: as a share of what they bring, rough and fine. COMMON PRACTICE */
const ROUGH_DOUBT = 0.15, FINE_DOUBT = 0.3;
/** Another method's depth is no help beside leaves where it is so many times as unsure. COMMON PRACTICE */
const FAR_LESS_SURE = 2.5;
/** From so many depths under a straight-edge on the others need not help. COMMON PRACTICE */
const RIM_IS_ENOUGH = 4;

/** Depths of one log: those under the straight-edge, and other methods' sessions at minutes at which none was read. */
function pooled(all: readonly MethodDepth[]): readonly MethodDepth[] {
  const rim = all.filter(({ file }) => file === "sagitta.csv");
  const usual = median(rim.map(({ u }) => u));
  const others = all.filter((one) => one.file !== "sagitta.csv").filter(({ afterMin, u }) =>
    rim.every((row) => Math.abs(row.afterMin - afterMin) > 1) &&
    (rim.length < RIM_IS_ENOUGH || u <= FAR_LESS_SURE * usual)
  );
  return [...rim, ...others].toSorted((a, b) => a.afterMin - b.afterMin);
}

/** The method with the largest say: by the weights of its readings. */
function largestSay(depths: readonly MethodDepth[]): Method | undefined {
  const say = new Map<Method, number>();
  for (const { method, u, common } of depths) {
    say.set(method, (say.get(method) ?? 0) + 1 / (u * u + common * common));
  }
  return [...say].toSorted((a, b) => b[1] - a[1])[0]?.[0];
}

/**
 * The log as a forecast.
 *
 * Polishing is no grinding: rows of oxide are left out. Without a log, or without a depth that tells its minute, there is
 * nothing to say. Where the depths alone cannot forecast, two of them do it with the usual rate as a prior.
 *
 * @param curve  of the same record, for what a depth that missed would cost
 */
export function grindingSummary(record: MirrorRecord, curve?: CurveSummary): GrindingFound {
  const written = record.grinding.filter(({ abrasive, minutes }) =>
    grainUm(abrasive) !== undefined && minutes > 0
  );
  const depths = pooled(depthsRead(record));
  const warnings = [...clockWarnings(record), ...noHollow(record)];
  const isBackwards = backwardsAt(record.grinding) !== undefined;
  if (written.length === 0 || depths.length === 0 || isBackwards) {
    return { ...NOTHING, warnings };
  }
  const { aperture, focalLength } = record.settings;
  const target = sagitta(aperture, 2 * focalLength);
  const grades = grainSizes([...new Set(written.map(({ abrasive }) => abrasive))]);
  const asLogged = readGrindingLog(written, grades), { grade } = asLogged;
  const usual = usualRate(aperture, grainUm(grade) ?? 0);
  const spent = spentStretches(depths, asLogged, usual);
  const { intervals, readings } = withoutSpent(written, depths, spent);
  const log = curveLog({
    intervals,
    readings,
    target,
    allowance: allowanceAfter(grade),
    grades,
  });
  const clock = readGrindingLog(intervals, grades);
  const said: Said = { record, readings, clock, intervals, log };
  const rim = withBevel(withUsual(found(log, readings), said), record);
  const whole = withUnread(withSpent(rim, depths, spent), said);
  return { ...withChoice(whole, said, curve), warnings };
}

/** What the parts of the summary are said from. */
interface Said {
  readonly record: MirrorRecord;
  readonly readings: readonly MethodDepth[];
  readonly clock: GrindingLog;
  readonly intervals: readonly GrindingRow[];
  readonly log: CurveLog;
}

/** Depths less those that the log set aside, with their clocks; the first minutes only where there is nothing else. */
function clocked({ readings, clock, log }: Said): readonly (MethodDepth & { clocks: Clocks })[] {
  const aside = new Set(log.setAside.map(({ file, line }) => `${file} ${line}`));
  const kept = readings.filter(({ file, line }) => !aside.has(`${file} ${line}`))
    .map((one) => ({ ...one, clocks: clock.at(one.afterMin) }));
  return kept;
}

/** The same with a forecast by the usual rate, where the depths alone give none. */
function withUsual(one: GrindingFound, said: Said): GrindingFound {
  const { grinding } = one, { log, clock, record } = said, depths = clocked(said);
  const last = depths.at(-1), grain = grainUm(log.grade);
  const isFine = last !== undefined && last.afterMin > clock.roughMinutes + 0.5;
  const minutes = new Set(depths.map(({ afterMin }) => afterMin));
  if (grinding === undefined || last === undefined || grain === undefined) return one;
  if (isFine || isEnough(log, minutes.size) || minutes.size < 2) return one;
  const belief = rateBelief(depths, usualRate(record.settings.aperture, grain));
  const read = belief.depthAt(last.clocks), now = { ...read, u: Math.hypot(read.u, last.common) };
  const off = now.value - log.target, isOn = Math.abs(off) <= Math.min(2 * now.u, depthTolerance);
  const position = off > 0 ? "tool on top" : "mirror on top";
  const common = last.common;
  const meeting = belief.meet(last.clocks, position, clock.share, log.target);
  const from = ["grinding.csv", ...new Set(depths.map(({ file }) => file))];
  const { overshoot: _, minutesToTarget: _m, interval95: _i, ...rest } = grinding;
  const rate = (position === "mirror on top" ? belief.mirrorOnTop : belief.toolOnTop).value *
    clock.share;
  const more = 1000 * common / rate;
  const has = (of: Position): boolean => said.intervals.some((line) => line.position === of);
  return {
    ...one,
    grinding: {
      ...rest,
      rates: {
        ...(has("mirror on top") ? { mirrorOnTop: toQ(belief.mirrorOnTop, from) } : {}),
        ...(has("tool on top") ? { toolOnTop: toQ(belief.toolOnTop, from) } : {}),
      },
      sagittaNow: toQ(now, from),
      ...(off > 0 && !isOn
        ? { overshoot: toQ({ ...now, value: 1000 * off, u: 1000 * now.u, unit: "um" }, from) }
        : {}),
      nextPosition: position,
      canForecast: meeting !== undefined,
      ...(meeting === undefined ? {} : {
        minutesToTarget: toQ(
          { ...meeting.minutes, u: Math.hypot(meeting.minutes.u, more) },
          from,
        ),
        interval95: wider(meeting.interval95, meeting.minutes.value, more),
      }),
    },
  };
}

/**
 * From so many moments at which depths were read, and within one session's minutes, the log foretells by itself: today's hands go on.
 * Farther ahead hands differ from session to session, which no depth so far shows. COMMON PRACTICE
 */
const MANY_MOMENTS = 6, SESSION_MIN = 20;

/** Whether the log needs no usual rate beside it. */
function isEnough({ canForecast, toTarget }: CurveLog, moments: number): boolean {
  return canForecast && moments >= MANY_MOMENTS &&
    (toTarget?.minutes.value ?? 0) <= SESSION_MIN;
}

/** An interval about a value that is unsure by more, never below 0. */
function wider(
  [low, high]: readonly [number, number],
  value: number,
  more: number,
): readonly [number, number] {
  const reach = (end: number): number =>
    value + Math.sign(end - value) * Math.hypot(end - value, 1.96 * more);
  return [Math.max(0, reach(low)), reach(high)];
}

/** A stretch that brought less than this share of what its minutes should have, surely, had a spent charge. COMMON PRACTICE */
const SPENT_SHARE = 0.5;
/** Shorter stretches tell nothing of a charge, min. COMMON PRACTICE */
const SPENT_LEAST = 5;

/** A stretch of the log that brought far less than its minutes should have. */
interface Spent {
  /** minutes of the log */
  readonly begun: number;
  readonly over: number;
  /** um */
  readonly gained: number;
  readonly gainedU: number;
  readonly expected: number;
  readonly expectedU: number;
}

/** The readings of one moment put together. */
function moments(depths: readonly MethodDepth[]): readonly {
  readonly at: number;
  readonly depth: number;
  readonly u: number;
  readonly rows: readonly MethodDepth[];
}[] {
  return [...groupBy(depths, ({ afterMin }) => Math.round(afterMin)).values()].map((rows) => ({
    at: Math.max(...rows.map(({ afterMin }) => afterMin)),
    depth: rows.reduce((sum, row) => sum + row.sagitta, 0) / rows.length,
    u: Math.hypot(...rows.map(({ u }) => u)) / rows.length,
    rows,
  }));
}

/** Stretches between two readings in one position, each judged by the readings before it that no such stretch touches. */
function spentStretches(
  depths: readonly MethodDepth[],
  clock: GrindingLog,
  usual: Measured,
): readonly Spent[] {
  const found: Spent[] = [], read = moments(depths);
  const effective = (minute: number): number => minute - lost(found, minute);
  read.slice(1).forEach((now, i) => {
    const then = read[i];
    if (then === undefined || now.at > clock.roughMinutes + 0.5) return;
    const from = clock.at(then.at), to = clock.at(now.at);
    const top = to.top - from.top, bottom = to.bottom - from.bottom;
    if (top + bottom < SPENT_LEAST || (top > 0 && bottom > 0)) return;
    // only where every minute so far was of one position do lost minutes leave the clocks as simple as this
    const before = read.slice(0, i + 1).flatMap(({ rows }) => rows).map((row) => {
      const { top, bottom, drift } = clock.at(row.afterMin);
      const minus = row.afterMin - effective(row.afterMin);
      return { ...row, clocks: { top: top - minus, bottom, drift } };
    });
    const belief = rateBelief(before, usual);
    const rate = top > 0 ? belief.mirrorOnTop : belief.toolOnTop, minutes = top + bottom;
    if (leapt(read[i - 1], then, clock, belief)) return;
    const gained = 1000 * (now.depth - then.depth) * (top > 0 ? 1 : -1);
    const gainedU = 1000 * Math.hypot(now.u, then.u), expected = rate.value * minutes;
    const expectedU = rate.u * minutes, short = SPENT_SHARE * expected - gained;
    if (short > 2 * Math.hypot(gainedU, SPENT_SHARE * expectedU)) {
      found.push({ begun: then.at, over: now.at, gained, gainedU, expected, expectedU });
    }
  });
  return found;
}

/** A stretch that brought more than this many times its due ends in a misread depth, not in a fast charge. COMMON PRACTICE */
const LEAP = 1.5;

/** Whether a reading is so far ahead of the one before that it, and not the stretch after it, is what is wrong. */
function leapt(
  before: Pick<ReturnType<typeof moments>[number], "at" | "depth"> | undefined,
  now: Pick<ReturnType<typeof moments>[number], "at" | "depth">,
  clock: GrindingLog,
  { mirrorOnTop, toolOnTop }: RateBelief,
): boolean {
  if (before === undefined) return false;
  const from = clock.at(before.at), to = clock.at(now.at);
  const due = mirrorOnTop.value * (to.top - from.top) - toolOnTop.value * (to.bottom - from.bottom);
  return due !== 0 && 1000 * (now.depth - before.depth) / due > LEAP;
}

/** Minutes before a moment that cut nothing. */
function lost(spent: readonly Spent[], minute: number): number {
  return spent.reduce((sum, { begun, over, gained, expected }) => {
    const share = 1 - Math.min(1, Math.max(0.01, gained / expected));
    return sum + share * Math.max(0, Math.min(minute, over) - begun);
  }, 0);
}

/** The log without the minutes that cut nothing, and the depths at the minutes that are left. */
function withoutSpent(
  intervals: readonly GrindingRow[],
  depths: readonly MethodDepth[],
  spent: readonly Spent[],
): { readonly intervals: readonly GrindingRow[]; readonly readings: readonly MethodDepth[] } {
  if (spent.length === 0) return { intervals, readings: depths };
  let begun = 0;
  const left = intervals.map(({ afterMin: _, ...line }) => {
    const over = begun + line.minutes;
    const minutes = line.minutes - (lost(spent, over) - lost(spent, begun));
    begun = over;
    return { ...line, minutes };
  });
  const readings = depths.map((one) => ({
    ...one,
    afterMin: one.afterMin - lost(spent, one.afterMin),
  }));
  return { intervals: left, readings };
}

/** The same with the last stretch, where its charge was spent. */
function withSpent(
  one: GrindingFound,
  depths: readonly MethodDepth[],
  spent: readonly Spent[],
): GrindingFound {
  const { grinding } = one, last = spent.at(-1), latest = depths.at(-1);
  if (grinding === undefined || last === undefined || last.over !== latest?.afterMin) return one;
  const from = ["grinding.csv", latest.file];
  return {
    ...one,
    grinding: {
      ...grinding,
      spent: {
        gained: { value: last.gained, unit: "um", u: last.gainedU, from },
        expected: { value: last.expected, unit: "um", u: last.expectedU, from },
        minutes: { value: last.over - last.begun, unit: "min" },
      },
    },
  };
}

/** The depth now: minutes ground since the last reading move it, and its doubt grows with every one of them. */
function withUnread(
  one: GrindingFound,
  { record, readings, clock, intervals, log }: Said,
): GrindingFound {
  const { grinding } = one, last = readings.at(-1), rough = grainUm(log.grade);
  if (grinding === undefined || last === undefined || rough === undefined) return one;
  const usual = usualRate(record.settings.aperture, rough);
  const rate = (grinding.rates.mirrorOnTop ?? grinding.rates.toolOnTop ?? usual).value / 1000;
  let begun = 0, moved = 0, doubt = 0, unread = 0;
  for (const { abrasive, position, minutes } of intervals) {
    const since = Math.max(0, begun + minutes - Math.max(begun, last.afterMin));
    begun += minutes;
    const grain = grainUm(abrasive) ?? 0, isRough = grain >= roughSizeUm;
    const brings = since * rate * grain / rough * (isRough ? 1 : FINE_SHARE);
    moved += position === "mirror on top" ? brings : -brings;
    doubt += (isRough ? ROUGH_DOUBT : FINE_DOUBT) * brings;
    unread += since;
  }
  if (unread < 0.5 || clock.minutes <= last.afterMin) return one;
  const { sagittaNow: now } = grinding;
  return {
    ...one,
    grinding: {
      ...grinding,
      sagittaNow: { ...now, value: now.value + moved, u: Math.hypot(now.u ?? 0, doubt) },
      minutesUnread: { value: unread, unit: "min", from: ["grinding.csv"] },
    },
  };
}

/** Longest that going back may take in one grade before the next coarser one is taken, min. COMMON PRACTICE */
const BACK_MOST = 30;

/** After the last grade, where the depth missed: what living with it costs, and what going back takes. */
function withChoice(
  one: GrindingFound,
  { record, log }: Said,
  curve: CurveSummary | undefined,
): GrindingFound {
  const { grinding } = one, last = record.grinding.at(-1)?.abrasive;
  const grain = last === undefined ? undefined : grainUm(last);
  const finest = grainUm(ladder.at(-1) ?? "") ?? 0;
  const isLast = grain !== undefined && grain <= finest * 1.05;
  if (grinding === undefined || !isLast) return one;
  const choice = depthChoice(record.settings.aperture, log.grade, grinding, curve);
  return choice === undefined ? one : { ...one, grinding: { ...grinding, choice } };
}

/**
 * What living with a depth that missed costs, and what going back takes.
 *
 * @param aperture  mm
 * @param worked    the grade that the log's rates are of
 * @param grinding  depth now, target and rates
 * @param curve     for the focal length to live with
 * @returns nothing where the depth is right as far as it is known, or no focal length is
 */
export function depthChoice(
  aperture: number,
  worked: string,
  grinding: Pick<GrindingSummary, "sagittaNow" | "targetSagitta" | "rates">,
  curve: CurveSummary | undefined,
): DepthChoice | undefined {
  const focal = curve?.focalLength, rough = grainUm(worked);
  if (focal === undefined || rough === undefined) return undefined;
  const { sagittaNow: now, targetSagitta: target, rates } = grinding;
  const off = now.value - target.value;
  if (Math.abs(off) <= Math.max(depthTolerance, 2 * (now.u ?? 0))) return undefined;
  const position = off > 0 ? "tool on top" : "mirror on top";
  const known = position === "mirror on top"
    ? rates.mirrorOnTop ?? rates.toolOnTop
    : rates.toolOnTop ?? rates.mirrorOnTop;
  const rate = known ?? usualRate(aperture, rough);
  const minutesOf = (grade: string): number =>
    1000 * Math.abs(off) / (rate.value * (grainUm(grade) ?? 0) / rough);
  const coarse = ladder.filter((grade) => (grainUm(grade) ?? 0) >= BACK_LEAST_UM);
  const grade = coarse.findLast((name) => minutesOf(name) <= BACK_MOST) ?? worked;
  const minutes = minutesOf(grade), radius = 2 * focal.value;
  const doubt = Math.hypot((now.u ?? 0) / Math.abs(off), (rate.u ?? 0) / rate.value, ROUGH_DOUBT);
  return {
    accept: {
      focalLength: focal,
      focalRatio: focal.value / aperture,
      sphereDeparture: exactQ(
        departureFromParaboloid(aperture / 2, { radius, conic: 0 }),
        "nm",
        focal.from ?? [],
      ),
    },
    goBack: {
      position,
      grade,
      minutes: { value: minutes, unit: "min", u: minutes * doubt, from: ["grinding.csv"] },
    },
  };
}

/** Grains finer than this hardly move the depth: nobody goes back to them for it, um. COMMON PRACTICE */
const BACK_LEAST_UM = 50;

/**
 * What an unwritten bevel leaves open, the same for every depth on the rim: s goes with 1 / c^2, so that half a chord c
 * known to u_c leaves 2 s u_c / c. The rates, which are differences, keep their own doubt.
 */
function withBevel(one: GrindingFound, { settings, sagitta: rows }: MirrorRecord): GrindingFound {
  const { grinding } = one, { aperture, unknownBevel } = settings;
  const onRim = rows.filter(({ chord }) => chord === undefined).length / rows.length;
  if (grinding === undefined || unknownBevel === undefined || onRim === 0) return one;
  const now = grinding.sagittaNow;
  const u = 4 * now.value * onRim * rectangular(unknownBevel / 2) / aperture;
  const unsurer = (q: Q, by: number): Q => ({ ...q, u: Math.hypot(q.u ?? 0, by) });
  const { mirrorOnTop: deepens, toolOnTop: flattens } = grinding.rates;
  const rate = grinding.nextPosition === "mirror on top"
    ? deepens ?? flattens
    : flattens ?? deepens;
  const minutes = rate !== undefined && rate.value > 0 ? 1000 * u / rate.value : 0;
  const { overshoot, minutesToTarget: left, interval95: interval } = grinding;
  return {
    ...one,
    grinding: {
      ...grinding,
      sagittaNow: unsurer(now, u),
      ...(overshoot === undefined ? {} : { overshoot: unsurer(overshoot, 1000 * u) }),
      ...(left === undefined ? {} : { minutesToTarget: unsurer(left, minutes) }),
      ...(interval === undefined || left === undefined
        ? {}
        : { interval95: wider(interval, left.value, minutes) }),
    },
  };
}

/** Depths that the log passes over, since no hollow of this disc has them. */
function noHollow({ sagitta: rows, settings }: MirrorRecord): readonly Warning[] {
  return rows.flatMap((row): Warning[] => {
    const depth = depthOf(row);
    const hasDepth = row.afterMin !== undefined && depth !== undefined;
    if (!hasDepth || depthReading(row, settings) !== undefined) return [];
    const message = `a depth of ${mm(depth)} is no hollow of this disc: the log passes it over`;
    return [{ file: row.file, line: row.line, message }];
  });
}

/** Rates that are rates: a hollow that seems to grow backwards is no rate, but a spent charge or a slip. */
function positive({ mirrorOnTop, toolOnTop }: CurveLog["rates"]): CurveLog["rates"] {
  return {
    ...(mirrorOnTop !== undefined && mirrorOnTop.value > 0 ? { mirrorOnTop } : {}),
    ...(toolOnTop !== undefined && toolOnTop.value > 0 ? { toolOnTop } : {}),
  };
}

function found(log: CurveLog, readings: readonly MethodDepth[]): GrindingFound {
  const { sagittaNow, toTarget, overshoot } = log;
  const setAside = log.setAside.map(({ file, line, value, why }) => ({ file, line, value, why }));
  if (sagittaNow === undefined) return { ...NOTHING, setAside };
  const from = ["grinding.csv", ...new Set(readings.map(({ file }) => file))];
  const { mirrorOnTop, toolOnTop } = positive(log.rates), most = largestSay(readings);
  const grinding: GrindingSummary = {
    rates: {
      ...(mirrorOnTop === undefined ? {} : { mirrorOnTop: toQ(mirrorOnTop, from) }),
      ...(toolOnTop === undefined ? {} : { toolOnTop: toQ(toolOnTop, from) }),
    },
    sagittaNow: toQ(sagittaNow, from),
    targetSagitta: exactQ(log.target, "mm", ["mirror.yaml"]),
    ...(overshoot === undefined ? {} : { overshoot: toQ(overshoot, from) }),
    nextPosition: log.nextPosition,
    canForecast: log.canForecast,
    ...(toTarget === undefined ? {} : {
      minutesToTarget: toQ(toTarget.minutes, from),
      interval95: toTarget.interval95,
    }),
    stopAt: exactQ(log.stopAt, "mm", ["mirror.yaml"]),
    ...(most === undefined ? {} : { from: most }),
  };
  return { grinding, setAside, warnings: [] };
}
