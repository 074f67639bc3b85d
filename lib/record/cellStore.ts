/** The values of a table as its rows are looked at: held column by column, asked for row by row. */

/** One row's cells in the kit's units, by column name; what was left empty is absent. */
export interface Values {
  readonly line: number;
  /** something in this row was refused: what it says as a whole is not judged */
  readonly refused: boolean;
  /** the file's own spelling of each column, for refusals */
  readonly headers: ReadonlyMap<string, string>;
  readonly numbers: ByName<number>;
  readonly texts: ByName<string>;
  readonly leaves: ByName<readonly number[]>;
}

/** Values of a row by their columns' names. */
export type ByName<T> = Pick<ReadonlyMap<string, T>, "get" | "has">;

export type Value = number | string | readonly number[] | undefined;

/** What all rows of a table share: a long table is held column by column, in little memory. */
export interface Store {
  readonly headers: ReadonlyMap<string, string>;
  /** each column's values by its name, one for each row */
  readonly columns: ReadonlyMap<string, readonly Value[]>;
  /** rows in which something was refused */
  readonly refused: ReadonlySet<number>;
}

/** One row of a store: where it stands, and nothing of its own. */
export class StoredRow implements Values {
  constructor(
    readonly line: number,
    private readonly store: Store,
    private readonly at: number,
  ) {}

  get refused(): boolean {
    return this.store.refused.has(this.at);
  }

  get headers(): ReadonlyMap<string, string> {
    return this.store.headers;
  }

  get numbers(): ByName<number> {
    return this.#only((value) => typeof value === "number");
  }

  get texts(): ByName<string> {
    return this.#only((value) => typeof value === "string");
  }

  get leaves(): ByName<readonly number[]> {
    return this.#only((value) => typeof value === "object");
  }

  #only<T extends Value>(is: (value: Value) => value is T): ByName<T> {
    const get = (name: string): T | undefined => {
      const value = this.store.columns.get(name)?.[this.at];
      return is(value) ? value : undefined;
    };
    return { get, has: (name) => get(name) !== undefined };
  }
}
