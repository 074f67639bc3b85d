/** The engine of the simulation: draws of the inputs in columns, the result row by row. */
import { cholesky } from "../numeric/cholesky.ts";
import type { RandomSource } from "../numeric/random.ts";
import { type Distribution, fillColumn } from "./distributions.ts";
import { type Correlation, correlationMatrix } from "./propagate.ts";

/** A result as a function of an object with the inputs' names. */
export type Model<K extends string> = (x: Readonly<Record<K, number>>) => number;

/** Draws are made a thousand at a time, one input after the other: fast, and small enough for the nearest memory. */
const BATCH = 1024;

/**
 * Makes the function that draws a result a number of times.
 *
 * @param f             the result; the object it is given shows the next draw at the next call
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
  f: Model<K>,
  inputs: Readonly<Record<K, Distribution>>,
  source: RandomSource,
  correlations: readonly Correlation<NoInfer<K>>[],
): (count: number) => Float64Array {
  const names = Object.keys(inputs) as K[];
  const tied = correlations.length > 0 ? tie(names, inputs, correlations) : undefined;
  return (count) => {
    const out = new Float64Array(count);
    borrowView(names, ({ x, columns, row }) => {
      for (let start = 0; start < count; start += BATCH) {
        names.forEach((name, j) => fillColumn(inputs[name], columns[j] ?? out, source));
        tied?.(columns, source);
        const length = Math.min(BATCH, count - start);
        for (row.now = 0; row.now < length; row.now++) out[start + row.now] = f(x);
        for (row.now = 0; row.now < length; row.now++) {
          const y = out[start + row.now] ?? NaN;
          if (Number.isFinite(y)) continue;
          throw new RangeError(`monteCarlo requires f finite, got ${y} at ${JSON.stringify(x)}`);
        }
      }
    });
    return out;
  };
}

interface View<K extends string> {
  /** shows one row of the columns under the inputs' names */
  readonly x: Readonly<Record<K, number>>;
  readonly columns: readonly Float64Array[];
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
  const columns = names.map(() => new Float64Array(BATCH)), row = { now: 0 };
  const x: Record<string, number> = {};
  names.forEach((name, j) => {
    const column = columns[j] ?? new Float64Array(0);
    Object.defineProperty(x, name, { enumerable: true, get: () => column[row.now] });
  });
  return { x, columns, row };
}

/** Makes the function that overwrites the columns of correlated inputs with draws that belong together. */
function tie<K extends string>(
  names: readonly K[],
  inputs: Readonly<Record<K, Distribution>>,
  correlations: readonly Correlation<K>[],
): (columns: readonly Float64Array[], source: RandomSource) => void {
  const members = names.filter((name) => correlations.some(([a, b]) => a === name || b === name));
  const lower = cholesky(correlationMatrix(members, correlations));
  if (members.some((name) => inputs[name].dof !== Infinity)) {
    throw new RangeError(
      `monteCarlo requires normal inputs where they are correlated: ${members.join(", ")}`,
    );
  }
  const z = members.map(() => new Float64Array(BATCH));
  return (columns, source) => {
    z.forEach((column) => source.fillNormal(column));
    members.forEach((name, j) => {
      const { mean, u } = inputs[name], out = columns[names.indexOf(name)];
      out?.forEach((_, i) => {
        const sum = (lower[j] ?? []).reduce((total, l, k) => total + l * (z[k]?.[i] ?? 0), 0);
        out[i] = mean + u * sum;
      });
    });
  };
}
