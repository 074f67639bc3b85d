/**
 * Every notebook shows what it showed when it was last read: a line a record, eight figures a code cell, of all that the cell
 * displays, words and drawings. A change on purpose is looked at in `deno task book`, and recorded anew by
 *
 *     RECORD=1 deno test -A tests/notebooks/recorded.test.ts
 */
import type { CodeCell } from "../../lib/book/notebook.ts";
import { assertRecorded, digest, withoutScripts } from "../recorded.ts";
import { STATES } from "./books.ts";
import { codeCells, executed } from "./runs.ts";

const shownBy = ({ outputs }: CodeCell): string =>
  digest(
    JSON.stringify(outputs, (key, value) =>
      key === "metadata" || key === "execution_count"
        ? undefined
        : typeof value === "string"
        ? withoutScripts(value)
        : value),
  );

Deno.test("every cell of every notebook shows what it showed when it was last read, on all three records", async () => {
  const now: Record<string, string> = {};
  for (const state of STATES) {
    for (const { stem, notebook } of await executed(state)) {
      now[`${stem}, ${state}`] = codeCells(notebook).map(shownBy).join(" ");
    }
  }
  await assertRecorded(new URL("recorded.json", import.meta.url), now);
});
