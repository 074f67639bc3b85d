/**
 * Data frames for a page, where polars cannot run: the calls that the kit and its cells make of it, with the same meaning.
 *
 * Absent cells are `null`. A sum, a mean or a spread passes over them, arithmetic and comparison with one is `null`, and a
 * filter keeps only what is true. Whatever else polars can do is said to run in the notebook only.
 */
import type { FrameMaker } from "../record/polars.ts";

type Value = unknown;
type Row = Record<string, Value>;

/** What an expression gives for rows: a value for each. */
type Work = (rows: readonly Row[]) => Value[];

const isAbsent = (value: Value): boolean => value === null || value === undefined;
const numbers = (values: readonly Value[]): number[] =>
  values.filter((value): value is number => typeof value === "number");
const present = (values: readonly Value[]): Value[] => values.filter((value) => !isAbsent(value));

/** What all cells of a column come to, as one value. */
const SUMMARIES = {
  sum: (values: readonly Value[]): Value => sumOf(numbers(values)),
  mean: (values: readonly Value[]): Value => meanOf(numbers(values)),
  median: (values: readonly Value[]): Value => medianOf(numbers(values)),
  std: (values: readonly Value[]): Value => rooted(varianceOf(numbers(values))),
  var: (values: readonly Value[]): Value => varianceOf(numbers(values)),
  min: (values: readonly Value[]): Value => ends(values, -1),
  max: (values: readonly Value[]): Value => ends(values, 1),
  count: (values: readonly Value[]): Value => present(values).length,
  len: (values: readonly Value[]): Value => values.length,
  first: (values: readonly Value[]): Value => values[0] ?? null,
  last: (values: readonly Value[]): Value => values.at(-1) ?? null,
  nUnique: (values: readonly Value[]): Value => new Set(values).size,
} as const;

/** A sum with what each step loses carried along (Kahan), as polars sums. */
function sumOf(values: readonly number[]): number {
  let sum = 0, lost = 0;
  for (const value of values) {
    const part = value - lost, next = sum + part;
    lost = (next - sum) - part;
    sum = next;
  }
  return sum;
}

function meanOf(values: readonly number[]): number | null {
  return values.length === 0 ? null : sumOf(values) / values.length;
}

function medianOf(values: readonly number[]): number | null {
  const sorted = values.toSorted((a, b) => a - b), middle = (sorted.length - 1) / 2;
  return meanOf([Math.floor(middle), Math.ceil(middle)].flatMap((at) => sorted[at] ?? []));
}

/** Step by step, each with the mean so far (Welford), as polars does it. */
function varianceOf(values: readonly number[]): number | null {
  if (values.length < 2) return null;
  let mean = 0, squares = 0;
  values.forEach((value, i) => {
    const off = value - mean;
    mean += off / (i + 1);
    squares += off * (value - mean);
  });
  return squares / (values.length - 1);
}

const rooted = (value: number | null): number | null => value === null ? null : Math.sqrt(value);

function ends(values: readonly Value[], side: 1 | -1): Value {
  return present(values).toSorted((a, b) => side * order(b, a))[0] ?? null;
}

/** Absent first, then by number or by letter. */
function order(a: Value, b: Value): number {
  if (isAbsent(a) || isAbsent(b)) return Number(isAbsent(b)) - Number(isAbsent(a));
  if (typeof a === "number" && typeof b === "number") return a - b;
  const one = String(a), other = String(b);
  return one < other ? -1 : one > other ? 1 : 0;
}

