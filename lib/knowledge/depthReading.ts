/** A row of sagitta.csv as the log reads it: a depth at the full aperture, with its minute. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { chordOf } from "../measuring/gauges.ts";
import { isHollow } from "../measuring/depthsUnderChord.ts";
import { bracket, depthFromLeaves } from "../measuring/methods/leaves.ts";
import { carrySagitta } from "../optics/sphere.ts";
import { resolution } from "../quantity/typeB.ts";
import type { DepthReading } from "../shaping/grinding/grindingLog.ts";
import { groupBy } from "../numeric/groupBy.ts";
import type { Estimate } from "../measuring/estimate.ts";
import {
  type CurveMethodOfKit,
  type Method,
  methods,
  rowsOf,
} from "../measuring/methods/methods.ts";
import { sagitta } from "../optics/sphere.ts";
import type { MirrorRecord, Row, SagittaRow, Settings } from "../record/types.ts";

/** A depth with the method that read it, and what reading again by that method does not cure. */
export interface MethodDepth extends DepthReading {
  readonly method: Method;
  /** standard uncertainty beside `u`, the same in every reading of the method, mm */
  readonly common: number;
}

/**
 * The depth of a row, carried by the sphere from its chord to the full aperture; undefined where the row tells no minute or no depth,
 * or one that no hollow of the disc has.
 *
 * Leaves give the middle of their bracket, less what their width hides, with the bracket's width over 2 sqrt 3 as u; a
 * depth gauge its reading, with its step over 2 sqrt 3. A depth of 0 is a disc still flat.
 */
export function depthReading(row: SagittaRow, settings: Settings): DepthReading | undefined {
  const { afterMin, file, line, go, nogo } = row;
  if (afterMin === undefined) return undefined;
  const { aperture, gauges } = settings, chord = chordOf(settings, row.chord);
  const gap = go === undefined || nogo === undefined ? undefined : bracket(go, nogo);
  const read = gap?.middle ?? row.depth;
  if (read === undefined || !(read === 0 || isHollow(read, chord, aperture))) return undefined;
  const depth = gap ? behindLeaf(gap.middle, chord, gauges.leaves.width) : read;
  if (depth === undefined || !(depth === 0 || isHollow(depth, chord, aperture))) return undefined;
  const u = (gap?.u ?? resolution(gauges.depthGaugeStep)) * (aperture / chord) ** 2;
  return {
    afterMin,
    sagitta: depth === 0 ? 0 : carrySagitta(depth, chord, aperture),
    u,
    file,
    line,
  };
}

/** As `depthFromLeaves`; undefined where so wide a leaf does not reach into so deep a hollow. */
function behindLeaf(middle: number, chord: number, width: number): number | undefined {
  try {
    return depthFromLeaves(middle, chord, width);
  } catch (error) {
    if (error instanceof CannotTell) return undefined;
    throw error;
  }
}

/** A table's rows with the minute of the log that their day stands for, where they tell none. */
function timed<T extends Row>(rows: readonly T[], { grinding }: MirrorRecord): readonly T[] {
  if (grinding.some(({ date }) => date === undefined)) return rows;
  return rows.map((row) => {
    if (row.afterMin !== undefined || row.date === undefined) return row;
    const { date } = row;
    const afterMin = grinding.filter((line) => (line.date ?? "") <= date)
      .reduce((sum, { minutes }) => sum + minutes, 0);
    return { ...row, afterMin };
  });
}

/**
 * Every depth that the record tells, in the order of the work: each row of leaves or of a depth gauge by itself, each session of
 * another method put together. What is only a check is left out.
 */
export function depthsRead(record: MirrorRecord): readonly MethodDepth[] {
  const rim = timed(record.sagitta, record).flatMap((row): MethodDepth[] => {
    const read = depthReading(row, record.settings);
    return read === undefined
      ? []
      : [{ ...read, method: row.go === undefined ? "depth gauge" : "leaves", common: 0 }];
  });
  const others = methods.filter(({ table, check, isDescribed }) =>
    table !== "sagitta" && check === undefined && (isDescribed?.(record.settings) ?? true)
  ).flatMap((method) => sessionsOf(method, record));
  return [...rim, ...others].toSorted((a, b) => a.afterMin - b.afterMin);
}

function sessionsOf(method: CurveMethodOfKit, record: MirrorRecord): readonly MethodDepth[] {
  const { settings } = record;
  // what `rowsOf` gives back are the record's own rows
  const all = timed(rowsOf(method, record) as readonly Row[], record);
  if (method.misread?.(all.slice(0, 0), all, settings) !== undefined) return [];
  const told = all.filter(({ afterMin }) => afterMin !== undefined);
  return [...groupBy(told, ({ afterMin }) => `${afterMin}`).values()].flatMap((session) => {
    const [first] = session;
    const made = method.misread?.(session, session, settings) === undefined
      ? reduced(method, method.complete?.(session, all) ?? session, settings)
      : undefined;
    if (first?.afterMin === undefined || made === undefined) return [];
    const radius = made.radius.value;
    if (!(radius > settings.aperture / 2)) return [];
    const depth = sagitta(settings.aperture, radius), perMm = depth / radius;
    const part = (is: (one: Estimate["components"][number]) => boolean): number =>
      perMm * Math.hypot(...made.components.filter(is).map(({ u }) => u));
    const lasts = ({ repeats, dof }: Estimate["components"][number]): boolean =>
      repeats === undefined && dof === Infinity;
    return [{
      method: method.name,
      afterMin: first.afterMin,
      sagitta: depth,
      u: part((one) => !lasts(one)) || perMm * made.radius.u,
      common: part(lasts),
      file: first.file,
      line: first.line,
    }];
  });
}

/** As the method reduces them; nothing where they are of no curve. */
function reduced(
  method: CurveMethodOfKit,
  rows: Parameters<CurveMethodOfKit["reduce"]>[0],
  settings: Settings,
): Estimate | undefined {
  try {
    return method.reduce(rows, settings);
  } catch (error) {
    if (error instanceof CannotTell) return undefined;
    throw error;
  }
}
