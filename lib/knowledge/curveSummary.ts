/** What the readings of the curve say together: one radius, from every method the record holds. */
import type { Doubt, Estimate } from "../measuring/estimate.ts";
import type { Misread } from "../measuring/methods/method.ts";
import { asMethod, CURVE_TABLES, methods, rowsOf } from "../measuring/methods/methods.ts";
import { misconceptionFromRatio } from "../measuring/misconceptions.ts";
import { reconcile } from "../measuring/reconcile.ts";
import { CannotTell } from "../numeric/cannotTell.ts";
import { BELIEVABLE } from "../quantity/misconceptions.ts";
import { depthOf, latest, latestMinute, median, ofLatestMinute } from "../record/readings.ts";
import type { MirrorRecord, Row, Warning } from "../record/types.ts";
import { roughSizeUm } from "../shaping/grinding/grindingLog.ts";
import { curveAstigmatism, notRoundWarning } from "./curveAstigmatism.ts";
import { toQ } from "./q.ts";
import { grainUm } from "./rules.ts";
import { type Slip, slipWarning } from "./slips.ts";
import type { CurveSummary, EstimateSummary } from "./summaryTypes.ts";

/** What to do about a slip in a table of the curve. */
export function readAgain(file: string, line?: number): string {
  const where = line === undefined ? file : `${file}, line ${line}`;
  return `Read ${where} again, beside the gauge and your paper notes: digits, unit, column.`;
}

/** A slip of the curve, with its place. */
export function curveSlip(file: string, message: string, line?: number): Slip {
  return {
    of: "curve",
    place: { file, ...(line === undefined ? {} : { line }) },
    message,
    do: readAgain(file, line),
  };
}

/** A row that a method found misread, as a slip. */
export function misreadSlip({ row, message }: Misread, table: string): Slip {
  return curveSlip(row.file ?? `${table}.csv`, message, row.line);
}

/** Even slow grinding with the mirror on top digs more than this, um a minute with grains of 190 um. COMMON PRACTICE */
const SLOWEST = 1.2, ITS_GRAIN = 190;

/** A hollow that grows ten or twenty-five times slower than any: depths in cm or inches, while the plan still allows them. */
function slowHollow(record: MirrorRecord): Slip | undefined {
  const read = latest(record.sagitta), [row] = read;
  if (row === undefined) return undefined;
  const depth = median(read.map((one) => depthOf(one) ?? 0));
  const last = Math.max(...record.sagitta.map(({ afterMin }) => afterMin ?? -1));
  let clock = 0, counted = 0;
  for (const { abrasive, minutes, position } of record.grinding) {
    const until = last < 0 ? clock + minutes : Math.min(last, clock + minutes);
    const share = (grainUm(abrasive) ?? 0) / ITS_GRAIN * (position === "mirror on top" ? 1 : -1);
    counted += Math.max(0, until - clock) * share;
    clock += minutes;
  }
  if (counted < 20 || depth * 1000 / counted >= SLOWEST) return undefined;
  const rate = (depth * 1000 / counted).toPrecision(2);
  return curveSlip(
    row.file,
    `by these readings the hollow grew by ${rate} µm a minute, some ten times slower than grinding does: are the depths in cm or inches, or typed a digit off?`,
  );
}

/** A depth that fell by more than this under the mirror on top is no scatter of leaves, mm. COMMON PRACTICE */
const FALLS = 0.05;

/**
 * A hollow that grew shallower while nothing but the mirror was on top: a depth, its minute or a position is wrong. One
 * deep reading among others is not enough, for that is a row misread, and told as such.
 */
function fallingHollow({ sagitta, grinding }: MirrorRecord): Slip | undefined {
  const read = sagitta.filter(({ afterMin }) => afterMin !== undefined);
  const at = Map.groupBy(read, ({ afterMin = 0 }) => afterMin);
  const depths = [...at].map(([minute, rows]) => ({
    minute,
    row: rows[0],
    depth: median(rows.map((row) => depthOf(row) ?? 0)),
  })).toSorted((a, b) => a.minute - b.minute);
  const last = depths.at(-1);
  if (last?.row === undefined) return undefined;
  const higher = depths.filter(({ depth }) => depth > last.depth + FALLS), [first] = higher;
  if (first === undefined || higher.length < Math.min(2, depths.length - 1)) return undefined;
  let clock = 0, dug = 0;
  for (const { minutes, position } of grinding) {
    const from = Math.max(clock, first.minute), to = Math.min(clock + minutes, last.minute);
    if (to > from && position !== "mirror on top") return undefined;
    dug += Math.max(0, to - from);
    clock += minutes;
  }
  if (dug === 0) return undefined;
  const slip = curveSlip(
    last.row.file,
    `the hollow was ${first.depth.toFixed(2)} mm deep after ${first.minute} min and ${
      last.depth.toFixed(2)
    } mm after ${last.minute} min, while grinding.csv has nothing but mirror on top between: that digs, so a depth, its minute or a position is wrong`,
    last.row.line,
  );
  return { ...slip, do: `${slip.do} Compare the positions in grinding.csv with your notes too.` };
}

