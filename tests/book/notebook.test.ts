import assert from "node:assert/strict";
import fc from "fast-check";
import { join } from "node:path";
import {
  type Cell,
  cellTags,
  isCode,
  type Notebook,
  NotebookRefused,
  notebookText,
  parseNotebook,
  readNotebook,
  writeNotebook,
} from "../../lib/book/notebook.ts";
import { code, inFolder, notebook, prose } from "./notebooks.ts";

/** A cell that has put out one of each kind. */
const full: Cell = {
  ...code("const a = 1;\na\n"),
  execution_count: 3,
  outputs: [
    { output_type: "stream", name: "stdout", text: "one\ntwo\n" },
    {
      output_type: "execute_result",
      execution_count: 3,
      data: { "text/plain": "1\n2", "application/json": { deep: ["a", 1] } },
      metadata: {},
    },
    {
      output_type: "display_data",
      data: { "image/png": "aGk=\n", "text/html": "<p>\n</p>" },
      metadata: {},
    },
    { output_type: "error", ename: "Error", evalue: "no", traceback: ["Error: no"] },
  ],
} as Cell;

Deno.test("notebook: what was written is what is read", () => {
  const sample = notebook([prose("# Title\n\nwords"), full, "x", ""]);
  assert.deepEqual(parseNotebook(notebookText(sample), "a"), sample);
});

Deno.test("notebook: any source survives the way to a file and back", () => {
  fc.assert(fc.property(fc.array(fc.string({ unit: "binary" }), { maxLength: 4 }), (sources) => {
    const sample = notebook(sources);
    assert.deepEqual(parseNotebook(notebookText(sample), "a"), sample);
  }));
});

Deno.test("notebook: the file has sorted keys, lists of lines, one blank of indent and a last line end", () => {
  const text = notebookText(notebook([full]));
  const raw = JSON.parse(text);
  assert.deepEqual(Object.keys(raw), ["cells", "metadata", "nbformat", "nbformat_minor"]);
  assert.deepEqual(raw.cells[0].source, ["const a = 1;\n", "a\n"]);
  assert.deepEqual(raw.cells[0].outputs[0].text, ["one\n", "two\n"]);
  assert.deepEqual(raw.cells[0].outputs[1].data["text/plain"], ["1\n", "2"]);
  assert.equal(raw.cells[0].outputs[2].data["image/png"], "aGk=\n");
  assert.ok(text.startsWith('{\n "cells": [\n  {\n   "cell_type": "code",'));
  assert.ok(text.endsWith("}\n") && !text.endsWith("\n\n"));
});

Deno.test("notebook: order of keys and form of texts do not change the bytes", () => {
  const split =
    '{"nbformat_minor":5,"nbformat":4,"metadata":{},"cells":[{"source":["a\\n","b"],"id":"c1",' +
    '"metadata":{},"cell_type":"markdown"}]}';
  assert.equal(notebookText(parseNotebook(split, "a")), notebookText(notebook([prose("a\nb")])));
});

Deno.test("notebook: older minors get ids by place, the same each time", () => {
  const old = JSON.stringify({
    nbformat: 4,
    nbformat_minor: 2,
    metadata: {},
    cells: [
      { cell_type: "markdown", metadata: {}, source: ["a"] },
      { cell_type: "code", metadata: {}, source: "b", outputs: [], execution_count: null },
    ],
  });
  const read = parseNotebook(old, "old.ipynb");
  assert.deepEqual(read.cells.map(({ id }) => id), ["cell-1", "cell-2"]);
  assert.deepEqual(parseNotebook(old, "old.ipynb"), read);
  assert.equal(read.nbformat_minor, 5);
});

Deno.test("notebook: what is no notebook is refused in one sentence that names file and place", () => {
  const refusals: readonly (readonly [text: string, message: RegExp])[] = [
    ["", /^a\.ipynb: is not JSON/],
    ["[]", /^a\.ipynb: the file must be a notebook \(a JSON object\), got \[\]$/],
    ["{}", /^a\.ipynb: nbformat must be 4, got nothing \(and 3 more\)$/],
    ['{"nbformat":3,"nbformat_minor":0,"metadata":{},"worksheets":[]}', /worksheets has no place/],
    [
      '{"nbformat":4,"nbformat_minor":5,"metadata":{},"cells":[{"cell_type":"code"}]}',
      /^a\.ipynb: cells\[0\]\.id must be/,
    ],
  ];
  for (const [text, message] of refusals) {
    assert.throws(() => parseNotebook(text, "a.ipynb"), (error: unknown) => {
      assert.ok(error instanceof NotebookRefused);
      assert.match(error.message, message);
      assert.ok(error.problems.length > 0);
      return true;
    });
  }
});

Deno.test("notebook: one that is not valid is not written", async () => {
  await inFolder(async (folder) => {
    const bad = { ...notebook([]), cells: [{ ...prose("a"), id: "has space" }] } as Notebook;
    const path = join(folder, "bad.ipynb");
    await assert.rejects(writeNotebook(path, bad), /cells\[0\]\.id must be/);
    assert.deepEqual([...Deno.readDirSync(folder)], []);
  });
});

Deno.test("notebook: a file is replaced whole, and nothing is left beside it", async () => {
  await inFolder(async (folder) => {
    const path = join(folder, "a.ipynb");
    await Deno.writeTextFile(path, "the old one");
    await writeNotebook(path, notebook(["1"]));
    assert.deepEqual((await readNotebook(path)).cells.map(({ source }) => source), ["1"]);
    assert.deepEqual([...Deno.readDirSync(folder)].map(({ name }) => name), ["a.ipynb"]);
    await assert.rejects(
      writeNotebook(join(folder, "none", "a.ipynb"), notebook([])),
      Deno.errors.NotFound,
    );
  });
});

Deno.test("notebook: tags and kinds of cells", () => {
  assert.deepEqual(cellTags(code("a", ["card", "decide"])), ["card", "decide"]);
  assert.deepEqual(cellTags({ ...prose("a"), metadata: { tags: "card" } }), []);
  assert.deepEqual([isCode(code("a")), isCode(prose("a"))], [true, false]);
});
