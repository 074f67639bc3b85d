/** The stages as this book has them: with the page's file where the notebook is written. */
import { course, type Stage } from "../../lessons/course.ts";

/** A stage in this book. */
export interface Chapter extends Stage {
  /** the page's file; absent while the notebook is not written */
  readonly file?: string;
}

/**
 * All stages in course order, those with a notebook with their page.
 *
 * @param stems   names of the notebooks at hand, without extension
 * @param titles  a notebook's own title where it has one, by name
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const all = chaptersOf(["04-measure-curve"]);
 * assert.deepEqual(all.flatMap((chapter) => chapter.file ?? []), ["04-measure-curve.html"]);
 * ```
 */
export function chaptersOf(
  stems: readonly string[],
  titles: ReadonlyMap<string, string> = new Map(),
): Chapter[] {
  return course.map((stage) => {
    if (!stems.includes(stage.stem)) return stage;
    return { ...stage, title: titles.get(stage.stem) ?? stage.title, file: `${stage.stem}.html` };
  });
}
