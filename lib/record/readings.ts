/** Small views of a record's rows that several checks share. */
import type { MirrorRecord, Row, SagittaRow, ZoneRow } from "./types.ts";

/** A record before its warnings are known. */
export type Readings = Omit<MirrorRecord, "warnings">;

/**
 * The depth a row of sagitta.csv stands for, mm: the middle of its bracket, or the gauge's reading.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(depthOf({ file: "sagitta.csv", line: 2, go: [1], nogo: [1.5] }), 1.25);
 * ```
 */
export function depthOf({ go, nogo, depth }: SagittaRow): number | undefined {
  if (go === undefined || nogo === undefined) return depth;
  const sum = (leaves: readonly number[]): number =>
    leaves.reduce((total, leaf) => total + leaf, 0);
  return (sum(go) + sum(nogo)) / 2;
}

/**
 * The middle of some values; NaN of none.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(median([4, 1, 3, 2]), 2.5);
 * ```
 */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((x, y) => x - y);
  const half = sorted.length / 2;
  return ((sorted[Math.ceil(half) - 1] ?? NaN) + (sorted[Math.floor(half)] ?? NaN)) / 2;
}

/** The latest minute at which any of the rows was read; undefined where no row tells. */
export function latestMinute(rows: readonly Row[]): number | undefined {
  const minutes = rows.flatMap(({ afterMin }) => afterMin ?? []);
  return minutes.length === 0 ? undefined : minutes.reduce((one, other) => Math.max(one, other));
}

/**
 * Rows of the latest minute; all of them where none tells its minute.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const rows = [20, 40].map((afterMin, index) => ({ file: "sagitta.csv", line: index + 2, afterMin }));
 * assert.equal(ofLatestMinute(rows)[0]?.line, 3);
 * ```
 */
export function ofLatestMinute<T extends Row>(rows: readonly T[]): readonly T[] {
  const last = latestMinute(rows);
  return last === undefined ? rows : rows.filter(({ afterMin }) => afterMin === last);
}

/**
 * Rows of the latest minute, or of the latest day where minutes are not given.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const rows = [20, 40].map((afterMin, index) => ({ file: "sagitta.csv", line: index + 2, afterMin }));
 * assert.equal(latest(rows)[0]?.line, 3);
 * ```
 */
export function latest<T extends Row>(rows: readonly T[]): readonly T[] {
  if (latestMinute(rows) !== undefined) return ofLatestMinute(rows);
  const last = rows.flatMap(({ date }) => date ?? []).sort().at(-1);
  return last === undefined ? rows : rows.filter(({ date }) => date === last);
}

/**
 * Rows that share a key, in the order of their first.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([...groups([1, 2, 3], (n) => n % 2 === 0 ? "even" : "odd").keys()], ["odd", "even"]);
 * ```
 */
export function groups<T>(rows: readonly T[], key: (row: T) => string): Map<string, T[]> {
  return Map.groupBy(rows, key);
}

/**
 * The rows of one run in the order in which they were read: as they stand, or by their `order`.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const row = { file: "zones.csv", line: 2, run: "1", order: "inward" } as const;
 * const rows = [[0, 30], [30, 45], [30, 45]].map(([inner = 0, outer = 0], reading) => ({ ...row, inner, outer, reading }));
 * assert.deepEqual(inOrderRead(rows).map(({ reading }) => reading), [1, 0, 2]); // the last is the first, read again
 * ```
 */
export function inOrderRead(rows: readonly ZoneRow[]): readonly ZoneRow[] {
  const order = rows.find((row) => row.order !== undefined)?.order, last = rows.at(-1);
  if (order === undefined || last === undefined) return rows;
  const before = rows.slice(0, -1);
  const isAgain = before.some(({ inner, outer }) => inner === last.inner && outer === last.outer);
  const sign = order === "inward" ? -1 : 1;
  const once = [...(isAgain ? before : rows)].sort((a, b) =>
    sign * (a.inner + a.outer - b.inner - b.outer)
  );
  return isAgain ? [...once, last] : once;
}

/** Whether a key of mirror.yaml was written; else its value was taken as usual, and `defaults` has a sentence on it. */
export function wasWritten(record: Pick<MirrorRecord, "defaults">, key: string): boolean {
  return !record.defaults.some((sentence) => sentence.startsWith(`${key}:`));
}
