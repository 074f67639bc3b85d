/** The kit's notebooks as they were executed for the books of the three records. */
import { basename, join } from "node:path";
import type { CodeCell, Notebook, Output } from "../../lib/book/notebook.ts";
import { isCode, readNotebook } from "../../lib/book/notebook.ts";
import { notebookPaths } from "./notebookPaths.ts";
import { bookOn, type State } from "./books.ts";

export const paths: readonly string[] = await notebookPaths();

/** A notebook by its name, with the outputs of one record. */
export interface Executed {
  readonly stem: string;
  readonly notebook: Notebook;
}

/** All notebooks on one record, in the order of the course. */
export async function executed(state: State): Promise<readonly Executed[]> {
  const book = await bookOn(state);
  return await Promise.all(paths.map(async (path) => {
    const stem = basename(path, ".ipynb");
    return { stem, notebook: await readNotebook(join(book, "notebooks", `${stem}.ipynb`)) };
  }));
}

/** One notebook on one record. */
export async function executedOne(state: State, stem: string): Promise<Notebook> {
  const found = (await executed(state)).find((one) => one.stem === stem);
  if (found === undefined) throw new Error(`no notebook ${stem}`);
  return found.notebook;
}

export const codeCells = (notebook: Notebook): readonly CodeCell[] => notebook.cells.filter(isCode);

/** What a cell displayed, as a reader without pictures gets it; the empty result behind `show` is left out. */
export function textsOf(cell: CodeCell): readonly string[] {
  return cell.outputs.flatMap((output: Output) => {
    if (output.output_type === "stream") return [output.text];
    if (output.output_type === "error") return [`${output.ename}: ${output.evalue}`];
    const text = output.data["text/plain"];
    return Object.keys(output.data).length === 0 ? [] : [typeof text === "string" ? text : ""];
  });
}

/** Everything a notebook shows, in words. */
export const wordsOf = (notebook: Notebook): string =>
  codeCells(notebook).flatMap(textsOf).join("\n");