type Two = (a: number, b: number) => Value;
const BY_TWO: Readonly<Record<string, Two>> = {
  plus: (a, b) => a + b,
  add: (a, b) => a + b,
  minus: (a, b) => a - b,
  sub: (a, b) => a - b,
  mul: (a, b) => a * b,
  multiplyBy: (a, b) => a * b,
  div: (a, b) => a / b,
  divideBy: (a, b) => a / b,
  pow: (a, b) => a ** b,
  eq: (a, b) => a === b,
  neq: (a, b) => a !== b,
  gt: (a, b) => a > b,
  gtEq: (a, b) => a >= b,
  lt: (a, b) => a < b,
  ltEq: (a, b) => a <= b,
};
const BY_ONE: Readonly<Record<string, (value: number) => Value>> = {
  abs: Math.abs,
  sqrt: Math.sqrt,
  log: Math.log,
  exp: Math.exp,
  not: (value) => !value,
};

/** Something worked out from the columns of a frame. */
export class Column {
  /**
   * @param name     of the column that comes of it
   * @param work     gives a value for each row
   * @param isWhole  whether it gives one value for all rows together
   */
  constructor(readonly name: string, readonly work: Work, readonly isWhole = false) {}

  /** The same under another name. */
  alias(name: string): Column {
    return new Column(name, this.work, this.isWhole);
  }

  /** The same, reckoned among the rows alone that agree in these columns. */
  over(...names: readonly string[]): Column {
    return new Column(this.name, (rows) => {
      const found = new Map<Row, Value>();
      for (const group of groups(rows, names).values()) {
        const values = this.work(group);
        group.forEach((row, i) => found.set(row, values[this.isWhole ? 0 : i]));
      }
      return rows.map((row) => found.get(row) ?? null);
    });
  }

  isNull(): Column {
    return this.#each(isAbsent);
  }

  isNotNull(): Column {
    return this.#each((value) => !isAbsent(value));
  }

  and(other: unknown): Column {
    return this.#with(other, (a, b) => a === false || b === false ? false : both(a, b, true));
  }

  or(other: unknown): Column {
    return this.#with(other, (a, b) => a === true || b === true ? true : both(a, b, false));
  }

  /** Absent cells by another value. */
  fillNull(value: unknown): Column {
    return this.#each((one) => isAbsent(one) ? value : one);
  }

  /** To so many digits after the point. */
  round(digits = 0): Column {
    return this.#each((value) =>
      typeof value === "number" ? Math.round(value * 10 ** digits) / 10 ** digits : null
    );
  }

  /** For the methods that are one operation. */
  applied(method: string, args: readonly unknown[]): Column | undefined {
    const summary = Reflect.get(SUMMARIES, method) as
      | ((values: readonly Value[]) => Value)
      | undefined;
    if (summary !== undefined) {
      return new Column(this.name, (rows) => [summary(this.spread(rows))], true);
    }
    const two = BY_TWO[method], one = BY_ONE[method];
    if (two !== undefined) {
      const on = (a: Value, b: Value): Value =>
        isAbsent(a) || isAbsent(b) ? null : two(a as number, b as number);
      return this.#with(args[0], on);
    }
    if (one === undefined) return undefined;
    return this.#each((value) => isAbsent(value) ? null : one(value as number));
  }

  /** A value for each row, also where it is one for all. */
  spread(rows: readonly Row[]): Value[] {
    const values = this.work(rows);
    return this.isWhole ? rows.map(() => values[0]) : values;
  }

  #each(work: (value: Value) => Value): Column {
    return new Column(this.name, (rows) => this.work(rows).map(work), this.isWhole);
  }

  #with(other: unknown, work: (a: Value, b: Value) => Value): Column {
    const right = other instanceof Column ? other : literal(other);
    const isWhole = this.isWhole && right.isWhole;
    return new Column(this.name, (rows) => {
      const a = isWhole ? this.work(rows) : this.spread(rows);
      const b = isWhole ? right.work(rows) : right.spread(rows);
      return a.map((value, i) => work(value, b[i]));
    }, isWhole);
  }
}

const both = (a: Value, b: Value, sure: boolean): Value => isAbsent(a) || isAbsent(b) ? null : sure;

for (const method of [...Object.keys(SUMMARIES), ...Object.keys(BY_TWO), ...Object.keys(BY_ONE)]) {
  Object.defineProperty(Column.prototype, method, {
    value(this: Column, ...args: unknown[]): Column | undefined {
      return this.applied(method, args);
    },
  });
}

