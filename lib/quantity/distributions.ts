/** What is known of an input, as something to draw from. */
import type { RandomSource } from "../numeric/random.ts";
import { choleskyOfCovariance } from "../numeric/smallMatrix.ts";
import { effectiveDof } from "./coverage.ts";
import { type Correlation, correlationMatrix } from "./propagate.ts";

/** A distribution: one draw at a time, with its own mean and standard deviation for the law of propagation. */
export interface Distribution {
  /** one number at random */
  draw(source: RandomSource): number;
  /** many draws at once, where that is faster than one by one; not the numbers `draw` would give */
  readonly fill?: (out: Float64Array, source: RandomSource) => void;
  /** of the distribution, not of draws */
  readonly mean: number;
  /** standard deviation of the distribution */
  readonly u: number;
  /** degrees of freedom of `u`; `Infinity` where it is taken as known */
  readonly dof: number;
}

/**
 * A value that is not in doubt.
 *
 * @param value  finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(exactly(50).u, 0);
 * ```
 */
export function exactly(value: number): Distribution {
  requireSpread("exactly", value, 0);
  return {
    draw: () => value,
    fill: (out) => void out.fill(value),
    mean: value,
    u: 0,
    dof: Infinity,
  };
}

/**
 * The bell curve.
 *
 * @param mean  finite
 * @param sd    standard deviation, 0 or more
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(normalAbout(5, 0.1).u, 0.1);
 * ```
 */
export function normalAbout(mean: number, sd: number): Distribution {
  requireSpread("normalAbout", mean, sd);
  return {
    draw: (source) => mean + sd * source.normal(),
    fill: (out, source) => source.fillNormal(out, mean, sd),
    mean,
    u: sd,
    dof: Infinity,
  };
}

/**
 * A mean of a few readings: Student's t, scaled by its standard uncertainty.
 *
 * Its standard deviation is larger than `scale` by √(dof/(dof-2)); the law of propagation is given `scale` and `dof`.
 *
 * @param mean   finite
 * @param scale  s / √n, 0 or more
 * @param dof    n - 1, above 0
 * @see JCGM 101:2008, 6.4.9 (its examples read: tests/references/jcgm101-9.5-gauge-block.json)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(studentAbout(5, 0.1, 4).dof, 4);
 * ```
 */
export function studentAbout(mean: number, scale: number, dof: number): Distribution {
  requireSpread("studentAbout", mean, scale);
  if (!(dof > 0)) throw new RangeError(`studentAbout requires dof above 0, got dof=${dof}`);
  return {
    draw: (source) => mean + scale * source.studentT(dof),
    fill: (out, source) => source.fillStudent(out, dof, mean, scale),
    mean,
    u: scale,
    dof,
  };
}

/**
 * Anything from low to high equally likely.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(rectangularBetween(1, 3).mean, 2);
 * ```
 */
export function rectangularBetween(low: number, high: number): Distribution {
  const half = requireEnds("rectangularBetween", low, high);
  return {
    draw: (source) => low + (high - low) * source.uniform(),
    fill: (out, source) => source.fillUniform(out, low, high),
    mean: low + half,
    u: half / Math.sqrt(3),
    dof: Infinity,
  };
}

/**
 * Several independent inputs added: the errors of the leaves of a stack, of a dial at two places.
 *
 * @param parts  one or more
 * @throws {RangeError} for none
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const error = rectangularBetween(-0.005, 0.005);
 * assert.equal(sumOf([error, error, error]).u.toFixed(6), "0.005000");
 * ```
 */
export function sumOf(parts: readonly Distribution[]): Distribution {
  const [first, ...others] = parts;
  if (first === undefined) {
    throw new RangeError("sumOf requires one distribution or more, got none");
  }
  if (others.length === 0) return first;
  let scratch = new Float64Array(0);
  return {
    draw: (source) => parts.reduce((sum, part) => sum + part.draw(source), 0),
    fill: (out, source) => {
      if (scratch.length !== out.length) scratch = new Float64Array(out.length);
      fillColumn(first, out, source);
      for (const part of others) {
        fillColumn(part, scratch, source);
        for (let i = 0; i < out.length; i++) out[i] = (out[i] ?? 0) + (scratch[i] ?? 0);
      }
    },
    mean: parts.reduce((sum, part) => sum + part.mean, 0),
    u: Math.hypot(...parts.map(({ u }) => u)),
    dof: effectiveDof(parts),
  };
}

/**
 * Fills an array with draws, by the quickest way the distribution knows.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { random } from "first-mirror/numeric";
 * const out = new Float64Array(2);
 * fillColumn(normalAbout(5, 0), out, random(1));
 * assert.deepEqual([...out], [5, 5]);
 * ```
 */
export function fillColumn(
  distribution: Distribution,
  out: Float64Array,
  source: RandomSource,
): void {
  if (distribution.fill) return distribution.fill(out, source);
  for (let i = 0; i < out.length; i++) out[i] = distribution.draw(source);
}

function requireSpread(name: string, mean: number, spread: number): void {
  if (!(Number.isFinite(mean) && Number.isFinite(spread) && spread >= 0)) {
    throw new RangeError(`${name} requires a finite mean and spread >= 0, got ${mean}, ${spread}`);
  }
}

/** Half the distance between the ends. */
function requireEnds(name: string, low: number, high: number): number {
  if (Number.isFinite(low) && Number.isFinite(high) && low <= high) return (high - low) / 2;
  throw new RangeError(`${name} requires finite low <= high, got ${low}, ${high}`);
}

// The engine of the simulation: draws of the inputs in columns, the result row by row.

/** A result as a function of an object with the inputs' names. */
export type Model<K extends string> = (x: Readonly<Record<K, number>>) => number;

/**
 * The same for many draws at once, where speed matters: `rows` reads its inputs from columns and fills `out`, all of
 * one length. A draw's result may depend on its own row only.
 */
export interface ColumnModel<K extends string> {
  /** fills `out` from the inputs' columns */
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
