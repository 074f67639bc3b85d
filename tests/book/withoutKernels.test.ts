/** Notebooks in threads of this process: the same bytes as by kernels, and failures told where they are. */
import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import { join } from "node:path";
import { notebookText } from "../../lib/book/notebook.ts";
import { failureText, type Progress, runNotebooks, type RunResult } from "../../lib/book/runner.ts";
import { runWithoutKernels } from "../../lib/book/withoutKernels.ts";
import { code, notebookOf, prose } from "./sampleBook.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));

/** Writes notebooks where they find the kit, and gives their paths. */
async function withNotebooks(
  cells: readonly (readonly ReturnType<typeof code>[])[],
  act: (paths: string[]) => Promise<void>,
): Promise<void> {
  await Deno.mkdir(join(root, "book"), { recursive: true });
  const folder = await Deno.makeTempDir({ dir: join(root, "book"), prefix: ".notebooks-" });
  try {
    const paths = cells.map((_, i) => join(folder, `${i}.ipynb`));
    for (const [i, path] of paths.entries()) {
      await Deno.writeTextFile(path, notebookText(notebookOf(cells[i] ?? [])));
    }
    await act(paths);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

const texts = (results: readonly RunResult[]): string[] =>
  results.map(({ notebook }) => notebookText(notebook));

Deno.test("what cells put out is what a kernel puts out, to the byte: shown, printed, valued, thrown where it may", () =>
  withNotebooks([
    [
      prose("# One"),
      code(
        'import { show } from "first-mirror/figures";\nimport { sagitta } from "first-mirror/optics";\nconst depth: number = sagitta(150, 2400);\nshow(depth, "mm");',
        [],
      ),
      code('console.log("two", 2, { a: [1, 2] });\nconsole.error("aside");\ndepth', []),
      code("if (depth > 1) show(depth); else show(1);", []),
      code("  ", []),
      code("let n = 0;\nfor (const x of [1, 2, 3]) n += x;\nconst after = 1;", []),
      code("`text ${n}`", []),
      code("({ list: [1, 2], nested: { deep: true } })", []),
      code('throw new RangeError("no glass");', [], "raises-exception"),
      code("n + 1", []),
    ],
    [
      code(
        'import pl from "nodejs-polars";\nimport * as Plot from "@observablehq/plot";\nimport { plotted, show } from "first-mirror/figures";\nconst rows = pl.DataFrame({ x: [1.1, 2.2, 3.7], y: [0.1, 0.7, 0.3] });\nconst mean = rows.withColumns(pl.col("y").minus(pl.col("y").mean()).alias("off")).toRecords();\nshow(plotted("Off the mean", { marks: [Plot.dot(mean, { x: "x", y: "off" })] }));',
        [],
      ),
      code(
        'import { openRecord } from "first-mirror/knowledge";\nconst { yours } = await openRecord();\nshow(yours.record.settings.title);',
        [],
      ),
    ],
  ], async (paths) => {
    const record = join(root, "data/records/halfway-200-f6");
    const threads = await runWithoutKernels(paths, { record });
    const kernels = await runNotebooks(paths, { env: { FIRST_MIRROR_RECORD: record } });
    assert.deepEqual(threads.flatMap(({ failures }) => failures.map(failureText)), []);
    assert.deepEqual(texts(threads), texts(kernels));
  }));

Deno.test("a failure is told with notebook, cell, line and code; what comes after it does not run, other notebooks do", () =>
  withNotebooks([
    [code("1", []), code("const a = 1;\nnull.mm;", []), code("2", [])],
    [code("const a = ;", [])],
    [code('import { nosuch } from "first-mirror/optics";', [])],
    [code("NaN", [])],
    [code("3", [])],
  ], async (paths) => {
    const seen: Progress[] = [];
    const results = await runWithoutKernels(paths, { onProgress: (step) => void seen.push(step) });
    const told = results.map(({ failures }) =>
      failures.map((failure) => failureText(failure).replace(/^\S*?(\d\.ipynb)/, "$1"))
    );
    assert.deepEqual(told, [
      ["0.ipynb, code cell 2, line 2: TypeError: Cannot read properties of null (reading 'mm')\n    null.mm;"],
      ["1.ipynb, code cell 1, line 1: ; is not expected here.\n    const a = ;"],
      ['2.ipynb, code cell 1, line 1: "first-mirror/optics" has nothing called nosuch.\n    import { nosuch } from "first-mirror/optics";'],
      ["3.ipynb, code cell 1: the cell's value is NaN, which a kernel does not show; end the cell with show(...)\n    NaN"],
      [],
    ]);
    const last = new Map(seen.map(({ notebook, state }) => [notebook, state]));
    assert.deepEqual([...last.values()].toSorted(), [
      "done",
      "failed",
      "failed",
      "failed",
      "failed",
    ]);
  }));

Deno.test("a cell that does not end is ended after its time, and the next notebook has a thread of its own", () =>
  withNotebooks([
    [code("1", []), code("for (;;);", [])],
    [code("await new Promise(() => {});", [])],
    [code("2", [])],
  ], async (paths) => {
    const results = await runWithoutKernels(paths, { parallel: 1, secondsPerCell: 2 });
    const why = /still computing or waiting after 2 s/;
    assert.match(results[0]?.failures[0]?.message ?? "", why);
    assert.equal(results[0]?.failures[0]?.cell, 2);
    assert.match(results[1]?.failures[0]?.message ?? "", why);
    assert.deepEqual(results[2]?.failures, []);
  }));
