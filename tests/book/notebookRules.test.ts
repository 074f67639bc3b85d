import assert from "node:assert/strict";
import { bundleProblems, notebookProblems } from "../../lib/book/notebookRules.ts";
import { hasNbconvert, python } from "../machine.ts";
import { inFolder } from "./notebooks.ts";

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
      // CROSS-CHECK nbformat 5.5.0 (Debian 12), nbformat.validator.NotebookValidator on the same JSON
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
