/** What the readings of the curve say together: one radius, from every method the record holds. */
import { depthGauge } from "../measuring/depthGauge.ts";
import type { Doubt, Estimate } from "../measuring/estimate.ts";
import { leaves } from "../measuring/leaves.ts";
import { mistakeFromRatio } from "../measuring/mistakes.ts";
import { reconcile } from "../measuring/reconcile.ts";
import { spherometer } from "../measuring/spherometer.ts";
import { sunDistance, sunImage } from "../measuring/sun.ts";
import { CannotTell } from "../numeric/cannotTell.ts";
import { roughSizeUm } from "../shaping/grinding/grindingLog.ts";
import {
  curveSlip,
  slipsOfCurve,
  swappedDial,
  turnedDial,
  wildDepth,
  wildSun,
} from "./curveSlips.ts";
import { type Slip, slipWarning } from "./slips.ts";
import { toQ } from "./q.ts";
import { latestMinute, ofLatestMinute } from "../record/readings.ts";
import { grainUm } from "./rules.ts";
import type { CurveSummary, EstimateSummary } from "./summaryTypes.ts";
import type { MirrorRecord, Row, Warning } from "../record/types.ts";

/** Estimates of the curve as it is now, and those of an older one, which are shown and not used. */
interface Gathered {
  readonly now: readonly Estimate[];
  readonly older: readonly Estimate[];
  readonly warnings: readonly Warning[];
  readonly slips: readonly Slip[];
}

function gather(record: MirrorRecord): Gathered {
  const bench = record.settings;
  const minute = latestMinute([...record.sagitta, ...record.spherometer, ...record.sun]);
  const now: Estimate[] = [], older: Estimate[] = [], warnings: Warning[] = [];
  const slips: Slip[] = [];
  const add = (
    rows: readonly Row[],
    make: () => Estimate | undefined,
    wild?: Slip,
  ): void => {
    const made = wild ?? ballSmaller(attempt(rows, make, warnings), rows, bench);
    if (made === undefined) return;
    if ("of" in made) {
      slips.push(made);
      return;
    }
    const then = latestMinute(rows);
    if (minute === undefined || then === undefined || then === minute) {
      now.push(made);
      return;
    }
    older.push(made);
    warnings.push({
      file: rows[0]?.file ?? "mirror.yaml",
      message:
        `${made.method}: last read at minute ${then}, and the curve was ground on to minute ` +
        `${minute}; shown, not used`,
    });
  };
  const leafRows = ofLatestMinute(record.sagitta.filter((row) => row.go !== undefined));
  const depthRows = ofLatestMinute(record.sagitta.filter((row) => row.depth !== undefined));
  const sunRows = ofLatestMinute(record.sun);
  const dials = ofLatestMinute(record.spherometer);
  const { dialStep } = bench.gauges;
  add(leafRows, () => leaves(leafRows, bench), wildDepth("leaves", leafRows, bench));
  add(depthRows, () => depthGauge(depthRows, bench), wildDepth("depth gauge", depthRows, bench));
  if (bench.gauges.spherometer !== undefined) {
    const turned = swappedDial(dials, dialStep) ?? turnedDial(record.spherometer, dialStep);
    add(dials, () => spherometer(dials, bench), turned);
  }
  const [byDistance, byImage] = [
    wildSun("sun distance", sunRows, bench),
    wildSun("sun image", sunRows, bench),
  ];
  add(sunRows, () => sunDistance(sunRows, bench), byDistance);
  add(sunRows, () => sunImage(sunRows, bench), byImage);
  return { now, older, warnings, slips };
}

/**
 * A method whose readings cannot be turned into a radius is told and left out; where they were read after some grinding,
 * that is a slip to look at.
 */
function attempt(
  rows: readonly Row[],
  make: () => Estimate | undefined,
  warnings: Warning[],
): Estimate | Slip | undefined {
  try {
    return make();
  } catch (error) {
    if (!(error instanceof CannotTell)) throw error;
    const [first] = rows, message = `not used: ${error.message}`;
    const file = first?.file ?? "mirror.yaml", isFlatStill = (latestMinute(rows) ?? 60) < 15;
    if (!isFlatStill) return curveSlip(file, message, first?.line);
    warnings.push({ file, ...(first === undefined ? {} : { line: first.line }), message });
    return undefined;
  }
}

