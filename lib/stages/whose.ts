/** Whose numbers a block shows: the reader's own where there are any, else the demo's, always marked. */
import { type Showable, type Shown, together } from "../figures/show.ts";
import { demo as demoBlock, notYet, yours as yoursBlock } from "../figures/blocks.ts";
import type { Mirror } from "../knowledge/open.ts";

/** Whose marks a figure draws: the reader's filled, the demo's open. */
export type Whose = "yours" | "demo";

/** One kind of readings, as a block for the reader. */
export interface Part {
  /** what it is called: "leaves", "spherometer" */
  readonly name: string;
  /** what is counted, default "reading" */
  readonly noun?: string;
  /** how many readings a mirror has of it; 0 means not yet */
  readonly count: (mirror: Mirror) => number;
  /** what is shown of them; the demo's are drawn open */
  readonly show: (mirror: Mirror, whose: Whose) => readonly Showable[];
  /** what to measure, how, and into which file it goes */
  readonly how: string;
}

/** "1 reading", "7 readings". */
export function countOf(count: number, noun = "reading"): string {
  return `${count} ${noun}${count === 1 ? "" : "s"}`;
}

/**
 * The reader's readings of one kind; where there are none, how to take them, and the demo's beside.
 *
 * @param yours  the reader's mirror; when it is the demo itself, its readings are shown as the reader's
 * @param demo   the demo mirror
 */
export function ownOrDemo(part: Part, yours: Mirror, demo: Mirror): Shown {
  const own = part.count(yours);
  if (own > 0) {
    const whose = `${yours.summary.title} · ${part.name}, ${countOf(own, part.noun)}`;
    return yoursBlock(whose, ...part.show(yours, "yours"));
  }
  const missing = notYet(part.name, part.how);
  if (part.count(demo) === 0) return missing;
  return together(missing, demoBlock(demo.summary.title, ...part.show(demo, "demo")));
}

/**
 * An example from the demo mirror: marked as the demo's, unless the reader's own mirror is the demo.
 *
 * @param contents  figures, tables, sentences made from the demo's readings
 */
export function demoExample(yours: Mirror, demo: Mirror, ...contents: Showable[]): Shown {
  return yours.isDemo ? together(...contents) : demoBlock(demo.summary.title, ...contents);
}