/** Tables apart by a factor, where none is near enough to the plan to be believed before the other. */
function farApart({ estimates }: CurveSummary): Slip | undefined {
  const used = estimates.filter((one) => one.used);
  const radii = used.map(({ radius }) => radius.value), [first] = used;
  const least = Math.min(...radii), most = Math.max(...radii);
  if (first === undefined || most / least < BELIEVABLE[1]) return undefined;
  const sure = used.every(({ radius }) => (radius.u ?? 0) < 0.2 * radius.value);
  if (!sure) return undefined;
  const names = used.map(({ method, radius }) => `${method} ${radius.value.toFixed(0)} mm`);
  return {
    ...curveSlip(
      "mirror.yaml",
      `the tables are apart by a factor, R by ${names.join(", by ")}: one holds a slip`,
    ),
    place: {},
    do:
      "Read the tables of the curve again, beside the gauges and your paper notes: digits, units, columns.",
  };
}

/** Slips that only the finished curve shows. */
export function slipsOfCurve(
  record: MirrorRecord,
  curve: CurveSummary | undefined,
): readonly Slip[] {
  if (curve === undefined) return [];
  const found = [slowHollow(record) ?? fallingHollow(record), farApart(curve)];
  return found.flatMap((slip) => slip ?? []);
}

function tablesOf(record: MirrorRecord): readonly (readonly Row[])[] {
  return CURVE_TABLES.map((table) => record[table]);
}

/** The rows of a record that a method takes. */
function recordRows(method: typeof methods[number], record: MirrorRecord): readonly Row[] {
  // what `rowsOf` gives back are the record's own rows
  return rowsOf(method, record) as readonly Row[];
}

/** Estimates of the curve as it is now, and those of an older one, which are shown and not used. */
interface Gathered {
  readonly now: readonly Estimate[];
  readonly older: readonly Estimate[];
  readonly warnings: readonly Warning[];
  readonly slips: readonly Slip[];
}

function gather(record: MirrorRecord): Gathered {
  const bench = record.settings;
  const minute = latestMinute(tablesOf(record).flat());
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
  for (const method of methods.filter((one) => one.isDescribed?.(bench) ?? true)) {
    const all = recordRows(method, record), latest = ofLatestMinute(all);
    // what `complete` gives back are rows of the same table
    const rows = (method.complete?.(latest, all) ?? latest) as readonly Row[];
    const misread = method.misread?.(rows, all, bench);
    add(rows, () => method.reduce(rows, bench), misread && misreadSlip(misread, method.table));
  }
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
  const found = misconceptionFromRatio(ratio, { method: made.method });
  const why = found === undefined
    ? "look at the digits and at the header's unit"
    : `it would be so if ${found.explains}. ${found.findOut}`;
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
    method: asMethod(one.method),
    radius: toQ(one.radius, one.file === undefined ? undefined : [one.file]),
    readings: one.readings,
    setAside: one.setAside.length,
    used,
  };
}

function toSetAside(doubts: readonly Doubt[]): CurveSummary["setAside"] {
  return doubts.map(({ file = "", line = 0, value, why }) => ({ file, line, value, why }));
}

function toWarning({ file, line, value, why }: Doubt): Warning {
  return {
    ...(file === undefined ? {} : { file }),
    ...(line === undefined ? {} : { line }),
    message: `${Number(value.toFixed(4))} mm: ${why}`,
  };
}

function rowsOfFile(record: MirrorRecord, file: string): readonly Row[] {
  return tablesOf(record).find(([first]) => first?.file === file) ?? [];
}

/** The curve, with warnings on what was left out, doubted or assumed, and the slips that are to be looked at first. */
export interface CurveFound {
  readonly curve?: CurveSummary;
  readonly warnings: readonly Warning[];
  readonly slips: readonly Slip[];
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
    curveSlip(file, what, ofLatestMinute(rowsOfFile(record, file))[0]?.line)
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
  const astigmatism = curveAstigmatism(record), notRound = notRoundWarning(astigmatism);
  const curve: CurveSummary = {
    ...(radius === undefined ? {} : { radius: toQ(radius, from) }),
    ...(focal === undefined ? {} : { focalLength: toQ(focal, from) }),
    ...(sagitta === undefined ? {} : { sagitta: toQ(sagitta, from) }),
    estimates: [
      ...all.estimates.map((one) => estimateSummary(one.estimate, one.used)),
      ...older.map((one) => estimateSummary(one, false)),
    ],
    ...(all.birgeRatio === undefined ? {} : { birgeRatio: all.birgeRatio }),
    consistent: all.consistent,
    ...(all.oddOne === undefined ? {} : { oddOne: asMethod(all.oddOne) }),
    setAside: toSetAside(all.setAside),
    budget: all.budget,
    ...(all.mistake === undefined ? {} : { mistake: all.mistake }),
    ...(astigmatism === undefined ? {} : { astigmatism }),
  };
  const late = slipsOfCurve(record, curve);
  const round = notRound === undefined ? [] : [notRound];
  return {
    curve,
    warnings: [...told, ...round, ...late.map(slipWarning)],
    slips: [...gathered, ...late],
  };
}
