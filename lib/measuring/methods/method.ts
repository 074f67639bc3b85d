/** What a method for the radius of curvature is: one object, from the rows of its table to its words on a page. */
import type { Distribution } from "../../quantity/distributions.ts";
import type { Misconception } from "../../quantity/misconceptions.ts";
import type { Component, Estimate, Placed } from "../estimate.ts";
import type { Bench, Handling } from "../gauges.ts";
import type { Reading } from "../repeated.ts";

/** What any row may say beside its reading; a record's rows fit. */
export interface MethodRow extends Placed {
  /** ISO date */
  readonly date?: string;
  /** minutes of grinding so far */
  readonly afterMin?: number;
}

/** What may be off beside the readings. */
export interface MethodDoubts {
  /** of the instrument on the glass; default none */
  readonly handling?: Handling;
  /** how far the ruler may be off over the distance measured with it, standard uncertainty, mm; default 0 */
  readonly rulerU?: number;
}

/** Draws of every input, mm, by its name in the budget. */
export type Draws = Readonly<Record<string, Float64Array>>;

/** A method as something to draw from. An input that two methods name is one error for both. */
export interface MethodDraws {
  /** what is drawn, by name */
  readonly inputs: Readonly<Record<string, Distribution>>;
  /** adds weight times the radius of each draw to `out`, mm */
  readonly addRadius: (x: Draws, weight: number, out: Float64Array) => void;
}

/** A row that one row, or one table beside another, gives away as not what its maker meant. */
export interface Misread {
  /** as the maker wrote it */
  readonly row: MethodRow;
  /** what was found, as a sentence without its full stop */
  readonly message: string;
}

/** A change that would make the radius surer, beside one more reading and a surer gauge. */
export interface MethodChange {
  /** to do, in words */
  readonly what: string;
  /** the budget as it would be then */
  readonly components: (of: readonly Component[]) => readonly Component[];
}

/** A cell of a page's table; a pair is a value and its standard uncertainty, as printed. */
export type PageCell = string | number | undefined | readonly [value: string, u: string];

/** One line of a page's table, with the row it stands for where it is one row's. */
export interface PageLine {
  /** one for each column */
  readonly cells: readonly PageCell[];
  /** absent for a line that stands for several rows */
  readonly row?: MethodRow;
}

/** How a method's readings stand on the page of the curve. */
export interface MethodPage<R extends MethodRow> {
  /** of the block: "leaves" */
  readonly name: string;
  /** one of the course: then a reader without a reading is told how to take it */
  readonly usual: boolean;
  /** only the latest readings, and those set aside: the earlier ones belong to the log */
  readonly latestOnly: boolean;
  /** above the table */
  readonly heading: string;
  /** titles with units, for these gauges */
  columns(bench: Bench): readonly { title: string; unit?: string; text?: boolean }[];
  /** the rows as lines of the table */
  lines(rows: readonly R[], bench: Bench): readonly PageLine[];
  /** a sentence after the one that names the table */
  readonly note?: string;
  /** what to do, and into which file it goes */
  readonly how: string;
}

/** Its readings as a histogram: settings of one thing. */
export interface MethodSeries<R extends MethodRow> {
  /** of the block */
  readonly name: string;
  /** of the axis, with its unit */
  readonly title: string;
  /** after the decimal point, on the axis */
  readonly digits: number;
  /** the rows as readings of one thing */
  readings(rows: readonly R[], bench: Bench): readonly Reading[];
  /** what to do, and into which file it goes */
  readonly how: string;
}

/**
 * One way of measuring the radius of curvature. What is written as a method of this type takes rows of its own table,
 * so that all methods stand in one registry (`methods.ts`).
 */
export interface CurveMethod<
  N extends string = string,
  T extends string = string,
  R extends MethodRow = MethodRow,
> {
  /** as summary.json has it */
  readonly name: N;
  /** on a page: "Leaves" */
  readonly title: string;
  /** of a focal length in the class: "by leaves" */
  readonly by: string;
  /** the table it reads, without its ".csv" */
  readonly table: T;
  /** whether a row of the table is one of its own */
  reads(row: R): boolean;
  /** false where the record does not describe the instrument: its rows are then passed over */
  isDescribed?(bench: Bench): boolean;
  /**
   * The readings as a radius with its budget; `undefined` where no row has a reading.
   *
   * @throws {CannotTell} where they are of no curve
   */
  reduce(rows: readonly R[], bench: Bench, doubts?: MethodDoubts): Estimate | undefined;
  /** the rows of one session with those of another that stand for it too: a flat that was read once */
  complete?(session: readonly R[], all: readonly R[]): readonly R[];
  /** absent for a check that is not weighed with the others; rows are such that `reduce` gives an estimate */
  draws?(rows: readonly R[], bench: Bench, doubts: MethodDoubts): MethodDraws;
  /** what its readings are taken for, and what that makes of the radius */
  readonly misconceptions: readonly Misconception[];
  /** a row that is not of one series with the others; `all` are the rows of every session */
  misread?(rows: readonly R[], all: readonly R[], bench: Bench): Misread | undefined;
  /** its instrument rests on the bevel, so that a forgotten bevel moves it */
  readonly restsOnRim?: boolean;
  /** set where it is too coarse to weigh with others: what does not fit, and what to ask then */
  readonly check?: { readonly what: string; readonly ask: string };
  /** @param wider  how much wider an instrument to think of, relative to today's */
  /** what would make the radius surer; absent where nothing but more readings would */
  changes?(wider: number): readonly MethodChange[];
  /** absent where the method has no table on the page */
  readonly page?: MethodPage<R>;
  /** absent where its readings are not of one thing */
  readonly series?: MethodSeries<R>;
}
