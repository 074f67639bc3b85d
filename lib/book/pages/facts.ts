/** What the pages of one book are built from: the summary, what the record says of itself, when it was built. */
import type { Observed } from "../../knowledge/observed.ts";
import type { Q, Summary } from "../../knowledge/summaryTypes.ts";
import type { MirrorRecord } from "../../record/types.ts";
import { type Html, safe, trusted } from "../../figures/html.ts";
import { formatQuantityHtml, unitSymbol } from "../../quantity/format.ts";

/** One book's facts. */
export interface BookFacts {
  readonly summary: Summary;
  readonly record: MirrorRecord;
  /** what its nights under the sky came to, where there were any */
  readonly nights?: readonly Observed[];
  /** the day the book was built */
  readonly builtOn: Date;
  /** ISO day that it is for the record, where not the clock's */
  readonly today?: string;
  /** "learner" for the edition without answers; the leader's without it */
  readonly edition?: "learner";
  /** report and sheets alone, without the lessons: no link leads to what is not there */
  readonly isAlone?: true;
  /** the book is a class's: its pages are of the bench that is chosen in them */
  readonly benches?: ClassBenches;
  /** address of the page where its readings go in, where that is not the book itself: in a room */
  readonly readingsAt?: string;
}

/** The benches that a class's book is of. */
export interface ClassBenches {
  /** of the class */
  readonly title: string;
  /** folders with the names by which the benches are called, in the order of the folders */
  readonly all: readonly { readonly folder: string; readonly name: string }[];
}

/**
 * A quantity of the summary for a page: value, uncertainty where there is one, unit, never broken over two lines.
 *
 * @param q       from a summary
 * @param digits  significant digits of a value that has no uncertainty
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(told({ value: 1200, unit: "mm" }).markup, '<span class="q">1200\u2009mm</span>');
 * assert.match(told({ value: 4.696, unit: "um" }).markup, /4\.696\u2009µm/);
 * ```
 */
export function told(q: Q, digits = 4): Html {
  const { value, unit, u, dof = Infinity } = q;
  if (u !== undefined && u > 0) return trusted(formatQuantityHtml({ value, u, dof, unit }));
  return safe`<span class="q">${plainNumber(value, digits)}${
    unit !== "" && `\u2009${unitSymbol(unit)}`
  }</span>`;
}

/** A number without an uncertainty, to so many digits, with a true minus sign. */
export function plainNumber(value: number, digits = 4): string {
  const rounded = Math.abs(value) >= 10 ** digits
    ? value.toFixed(0)
    : String(Number(value.toPrecision(digits)));
  return rounded.replace("-", "−");
}

/**
 * A sentence whose numbers stay with their units at the end of a line.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(bound("give or take 10 µm."), "give or take 10\u00a0µm.");
 * ```
 */
export function bound(sentence: string): string {
  return sentence.replace(/(\d) (?=(mm|cm|m|µm|nm|min|minutes|h|g|kg|%)\b|%)/g, "$1\u00a0");
}

/** A day in words: "25 November 2026". */
export function dayOf(date: Date): string {
  return new Intl.DateTimeFormat("en-GB", { dateStyle: "long" }).format(date);
}

/** A count with its noun: "1 reading", "7 readings". */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** The depth the sign is drawn with: measured where it is known, else the plan's; mm. */
export function depthNow(summary: Summary): { readonly depth: number; readonly measured: boolean } {
  const found = summary.curve?.sagitta ?? summary.grinding?.sagittaNow;
  return {
    depth: Math.max(0, (found ?? summary.design.sagitta).value),
    measured: found !== undefined,
  };
}