/** A radius below half the disc's width is no mirror's: a slip in place of the estimate. */
function ballSmaller(
  made: Estimate | Slip | undefined,
  rows: readonly Row[],
  { aperture, focalLength }: MirrorRecord["settings"],
): Estimate | Slip | undefined {
  if (made === undefined || "of" in made || made.radius.value > aperture / 2) return made;
  const radius = Number(made.radius.value.toPrecision(4)), [first] = rows;
  const ratio = made.radius.value / (2 * focalLength);
  const mistake = mistakeFromRatio(ratio, { method: made.method });
  const why = mistake === undefined
    ? "look at the digits and at the header's unit"
    : `it would be so if ${mistake.explains}. ${mistake.findOut}`;
  return curveSlip(
    first?.file ?? made.method,
    `not used: ${made.method} gives R ${radius} mm, less than half the disc; ${why}`,
    first?.line,
  );
}

/** Is the log still at the grades that dig the hollow? Then a shallow curve is no mistake. */
function isHollowing({ grinding }: MirrorRecord): boolean {
  const last = grinding.at(-1);
  return last !== undefined && (grainUm(last.abrasive) ?? 0) >= roughSizeUm;
}

function estimateSummary(one: Estimate, used: boolean): EstimateSummary {
  return {
    method: one.method,
    radius: toQ(one.radius, one.file === undefined ? undefined : [one.file]),
    readings: one.readings,
    set_aside: one.setAside.length,
    used,
  };
}

function toSetAside(doubts: readonly Doubt[]): CurveSummary["set_aside"] {
  return doubts.map(({ file = "", line = 0, value, why }) => ({ file, line, value, why }));
}

function toWarning({ file, line, value, why }: Doubt): Warning {
  return {
    ...(file === undefined ? {} : { file }),
    ...(line === undefined ? {} : { line }),
    message: `${Number(value.toFixed(4))} mm: ${why}`,
  };
}

/** The curve, with warnings on what was left out, doubted or assumed, and the slips that are to be looked at first. */
export interface CurveFound {
  readonly curve?: CurveSummary;
  readonly warnings: readonly Warning[];
  readonly slips: readonly Slip[];
}

function rowsOf({ sagitta, spherometer, sun }: MirrorRecord, file: string): readonly Row[] {
  return [sagitta, spherometer, sun].find(([first]) => first?.file === file) ?? [];
}

/**
 * The curve as the record's latest readings give it.
 *
 * @returns no curve where no method has a reading; no radius where every table holds a slip; warnings on what was left out, doubted or assumed
 */
export function curveSummary(
  record: MirrorRecord,
): CurveFound {
  const { now, older, warnings, slips } = gather(record);
  const { aperture, focalLength } = record.settings;
  const all = reconcile(now, 2 * focalLength, { aperture, hollowing: isHollowing(record) });
  const suspects = all.suspects.map(({ file, what }) =>
    curveSlip(file, what, ofLatestMinute(rowsOf(record, file))[0]?.line)
  );
  const gathered = [...slips, ...suspects];
  const told = [
    ...warnings,
    ...gathered.map(slipWarning),
    ...all.warnings.map((message) => ({ message })),
    ...all.doubted.map(toWarning),
  ];
  if (now.length + older.length === 0) return { warnings: told, slips: gathered };
  const { radius, focalLength: focal, sagitta } = all;
  const used = all.estimates.filter((one) => one.used);
  const files = used.flatMap(({ estimate: { file } }) => file === undefined ? [] : [file]);
  const from = [...new Set(files)];
  const curve: CurveSummary = {
    ...(radius === undefined ? {} : { radius: toQ(radius, from) }),
    ...(focal === undefined ? {} : { focal_length: toQ(focal, from) }),
    ...(sagitta === undefined ? {} : { sagitta: toQ(sagitta, from) }),
    estimates: [
      ...all.estimates.map((one) => estimateSummary(one.estimate, one.used)),
      ...older.map((one) => estimateSummary(one, false)),
    ],
    ...(all.birgeRatio === undefined ? {} : { birge_ratio: all.birgeRatio }),
    consistent: all.consistent,
    ...(all.oddOne === undefined ? {} : { odd_one: all.oddOne }),
    set_aside: toSetAside(all.setAside),
    budget: all.budget,
    ...(all.mistake === undefined ? {} : { mistake: all.mistake }),
  };
  const late = slipsOfCurve(record, curve);
  return { curve, warnings: [...told, ...late.map(slipWarning)], slips: [...gathered, ...late] };
}
