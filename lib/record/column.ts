/** What a column of a table is: its name, what its cells may hold, what it means. */
import type { Dimension } from "./unit.ts";

/** What a cell of the column may hold. */
export type Kind =
  | {
    readonly kind: "measure";
    readonly dimension: Dimension;
    readonly least: number;
    readonly most: number;
  }
  /** how many per unit of length; header such as `lines_per_mm` */
  | { readonly kind: "per length"; readonly least: number; readonly most: number }
  /** a pure number, or one whose unit stands in the column's name */
  | { readonly kind: "number"; readonly least: number; readonly most: number }
  /** feeler leaves joined by plus signs */
  | { readonly kind: "leaves"; readonly most: number }
  | { readonly kind: "choice"; readonly choices: readonly string[] }
  | { readonly kind: "abrasive" }
  | { readonly kind: "date" }
  | { readonly kind: "text" };

export interface Column {
  /** without its unit, e.g. "reading" of `reading_mm` */
  readonly name: string;
  readonly kind: Kind;
  /** the table is refused without it, and so is a row that leaves it empty */
  readonly required: boolean;
  readonly meaning: string;
  readonly example: string;
}

/** Nothing on a bench is longer than this, mm: 100 m. */
export const LONGEST = 100_000;

/** A length from least to most, mm. */
export function length(least: number, most = LONGEST): Kind {
  return { kind: "measure", dimension: "length", least, most };
}

/** One column; by default it may be left out. */
export function column(
  name: string,
  kind: Kind,
  meaning: string,
  example: string,
  required = false,
): Column {
  return { name, kind, meaning, example, required };
}
