/** What page and worker say to one another. */
import type { CellNames } from "./dependence.ts";
import type { PageHands } from "./inPage.ts";

/** What the worker begins with. */
export type Beginning = Omit<PageHands, "photos" | "frames">;

/** What the page asks of the worker. */
export type Asked =
  | { readonly ask: "begin"; readonly with: Beginning }
  /** which names the cells give and use */
  | { readonly ask: "read"; readonly sources: readonly string[] }
  /** runs a cell; `names` are all that cells give */
  | {
    readonly ask: "run";
    readonly cell: number;
    readonly source: string;
    readonly others: readonly string[];
  }
  | { readonly ask: "drop"; readonly names: readonly string[] }
  /** whether it is free: a worker that computes does not answer */
  | { readonly ask: "free" };

/** What is shown of a cell's output. */
export interface ShownOutput {
  readonly html: string;
  readonly text: string;
}

/** Why a cell stopped. */
export interface Stopped {
  /** one sentence */
  readonly says: string;
  /** line of the cell, from 1 */
  readonly line?: number;
}

/** What came of a cell. */
export interface RunAnswer {
  readonly shown: readonly ShownOutput[];
  readonly stopped?: Stopped;
}

/** A cell's names, or why it cannot be read. */
export type ReadAnswer = CellNames | Stopped;

/** What the worker says: an answer, or the line that it has come to. */
export type Said =
  | { readonly to: number; readonly answer: unknown }
  | { readonly at: number; readonly cell: number }
  /** it can go on no longer: a cell has changed what it stands on itself */
  | { readonly fault: string };
