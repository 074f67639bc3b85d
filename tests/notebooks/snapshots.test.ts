/**
 * Every notebook shows what it showed when it was last read: a file a notebook and record, in it cell by cell what it says in words
 * and what a reader of the page reads. A change on purpose is looked at in `deno task book`, and kept anew by
 *
 *     RECORD=1 deno test -A tests/notebooks/snapshots.test.ts
 */
import type { CodeCell, Output } from "../../lib/book/notebook.ts";
import { stageNameOf } from "../../lib/lessons/course.ts";
import { assertSnapshots, read } from "../snapshots.ts";
import { STATES } from "./books.ts";
import { codeCells, executed } from "./runs.ts";

function shownBy(output: Output): string[] {
  if (output.output_type === "stream") return [output.text];
  if (output.output_type === "error") return [`${output.ename}: ${output.evalue}`];
  return Object.entries(output.data).map(([kind, value]) => {
    const text = typeof value === "string" ? value : JSON.stringify(value);
    return kind === "text/plain" ? text : `${kind}\n${read(text)}`;
  });
}

const cellText = (cell: CodeCell): string =>
  [`== ${cell.id}`, ...cell.outputs.flatMap(shownBy).filter((text) => text.trim() !== "")].join(
    "\n",
  );

Deno.test("every cell of every notebook shows what it showed when it was last read, on all three records", async () => {
  const now: Record<string, string> = {};
  for (const state of STATES) {
    for (const { stem, notebook } of await executed(state)) {
      now[`${state}/${stageNameOf(stem)}`] = codeCells(notebook).map(cellText).join("\n\n");
    }
  }
  await assertSnapshots(new URL("snapshots/", import.meta.url), now);
});
