/** The registry of the methods for R: what the curve, its budget, the class and the pages go through. */
import { byDepthGauge } from "./depthGauge.ts";
import { byLamp } from "./lamp.ts";
import { byLeaves } from "./leaves.ts";
import type { CurveMethod, MethodDoubts, MethodRow } from "./method.ts";
import { bySpherometer } from "./spherometer.ts";
import { bySunDistance } from "./sunDistance.ts";
import { bySunImage } from "./sunImage.ts";

/** Every method, in the order in which a summary tells them. A new one is its file and its line here. */
export const METHODS: readonly [
  typeof byLeaves,
  typeof byDepthGauge,
  typeof bySpherometer,
  typeof bySunDistance,
  typeof bySunImage,
  typeof byLamp,
] = [byLeaves, byDepthGauge, bySpherometer, bySunDistance, bySunImage, byLamp];

/** A method that the registry holds. */
export type Known = typeof METHODS[number];
/** The name of a method that the registry holds. */
export type Method = Known["name"];
type Table = Known["table"];
type TakerOf<T extends Table, M = Known> = M extends
  { readonly table: T; reduce(rows: readonly (infer Row)[], ...rest: never): unknown }
  ? (row: Row) => void
  : never;

/** The tables that the methods read, each row fit for all methods of its table; a record fits, and a table may be absent. */
export type CurveTables = {
  readonly [T in Table]?: TakerOf<T> extends (row: infer Row) => void ? readonly Row[] : never;
};

/** The tables, and what may be off beside them. */
export type CurveReadings = CurveTables & MethodDoubts;

/** A method of the registry, whatever rows it takes. */
export type CurveMethodOfKit = CurveMethod<Method, Table>;

/** All methods, whatever rows they take. */
export const methods: readonly CurveMethodOfKit[] = METHODS;

/** The tables of the curve, each once, in the order of the methods. */
export const CURVE_TABLES: readonly Table[] = [...new Set(methods.map(({ table }) => table))];

/**
 * The rows of a method in the tables of a record.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const sagitta = [{ go: [1.1], nogo: [1.15] }, { depth: 1.13 }];
 * assert.equal(rowsOf(METHODS[0], { sagitta }).length, 1);
 * ```
 */
export function rowsOf(
  method: CurveMethodOfKit,
  tables: CurveTables,
): readonly MethodRow[] {
  const rows: readonly MethodRow[] = tables[method.table] ?? [];
  return rows.filter((row) => method.reads(row));
}

/** The method of a name; `undefined` for a name that stands in no registry. */
export function methodNamed(name: string | undefined): CurveMethodOfKit | undefined {
  return methods.find((method) => method.name === name);
}

/**
 * The name of a method as the registry has it.
 *
 * @throws {RangeError} for a name that stands in no registry
 */
export function asMethod(name: string): Method {
  const found = methodNamed(name);
  if (found === undefined) throw new RangeError(`asMethod requires a method's name, got ${name}`);
  return found.name;
}

/** What a method is called on a page; a name of no registry stands for itself. */
export function methodTitle(name: string): string {
  return methodNamed(name)?.title ?? name;
}

/** Whether a forgotten bevel moves what this method says. */
export function restsOnRim(name: string): boolean {
  return methodNamed(name)?.restsOnRim === true;
}

/** The methods that stand beside those on the rim and know nothing of the bevel: the Sun's before a gauge's. */
export const FREE_OF_RIM: readonly CurveMethodOfKit[] = methods
  .filter((method) => method.restsOnRim !== true && method.check === undefined).toReversed();
