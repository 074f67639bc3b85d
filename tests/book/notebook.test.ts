/** A cell that has put out one of each kind. */
import fc from "fast-check";
import assert from "node:assert/strict";
import { join } from "node:path";
import {
  bundleProblems,
  type Cell,
  cellTags,
  isCode,
  type Notebook,
  notebookProblems,
  NotebookRefused,
  notebookText,
  parseNotebook,
  readNotebook,
  writeNotebook,
} from "../../lib/book/notebook.ts";
import { hasNbconvert, python } from "../machine.ts";
import { code, inFolder, notebook, prose } from "./notebooks.ts";

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

type Raw = Record<string, unknown>;

const base = (cells: unknown = [], more: Raw = {}): Raw => ({
  nbformat: 4,
  nbformat_minor: 5,
  metadata: {},
  cells,
  ...more,
});
const codeCell = (more: Raw = {}): Raw => ({
  id: "c1",
  cell_type: "code",
  metadata: {},
  source: "1",
  outputs: [],
  execution_count: null,
  ...more,
});
const textCell = (more: Raw = {}): Raw => ({
  id: "c1",
  cell_type: "markdown",
  metadata: {},
  source: ["a\n", "b"],
  ...more,
});
const shows = (output: unknown): Raw => base([codeCell({ outputs: [output] })]);
const result = (more: Raw = {}): Raw => ({
  output_type: "execute_result",
  execution_count: 1,
  data: {},
  metadata: {},
  ...more,
});
const without = (object: Raw, key: string): Raw =>
  Object.fromEntries(Object.entries(object).filter(([name]) => name !== key));

/** Notebooks that are valid, and notebooks with one fault and what the sentence about it must hold. */
const valid: readonly (readonly [what: string, notebook: Raw])[] = [
  ["empty", base()],
  ["text cell with lines", base([textCell()])],
  ["raw cell", base([textCell({ cell_type: "raw" })])],
  ["attachments", base([textCell({ attachments: { "a.png": { "image/png": "aGk=" } } })])],
  [
    "tags and own metadata",
    base([codeCell({ metadata: { tags: ["a", "b"], mine: { deep: 1 } } })]),
  ],
  [
    "kernel and language",
    base([], {
      metadata: {
        kernelspec: { name: "k", display_name: "K" },
        language_info: { name: "typescript" },
      },
    }),
  ],
  ["stream", shows({ output_type: "stream", name: "stdout", text: ["a\n"] })],
  [
    "result with JSON",
    shows(result({ data: { "text/plain": "1", "application/json": { a: [1] } } })),
  ],
  ["result without count", shows(result({ execution_count: null }))],
  ["display", shows({ output_type: "display_data", data: { "text/html": ["<p>"] }, metadata: {} })],
  ["error", shows({ output_type: "error", ename: "E", evalue: "", traceback: [] })],
];
const faulty: readonly (readonly [what: string, notebook: unknown, says: string])[] = [
  ["list", [], "the file must be a notebook"],
  ["other format", base([], { nbformat: 3 }), "nbformat must be 4, got 3"],
  ["cells no list", base({}), "cells must be a list"],
  ["no metadata", without(base(), "metadata"), "metadata must be an object, got nothing"],
  ["more keys", base([], { worksheets: [] }), "notebook.worksheets has no place"],
  [
    "kernel without title",
    base([], { metadata: { kernelspec: { name: "k" } } }),
    "metadata.kernelspec",
  ],
  [
    "language without name",
    base([], { metadata: { language_info: {} } }),
    "metadata.language_info",
  ],
  ["cell no object", base(["a"]), 'cells[0] must be an object, got "a"'],
  ["no id", base([without(codeCell(), "id")]), "cells[0].id"],
  ["id with a blank", base([codeCell({ id: "a b" })]), "cells[0].id"],
  ["id too long", base([codeCell({ id: "a".repeat(65) })]), "cells[0].id"],
  ["id empty", base([codeCell({ id: "" })]), "cells[0].id"],
  ["unknown kind", base([codeCell({ cell_type: "heading" })]), "cells[0].cell_type"],
  ["source a number", base([codeCell({ source: 1 })]), "cells[0].source"],
  ["source a list of numbers", base([textCell({ source: [1] })]), "cells[0].source"],
  [
    "code without outputs",
    base([without(codeCell(), "outputs")]),
    "cells[0].outputs must be a list",
  ],
  [
    "code without count",
    base([without(codeCell(), "execution_count")]),
    "cells[0].execution_count",
  ],
  ["count a text", base([codeCell({ execution_count: "1" })]), "cells[0].execution_count"],
  ["count below 0", base([codeCell({ execution_count: -1 })]), "cells[0].execution_count"],
  ["text cell with outputs", base([textCell({ outputs: [] })]), "cells[0].outputs has no place"],
  ["tags no list", base([codeCell({ metadata: { tags: "a" } })]), "cells[0].metadata.tags"],
  ["tag with a comma", base([codeCell({ metadata: { tags: ["a,b"] } })]), "cells[0].metadata.tags"],
  ["unknown output", shows({ output_type: "pyout" }), "cells[0].outputs[0].output_type"],
  ["stream without name", shows({ output_type: "stream", text: "a" }), "cells[0].outputs[0].name"],
  [
    "stream with a number",
    shows({ output_type: "stream", name: "stdout", text: 1 }),
    "outputs[0].text",
  ],
  ["result without data", shows(without(result(), "data")), "outputs[0].data must be an object"],
  ["result without metadata", shows(without(result(), "metadata")), "outputs[0].metadata"],
  ["text/plain a number", shows(result({ data: { "text/plain": 5 } })), 'data["text/plain"]'],
  ["text/html null", shows(result({ data: { "text/html": null } })), 'data["text/html"]'],
  ["picture an object", shows(result({ data: { "image/png": {} } })), 'data["image/png"]'],
  ["transient left in", shows(result({ transient: {} })), "outputs[0].transient has no place"],
  [
    "display with a count",
    shows({ ...result(), output_type: "display_data" }),
    "execution_count has no place",
  ],
  ["error without traceback", shows({ output_type: "error", ename: "E", evalue: "" }), "traceback"],
  [
    "traceback of numbers",
    shows({ output_type: "error", ename: "E", evalue: "", traceback: [1] }),
    "traceback",
  ],
];

