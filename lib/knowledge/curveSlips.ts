/** Slips in the tables of the curve that one row, or one table beside another, gives away. */
import type { Misread } from "../measuring/methods/method.ts";
import { BELIEVABLE } from "../quantity/misconceptions.ts";
import { depthOf, latest, median } from "../record/readings.ts";
import { grainUm } from "./rules.ts";
import type { Slip } from "./slips.ts";
import type { CurveSummary } from "./summaryTypes.ts";
import type { MirrorRecord } from "../record/types.ts";

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
  const found = [slowHollow(record), farApart(curve)];
  return found.flatMap((slip) => slip ?? []);
}