const literal = (value: unknown): Column => new Column("literal", () => [value], true);
const column = (name: string): Column =>
  new Column(name, (rows) =>
    rows.map((row) => {
      if (name in row) return row[name];
      throw new RangeError(
        `the frame has no column ${name}; it has ${Object.keys(row).join(", ")}.`,
      );
    }));

function groups(rows: readonly Row[], names: readonly string[]): Map<string, Row[]> {
  const found = new Map<string, Row[]>();
  for (const row of rows) {
    const key = JSON.stringify(names.map((name) => row[name] ?? null));
    const group = found.get(key);
    if (group === undefined) found.set(key, [row]);
    else group.push(row);
  }
  return found;
}

const columnsIn = (wanted: readonly unknown[]): Column[] =>
  wanted.flat().map((one) => one instanceof Column ? one : column(String(one)));

/** One column with its values. */
class Series {
  constructor(readonly name: string, readonly values: readonly Value[]) {}

  get length(): number {
    return this.values.length;
  }

  toArray(): Value[] {
    return [...this.values];
  }

  [Symbol.iterator](): Iterator<Value> {
    return this.values[Symbol.iterator]();
  }
}

for (const [method, summary] of Object.entries(SUMMARIES)) {
  Object.defineProperty(Series.prototype, method, {
    value(this: Series): Value {
      return summary(this.values);
    },
  });
}

/** Rows under named columns. */
class Frame {
  constructor(readonly columns: readonly string[], readonly rows: readonly Row[]) {}

  get height(): number {
    return this.rows.length;
  }

  get width(): number {
    return this.columns.length;
  }

  get shape(): { height: number; width: number } {
    return { height: this.height, width: this.width };
  }

  toRecords(): Row[] {
    return this.rows.map((row) =>
      Object.fromEntries(this.columns.map((name) => [name, row[name] ?? null]))
    );
  }

  getColumn(name: string): Series {
    return new Series(name, column(name).work(this.rows));
  }

  filter(wanted: Column): Frame {
    const keeps = wanted.spread(this.rows);
    return new Frame(this.columns, this.rows.filter((_, i) => keeps[i] === true));
  }

  withColumns(...made: readonly unknown[]): Frame {
    const columns = columnsIn(made), values = columns.map((one) => one.spread(this.rows));
    const rows = this.rows.map((row, i) => ({
      ...row,
      ...Object.fromEntries(columns.map(({ name }, k) => [name, values[k]?.[i] ?? null])),
    }));
    return new Frame([...new Set([...this.columns, ...columns.map(({ name }) => name)])], rows);
  }

  withColumn(made: unknown): Frame {
    return this.withColumns(made);
  }

  select(...wanted: readonly unknown[]): Frame {
    const columns = columnsIn(wanted);
    const isWhole = columns.every((one) => one.isWhole);
    const rows = isWhole && this.rows.length > 0 ? this.rows.slice(0, 1) : this.rows;
    const values = columns.map((one) => isWhole ? one.work(this.rows) : one.spread(this.rows));
    return new Frame(
      columns.map(({ name }) => name),
      rows.map((_, i) =>
        Object.fromEntries(columns.map(({ name }, k) => [name, values[k]?.[i] ?? null]))
      ),
    );
  }

  drop(...names: readonly string[]): Frame {
    return new Frame(this.columns.filter((name) => !names.flat().includes(name)), this.rows);
  }

  head(rows = 5): Frame {
    return new Frame(this.columns, this.rows.slice(0, rows));
  }

  tail(rows = 5): Frame {
    return new Frame(this.columns, this.rows.slice(Math.max(0, this.rows.length - rows)));
  }

