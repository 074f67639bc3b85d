/** Small views of a record's rows that several checks share. */
import type { MirrorRecord, Row, SagittaRow } from "./types.ts";

/** A record before its warnings are known. */
export type Readings = Omit<MirrorRecord, "warnings">;

/** Millimetres as a sentence prints them. */
export function mm(value: number): string {
  return `${Number(value.toPrecision(6))} mm`;
}

/** The depth a row of sagitta.csv stands for, mm: the middle of its bracket, or the gauge's reading. */
export function depthOf({ go, nogo, depth }: SagittaRow): number | undefined {
  if (go === undefined || nogo === undefined) return depth;
  const sum = (leaves: readonly number[]): number =>
    leaves.reduce((total, leaf) => total + leaf, 0);
  return (sum(go) + sum(nogo)) / 2;
}

/** The middle of some values; NaN of none. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((x, y) => x - y);
  const half = sorted.length / 2;
  return ((sorted[Math.ceil(half) - 1] ?? NaN) + (sorted[Math.floor(half)] ?? NaN)) / 2;
}

/** Rows of the latest minute, or of the latest day where minutes are not given. */
export function latest<T extends Row>(rows: readonly T[]): readonly T[] {
  const minutes = rows.flatMap(({ afterMin }) => afterMin ?? []);
  if (minutes.length > 0) {
    const last = minutes.reduce((one, other) => Math.max(one, other));
    return rows.filter(({ afterMin }) => afterMin === last);
  }
  const last = rows.flatMap(({ date }) => date ?? []).sort().at(-1);
  return last === undefined ? rows : rows.filter(({ date }) => date === last);
}

/** Rows that share a key, in the order of their first. */
export function groups<T>(rows: readonly T[], key: (row: T) => string): Map<string, T[]> {
  return Map.groupBy(rows, key);
}
