/** The glass that one kind and size of hidden wiggle implies: middle, variances and covariances at places on the mirror. */
import {
  addScaled,
  forwardAll,
  type Matrix,
  product,
  scaled,
  transpose,
} from "../numeric/smallMatrix.ts";
import type { Kind } from "./zoneKinds.ts";

/** One kind and size, with the readings and the line seen in units of what they then vary by. */
export interface Candidate {
  readonly kind: Kind;
  readonly size: number;
  /** of the readings' covariance */
  readonly lower: Matrix;
  readonly line: Matrix;
  /** of the line's products; the line's own middle */
  readonly root: Matrix;
  readonly middle: Float64Array;
  /** what the line leaves of the readings */
  readonly rest: Float64Array;
  readonly logWeight: number;
  /** the kind's columns as the windows see them */
  readonly seen: Matrix;
}

/** The model's columns that a kind uses, for unit size, each over all rows. */
export function columnsOf(rows: Matrix, { from, deviations }: Kind): Float64Array[] {
  return Array.from(deviations, (deviation, j) => {
    const column = new Float64Array(rows.length);
    for (let i = 0; i < rows.length; i++) {
      column[i] = deviation * ((rows[i] as Float64Array)[from + j] as number);
    }
    return column;
  });
}

/** Normal glass at some places. */
export interface Glass {
  readonly middle: Float64Array;
  readonly variances: Float64Array;
  /** of one place with all */
  readonly covariances: (place: number) => Float64Array;
}

/** What a kind does at the places, for unit size. */
interface Known {
  readonly columns: Matrix;
  /** covariances of each reading with all places */
  readonly cross: Matrix;
  readonly variances: Float64Array;
}

/** Places on the mirror; what each kind of wiggle does there is worked out once for all its sizes. */
export class Places {
  readonly #rows: Matrix;
  readonly #line: Matrix;
  readonly #known = new Map<Kind, Known>();

  /** @param rows  of the model: one for each place */
  constructor(rows: Matrix) {
    this.#rows = rows;
    this.#line = transpose(rows.map((row) => row.subarray(0, 2)));
  }

  /**
   * The glass by one candidate: the wiggle's best linear guess from the readings, and the line that is free beside it.
   *
   * Variance left = the wiggle's own - what the readings tell of it + what the line leaves open.
   */
  glass(c: Candidate): Glass {
    const square = c.size * c.size, { columns, cross, variances: own } = this.#of(c);
    const told = forwardAll(c.lower, cross, square);
    const open = forwardAll(c.root, this.#line.map((row, j) => less(row, told, c.line[j])));
    const middle = new Float64Array(own.length), variances = scaled(own, square);
    this.#line.forEach((row, j) => addScaled(middle, row, c.middle[j] as number));
    told.forEach((column, i) => addScaled(middle, column, c.rest[i] as number));
    for (const column of told) addSquares(variances, column, -1);
    for (const column of open) addSquares(variances, column, 1);
    const covariances = (place: number): Float64Array => {
      const out = new Float64Array(own.length);
      for (const column of columns) addScaled(out, column, square * (column[place] as number));
      for (const column of told) addScaled(out, column, -(column[place] as number));
      for (const column of open) addScaled(out, column, column[place] as number);
      return out;
    };
    return { middle, variances, covariances };
  }

  #of({ kind, seen }: Candidate): Known {
    let known = this.#known.get(kind);
    if (!known) {
      const columns = columnsOf(this.#rows, kind), variances = new Float64Array(this.#rows.length);
      for (const column of columns) addSquares(variances, column, 1);
      this.#known.set(kind, known = { columns, cross: product(seen, columns), variances });
    }
    return known;
  }
}

/** A row less the columns, each times its factor. */
function less(
  row: Float64Array,
  columns: Matrix,
  factors: Float64Array = new Float64Array(columns.length),
): Float64Array {
  const out = row.slice();
  columns.forEach((column, i) => addScaled(out, column, -(factors[i] as number)));
  return out;
}

function addSquares(row: Float64Array, other: Float64Array, factor: number): void {
  for (let i = 0; i < row.length; i++) {
    row[i] = (row[i] as number) + factor * (other[i] as number) * (other[i] as number);
  }
}