  /** By one column after the other; absent cells first, also where it goes down. */
  sort(
    by: string | Column | readonly (string | Column)[],
    down: boolean | readonly boolean[] = false,
  ): Frame {
    const columns = columnsIn([by]), values = columns.map((one) => one.spread(this.rows));
    const isDown = (k: number): boolean => typeof down === "boolean" ? down : down[k] ?? false;
    const place = (i: number, j: number): number => {
      for (const [k, column] of values.entries()) {
        const a = column[i], b = column[j], both = !isAbsent(a) && !isAbsent(b);
        const side = both && isDown(k) ? -order(a, b) : order(a, b);
        if (side !== 0) return side;
      }
      return i - j;
    };
    const places = this.rows.map((_, i) => i).sort(place);
    return new Frame(this.columns, places.map((i) => this.rows[i] ?? {}));
  }

  groupBy(
    ...names: readonly (string | readonly string[])[]
  ): { agg(...made: readonly unknown[]): Frame } {
    const keys = names.flat();
    return {
      agg: (...made) => {
        const columns = columnsIn(made);
        const rows = [...groups(this.rows, keys).values()].map((group) => ({
          ...Object.fromEntries(keys.map((name) => [name, group[0]?.[name] ?? null])),
          ...Object.fromEntries(columns.map((one) => {
            const values = one.work(group);
            return [one.name, one.isWhole ? values[0] ?? null : values];
          })),
        }));
        return new Frame([...keys, ...columns.map(({ name }) => name)], rows);
      },
    };
  }
}

/** Says of what is not here that it runs in the notebook, in place of "is not a function". */
function spoken<T extends object>(thing: T, what: string): T {
  return new Proxy(thing, {
    get(target, key): unknown {
      const found: unknown = Reflect.get(target, key, target);
      if (typeof found === "function") {
        return (...args: unknown[]) => {
          const given: unknown = Reflect.apply(found, target, args.map(bare));
          return wrapped(given);
        };
      }
      if (found === undefined && typeof key === "string" && key !== "then" && !(key in target)) {
        throw new RangeError(
          `${what} has no ${key} in a page; polars itself runs in the notebook.`,
        );
      }
      return key === inside ? target : found;
    },
    has: (target, key) => key === inside || key in target,
  });
}

const inside = Symbol("the frame itself");
const bare = (thing: unknown): unknown =>
  Array.isArray(thing)
    ? thing.map(bare)
    : typeof thing === "object" && thing !== null && inside in thing
    ? Reflect.get(thing, inside)
    : thing;

function wrapped(thing: unknown): unknown {
  if (thing instanceof Frame) return spoken(thing, "a frame");
  if (thing instanceof Column) return spoken(thing, "a column");
  if (thing instanceof Series) return spoken(thing, "a series");
  if (typeof thing === "object" && thing !== null && "agg" in thing) {
    return spoken(thing, "a grouping");
  }
  return thing;
}

const maker = {
  Float64: "number",
  Utf8: "text",
  Bool: "yes or no",
  col: (name: string): unknown => column(name),
  lit: (value: unknown): unknown => literal(value),
  Series: (name: string, values: readonly unknown[]): unknown =>
    new Series(name, values.map((value) => value ?? null)),
  DataFrame: (
    columns: readonly Series[] | Readonly<Record<string, readonly unknown[]>>,
  ): unknown => {
    const all = Array.isArray(columns)
      ? columns as readonly Series[]
      : Object.entries(columns).map(([name, values]) => new Series(name, values as unknown[]));
    const height = Math.max(0, ...all.map(({ values }) => values.length));
    const rows = Array.from(
      { length: height },
      (_, i) => Object.fromEntries(all.map(({ name, values }) => [name, values[i] ?? null])),
    );
    return new Frame(all.map(({ name }) => name), rows);
  },
};

/** What stands for polars in a page: for the library and for a cell's `import pl from "nodejs-polars"`. */
export const frames: FrameMaker & { readonly col: unknown; readonly lit: unknown } = spoken(
  maker,
  "polars",
) as unknown as FrameMaker & { readonly col: unknown; readonly lit: unknown };
