/** Pages that stand beside the lessons: what there is to print, and the class where the record lies in one. */
import { classBeside } from "../knowledge/classBeside.ts";
import { cautionsOf } from "./cautions.ts";
import type { Notebook } from "./notebook.ts";
import { classPage } from "./pages/classPage.ts";
import type { BookFacts } from "./pages/facts.ts";
import { printablesOf, printFiles } from "./pages/printPages.ts";

/**
 * Files by their path in the book.
 *
 * @param lessons  the book's notebooks: their cautions go on the safety sheet
 */
export async function besidePages(
  facts: BookFacts,
  lessons: readonly { readonly notebook: Notebook }[],
): Promise<ReadonlyMap<string, string>> {
  const stages = lessons.map(({ notebook }) => cautionsOf(notebook));
  const { many, isDemo } = await classBeside(facts);
  return new Map([
    ...printFiles(printablesOf(facts, stages), facts),
    ...(isDemo ? [] : [["class.html", classPage(many, true)] as const]),
  ]);
}
