/** The engine of the simulation: draws of the inputs in columns, the result row by row. */
import { choleskyOfCovariance } from "../numeric/smallMatrix.ts";
import type { RandomSource } from "../numeric/random.ts";
import { type Distribution, fillColumn } from "./distributions.ts";
import { type Correlation, correlationMatrix } from "./propagate.ts";

/** A result as a function of an object with the inputs' names. */
export type Model<K extends string> = (x: Readonly<Record<K, number>>) => number;

/**
 * The same for many draws at once, where speed matters: `rows` reads its inputs from columns and fills `out`, all of
 * one length. A draw's result may depend on its own row only.
 */
export interface ColumnModel<K extends string> {
  readonly rows: (columns: Readonly<Record<K, Float64Array>>, out: Float64Array) => void;
}

/** Draws are made a thousand at a time, one input after the other: fast, and small enough for the nearest memory. */
const BATCH = 1024;

/**
 * Makes the function that draws a result a number of times.
 *
 * @param f             the result, draw by draw (the object it is given shows the next draw at the next call) or in columns
 * @param inputs        what is known of each input
 * @param source        random numbers
 * @param correlations  between inputs that are normal
 * @throws {RangeError} where f gives something not finite, naming the inputs it was given
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { normalAbout } from "./distributions.ts";
 * import { random } from "../numeric/random.ts";
 * const draw = drawer(({ a }) => 2 * a, { a: normalAbout(5, 0) }, random(1), []);
 * assert.deepEqual([...draw(3)], [10, 10, 10]);
 * ```
 */
export function drawer<K extends string>(
  f: Model<K> | ColumnModel<K>,
  inputs: Readonly<Record<K, Distribution>>,
  source: RandomSource,
  correlations: readonly Correlation<NoInfer<K>>[],
): (count: number) => Float64Array {
  const names = Object.keys(inputs) as K[];
  const tied = correlations.length > 0 ? tie(names, inputs, correlations) : undefined;
  return (count) => {
    const out = new Float64Array(count);
    borrowView(names, (view) => {
      for (let start = 0; start < count; start += BATCH) {
        names.forEach((name) => fillColumn(inputs[name], view.columns[name], source));
        tied?.(view.columns, source);
        const batch = out.subarray(start, start + BATCH);
        if (typeof f === "function") rowByRow(f, view, batch);
        else f.rows(ofLength(view.columns, batch.length), batch);
        requireFinite(view, batch);
      }
    });
    return out;
  };
}

function rowByRow<K extends string>(f: Model<K>, { x, row }: View<K>, out: Float64Array): void {
  for (row.now = 0; row.now < out.length; row.now++) out[row.now] = f(x);
}

/** The columns themselves, or their beginnings for a last batch that is not full. */
function ofLength<K extends string>(
  columns: Readonly<Record<K, Float64Array>>,
  length: number,
): Readonly<Record<K, Float64Array>> {
  if (length === BATCH) return columns;
  const pairs = Object.entries<Float64Array>(columns);
  return Object.fromEntries(pairs.map(([name, c]) => [name, c.subarray(0, length)])) as Record<
    K,
    Float64Array
  >;
}

function requireFinite<K extends string>({ x, row }: View<K>, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) {
    if (Number.isFinite(out[i] ?? NaN)) continue;
    row.now = i;
    throw new RangeError(`monteCarlo requires f finite, got ${out[i]} at ${JSON.stringify(x)}`);
  }
}

interface View<K extends string> {
  /** shows one row of the columns under the inputs' names */
  readonly x: Readonly<Record<K, number>>;
  readonly columns: Readonly<Record<K, Float64Array>>;
  /** which row */
  readonly row: { now: number };
}

/** One view for each list of names: an object of one kind lets the machine compile f once, not at every call. */
const views = new Map<string, View<string>>();

/** Lends a view; while it is out another is made, so that f may itself simulate. */
function borrowView<K extends string>(names: readonly K[], use: (view: View<K>) => void): void {
  const key = JSON.stringify(names);
  const view = (views.get(key) ?? makeView(names)) as View<K>;
  views.delete(key);
  try {
    use(view);
  } finally {
    views.set(key, view);
  }
}

function makeView(names: readonly string[]): View<string> {
  const columns = Object.fromEntries(names.map((name) => [name, new Float64Array(BATCH)]));
  const x: Record<string, number> = {}, row = { now: 0 };
  for (const [name, column] of Object.entries(columns)) {
    Object.defineProperty(x, name, { enumerable: true, get: () => column[row.now] });
  }
  return { x, columns, row };
}

/** Makes the function that overwrites the columns of correlated inputs with draws that belong together. */
function tie<K extends string>(
  names: readonly K[],
  inputs: Readonly<Record<K, Distribution>>,
  correlations: readonly Correlation<K>[],
): (columns: Readonly<Record<K, Float64Array>>, source: RandomSource) => void {
  const members = names.filter((name) => correlations.some(([a, b]) => a === name || b === name));
  const lower = choleskyOfCovariance(correlationMatrix(members, correlations));
  if (members.some((name) => inputs[name].dof !== Infinity)) {
    throw new RangeError(
      `monteCarlo requires normal inputs where they are correlated: ${members.join(", ")}`,
    );
  }
  const z = members.map(() => new Float64Array(BATCH));
  return (columns, source) => {
    z.forEach((column) => source.fillNormal(column));
    members.forEach((name, j) => {
      const { mean, u } = inputs[name], out = columns[name];
      out.forEach((_, i) => {
        const sum = (lower[j] ?? []).reduce((total, l, k) => total + l * (z[k]?.[i] ?? 0), 0);
        out[i] = mean + u * sum;
      });
    });
  };
}
