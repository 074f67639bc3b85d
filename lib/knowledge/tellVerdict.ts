/** How far a verdict reaches, what it lacks, what it cannot see: the same words for `check`, report and pages. */
import { tellQ } from "./tellQ.ts";
import type { FigureSummary, Summary } from "./summaryTypes.ts";

/** A word for the margin and a sentence without its full stop. */
export type Note = readonly [label: string, text: string];

const listed = new Intl.ListFormat("en", { type: "conjunction" });

/** Shares below this are summed up as others. */
const LEAST_SHARE = 0.01;

const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;

/** Amplitude, axis and stand of what makes a mirror out of round. */
export function astigmatismSaid({ astigmatism }: Pick<FigureSummary, "astigmatism">): string {
  if (astigmatism === undefined) return "";
  const { amplitude, axis, stand, interval95: [low, high] } = astigmatism;
  const own = stand === undefined ? "" : `; the stand as the knives see it ${tellQ(stand)}`;
  const where = low > 0
    ? `high along ${tellQ(axis)} counter-clockwise from the mark`
    : "a round mirror is not excluded";
  return `amplitude ${tellQ(amplitude)} of glass (95 %: ${low.toFixed(0)} to ${
    high.toFixed(0)
  }), ${where}${own}`;
}

/**
 * What the doubt of the wavefront comes from, largest first.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const budget = [{ source: "drift within a run", share: 0.3 }, { source: "scatter of the readings", share: 0.7 }];
 * assert.equal(budgetSaid({ budget }), "scatter of the readings 70 %, drift within a run 30 %");
 * ```
 */
export function budgetSaid({ budget = [] }: Pick<FigureSummary, "budget">): string {
  return budget.filter(({ share }) => share >= LEAST_SHARE)
    .toSorted((a, b) => b.share - a.share)
    .map(({ source, share }) => `${source} ${percent(share)}`).join(", ");
}

function scopeSaid({ scope }: NonNullable<Summary["verdict"]>, zones?: FigureSummary): string {
  const { diameters } = zones ?? {};
  if (scope === "whole surface") {
    return `the verdict is of the whole surface${
      diameters === undefined ? "" : `, by ${diameters} directions on the mirror`
    }`;
  }
  return diameters === undefined || diameters < 2
    ? "the verdict is of one diameter: astigmatism, and whatever else differs from one diameter to another, was not looked for"
    : `the verdict is of one diameter: ${diameters} directions on the mirror were read, too few for the whole surface`;
}

/** What belongs beside a verdict, each a sentence without its full stop; nothing where there is none. */
export function verdictNotes({ verdict, figure }: Summary): readonly Note[] {
  if (verdict === undefined) return [];
  const { lacks = [], outsideShadow: outside } = verdict, zones = figure?.zones;
  const notes: Note[] = [["scope", scopeSaid(verdict, zones)]];
  if (lacks.length > 0) {
    notes.push([
      "still lacking",
      `before the mirror may be sent to be coated there still lack: ${listed.format(lacks)}`,
    ]);
  }
  for (const sentence of zones?.unseen ?? []) notes.push(["not seen", sentence]);
  if (outside !== undefined) {
    const [low, high] = outside.interval95.map((end) => end.toFixed(3));
    notes.push([
      "outside shadow",
      `outside the flat's shadow the wavefront P-V is ${
        tellQ(outside.wavefrontPv)
      } (95 %: ${low} to ${high}): ${outside.meetsGoal}`,
    ]);
  }
  return notes;
}
