/** The kit's notebooks on the three records: finished, half-way, empty. Each record is run once and remembered. */
import { basename } from "node:path";
import type { CodeCell, Notebook, Output } from "../../lib/book/notebook.ts";
import { isCode } from "../../lib/book/notebook.ts";
import { notebookPaths } from "../../lib/book/notebookPaths.ts";
import { runNotebooks, type RunResult } from "../../lib/book/runner.ts";
import { recordsFolder } from "../../lib/record/open.ts";
import { EMPTY } from "../contract/copies.ts";

/** The records, by how far they go. */
export const RECORDS = {
  finished: `${recordsFolder}/demo-150-f8`,
  "half-way": `${recordsFolder}/halfway-200-f6`,
  empty: EMPTY,
} as const;
export type State = keyof typeof RECORDS;
export const STATES = Object.keys(RECORDS) as State[];

export const paths: readonly string[] = await notebookPaths();

const runs = new Map<State, Promise<readonly RunResult[]>>();

/** All notebooks on one record, in the order of the course. */
export function executed(state: State): Promise<readonly RunResult[]> {
  const run = runs.get(state) ??
    runNotebooks(paths, { parallel: 2, env: { FIRST_MIRROR_RECORD: RECORDS[state] } });
  runs.set(state, run);
  return run;
}

/** One notebook on one record. */
export async function executedOne(state: State, stem: string): Promise<Notebook> {
  const found = (await executed(state)).find(({ path }) => basename(path) === `${stem}.ipynb`);
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