for (const [what, notebook] of valid) {
  Deno.test(`nbformat, valid: ${what}`, () => assert.deepEqual(notebookProblems(notebook), []));
}

for (const [what, notebook, says] of faulty) {
  Deno.test(`nbformat, at fault: ${what}`, () => {
    const problems = notebookProblems(notebook);
    assert.ok(
      problems.some((problem) => problem.includes(says)),
      `${JSON.stringify(problems)} says ${says}`,
    );
  });
}

Deno.test("nbformat: two cells of one id are at fault", () => {
  assert.deepEqual(notebookProblems(base([codeCell(), textCell()])), [
    'cells[1].id must be unlike every other id, got "c1"',
  ]);
});

Deno.test("nbformat: every fault is found, not only the first", () => {
  assert.equal(
    notebookProblems(base([codeCell({ id: "", source: 1 }), textCell({ id: "x", source: 2 })]))
      .length,
    3,
  );
});

Deno.test("nbformat: contents of an output", () => {
  assert.deepEqual(
    bundleProblems({ "application/json": 1, "application/vnd.a+json": null }, "data"),
    [],
  );
  assert.deepEqual(bundleProblems({ "text/plain": ["a", 1] }, "data"), [
    'data["text/plain"] must be text or a list of lines, got ["a",1]',
  ]);
});

Deno.test({
  name: "nbformat: our verdicts are those of Python's nbformat (needs Jupyter)",
  ignore: !hasNbconvert,
  fn: () =>
    inFolder(async (folder) => {
      // CROSS-CHECK notebook.test.ts: nbformat 5.5.0 (Debian 12), nbformat.validator.NotebookValidator on the same JSON
      const all = [
        ...valid.map(([, notebook]) => notebook),
        ...faulty.map(([, notebook]) => notebook),
      ]
        .filter((notebook) => !Array.isArray(notebook));
      const file = `${folder}/notebooks.json`;
      await Deno.writeTextFile(file, JSON.stringify(all));
      const script = "import json, sys, nbformat\nfrom nbformat.validator import isvalid\n" +
        "books = json.load(open(sys.argv[1]))\n" +
        "print(json.dumps([isvalid(b, version=4, version_minor=5) for b in books]))\n";
      const { stdout, stderr, success } = await new Deno.Command(python, {
        args: ["-c", script, file],
      }).output();
      assert.ok(success, new TextDecoder().decode(stderr));
      const theirs = JSON.parse(new TextDecoder().decode(stdout));
      const ours = all.map((notebook) => notebookProblems(notebook).length === 0);
      assert.equal(ours.length, valid.length + faulty.length - 1);
      const differ = all.filter((_, i) => ours[i] !== theirs[i]).map((notebook) =>
        JSON.stringify(notebook)
      );
      assert.deepEqual(differ, []);
    }),
});
