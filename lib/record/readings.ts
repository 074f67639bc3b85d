/** Small views of a record's rows that several checks share. */
import type { MirrorRecord, Row, SagittaRow } from "./types.ts";

/** A record before its warnings are known. */
export type Readings = Omit<MirrorRecord, "warnings">;

/**
 * Millimetres as a sentence prints them: six digits, no dust of binary fractions.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(mm(0.1 + 0.2), "0.3 mm");
 * ```
 */
export function mm(value: number): string {
  return `${Number(value.toPrecision(6))} mm`;
}

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
