/**
 * The exercises as the kit reads them: from the sealed text, so that no page, script or package of it holds an answer in plain words.
 * Written are they in `exercises/`, one file a stage; `deno task stages` seals them.
 */
import type { Exercise } from "./exercise.ts";
import type { misconceptions } from "./exercises/misconceptions.ts";
import { unseal } from "./sealed.ts";
import sealed from "./exercises.sealed.txt" with { type: "text" };

/** All that tells an answer, or what a wrong one shows. */
export interface Lessons {
  /** what a hint says about each misconception, by its letter */
  readonly misconceptions: typeof misconceptions;
  /** ratios of a wrong answer to the right one that give the misconception away, and what is said to each */
  readonly ratios: readonly (readonly [ratio: number, say: string])[];
  /** by the name of their stage: try, change, think */
  readonly exercises: Readonly<Record<string, readonly Exercise[]>>;
}

/** Misconceptions, ratios and exercises. */
export const opened: Lessons = JSON.parse(unseal(sealed));
