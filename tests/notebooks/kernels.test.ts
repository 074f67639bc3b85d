/** The book is made without kernels; Jupyter runs the same notebooks in kernels: both give the same, to the byte. */
import assert from "node:assert/strict";
import { basename } from "node:path";
import { notebookText } from "../../lib/book/notebook.ts";
import { runNotebooks } from "../../lib/book/runner.ts";
import { RECORDS } from "./books.ts";
import { executed, paths } from "./runs.ts";

Deno.test("every notebook on the finished record: kernels give what stands in the book, to the byte", async () => {
  const inBook = await executed("finished");
  const byKernels = await runNotebooks(paths, {
    env: { FIRST_MIRROR_RECORD: RECORDS.finished },
  });
  for (const [i, { path, notebook, failures }] of byKernels.entries()) {
    assert.deepEqual(failures, [], path);
    const other = inBook[i];
    assert.equal(other?.stem, basename(path, ".ipynb"));
    assert.equal(
      notebookText(notebook),
      other === undefined ? "" : notebookText(other.notebook),
      path,
    );
  }
});
