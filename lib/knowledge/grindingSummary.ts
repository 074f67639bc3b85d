/** The grinding log with the depths read on the way: rates, depth now, how far to the target. */
import { sagitta } from "../optics/sphere.ts";
import { curveLog } from "../shaping/grinding/curveLog.ts";
import { fineAllowance } from "../shaping/grinding/ladder.ts";
import { type GrainSize, readGrindingLog } from "../shaping/grinding/grindingLog.ts";
import { depthReading } from "./depthReading.ts";
import { rectangular } from "../quantity/typeB.ts";
import { mm } from "../quantity/format.ts";
import { depthOf } from "../record/readings.ts";
import { exactQ, toQ } from "./q.ts";
import { grainUm, ladder } from "./rules.ts";
import type { GrindingSummary, Q, SetAside } from "./summaryTypes.ts";
import type { GrindingRow, MirrorRecord, Warning } from "../record/types.ts";

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

/**
 * The log as a forecast.
 *
 * Polishing is no grinding: rows of oxide are left out. Without a log, or without a depth that tells its minute, there is
 * nothing to say.
 */
export function grindingSummary(record: MirrorRecord): GrindingFound {
  const intervals = record.grinding.filter(({ abrasive, minutes }) =>
    grainUm(abrasive) !== undefined && minutes > 0
  );
  const readings = record.sagitta.flatMap((row) => depthReading(row, record.settings) ?? []);
  const warnings = [...clockWarnings(record), ...noHollow(record)];
  const isBackwards = backwardsAt(record.grinding) !== undefined;
  if (intervals.length === 0 || readings.length === 0 || isBackwards) {
    return { ...NOTHING, warnings };
  }
  const { aperture, focalLength } = record.settings;
  const target = sagitta(aperture, 2 * focalLength);
  const grades = grainSizes([...new Set(intervals.map(({ abrasive }) => abrasive))]);
  const { grade } = readGrindingLog(intervals, grades);
  const log = curveLog({
    intervals,
    readings: readings.toSorted((a, b) => a.afterMin - b.afterMin),
    target,
    allowance: allowanceAfter(grade),
    grades,
  });
  return { ...withBevel(found(log), record), warnings };
}

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
  const wider = (q: Q, by: number): Q => ({ ...q, u: Math.hypot(q.u ?? 0, by) });
  const { mirrorOnTop: deepens, toolOnTop: flattens } = grinding.rates;
  const rate = grinding.nextPosition === "mirror on top"
    ? deepens ?? flattens
    : flattens ?? deepens;
  const minutes = rate !== undefined && rate.value > 0 ? 1000 * u / rate.value : 0;
  const { overshoot, minutesToTarget: left, interval95: interval } = grinding;
  const reach = (end: number): number =>
    left === undefined ? end : left.value + Math.sign(end - left.value) *
        Math.hypot(end - left.value, 1.96 * minutes);
  return {
    ...one,
    grinding: {
      ...grinding,
      sagittaNow: wider(now, u),
      ...(overshoot === undefined ? {} : { overshoot: wider(overshoot, 1000 * u) }),
      ...(left === undefined ? {} : { minutesToTarget: wider(left, minutes) }),
      ...(interval === undefined ? {} : {
        interval95: [Math.max(0, reach(interval[0])), reach(interval[1])] as const,
      }),
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

function found(log: ReturnType<typeof curveLog>): GrindingFound {
  const { sagittaNow, toTarget, overshoot } = log;
  const setAside = log.setAside.map(({ file, line, value, why }) => ({ file, line, value, why }));
  if (sagittaNow === undefined) return { ...NOTHING, setAside };
  const from = ["grinding.csv", "sagitta.csv"];
  const { mirrorOnTop, toolOnTop } = log.rates;
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
  };
  return { grinding, setAside, warnings: [] };
}
