/** The notebooks as they are shipped: cells that type-check and keep the house rules, no outputs, a place in the course. */
import assert from "node:assert/strict";
import { basename } from "node:path";
import {
  type Cell,
  isCode,
  notebookProblems,
  NotebookRefused,
  readNotebook,
} from "../../lib/book/notebook.ts";
import { course } from "../../lib/lessons/course.ts";
import { code, inFolder, notebook, prose, write } from "../book/notebooks.ts";
import {
  checkCells,
  extractCells,
  findingText,
  MOST_BYTES,
  MOST_LINES,
  styleRules,
} from "./cells.ts";
import { paths } from "./runs.ts";

Deno.test("every cell holds by type, lint and house rules, told by notebook, cell and line", async () => {
  assert.deepEqual((await checkCells(paths)).map(findingText), []);
});

Deno.test("every notebook is valid, shipped without outputs, and a stage of the course", async () => {
  const stems = course.map(({ stem }) => stem);
  for (const path of paths) {
    const notebook = await readNotebook(path);
    assert.deepEqual(notebookProblems(notebook), [], path);
    assert.ok(stems.includes(basename(path, ".ipynb")), path);
    for (const cell of notebook.cells.filter(isCode)) {
      assert.deepEqual([cell.outputs, cell.execution_count], [[], null], `${path}, ${cell.id}`);
    }
    const ids = notebook.cells.map(({ id }) => id);
    assert.equal(new Set(ids).size, ids.length, `${path}: a cell's name twice`);
    assert.ok(ids.every((id) => /^(text|code)-\d\d$/.test(id)), `${path}: ${ids}`);
  }
});

Deno.test("every notebook begins with its title and card, and ends with a decision", async () => {
  for (const path of paths) {
    const { cells } = await readNotebook(path);
    const tags = cells.map(({ metadata }) => (metadata["tags"] as string[] | undefined) ?? []);
    assert.match(cells[0]?.source ?? "", /^# [A-Z].+\n\n.+\?$/, `${path}: title and question`);
    assert.ok(tags[1]?.includes("card"), `${path}: the card comes second`);
    const decide = tags.findLastIndex((these) => these.includes("decide"));
    assert.ok(decide >= cells.length - 3, `${path}: the decision comes at the end`);
    assert.equal(
      tags.filter((these) => these.includes("exercise")).length,
      3,
      `${path}: exercises`,
    );
    assert.ok(tags.some((these) => these.includes("caution")), `${path}: a caution`);
  }
});

Deno.test("links between notebooks lead to stages of the course, other links to pages of the book", async () => {
  const targets = new Set([...course.map(({ stem }) => `${stem}.ipynb`), "report.html"]);
  for (const path of paths) {
    for (const { source } of (await readNotebook(path)).cells) {
      for (const [, target = ""] of source.matchAll(/\]\(([^)\s]+)\)/g)) {
        assert.ok(targets.has(target), `${basename(path)}: ${target}`);
      }
    }
  }
});

Deno.test("cells: become one module that knows where each line came from", () => {
  const { source, places } = extractCells(notebook(["a;\nb;", prose("words"), "", "c;"]));
  const lines = source.split("\n");
  const where = (text: string): unknown => places[lines.indexOf(text) + 1];
  assert.deepEqual(where("a;"), { cell: 1, line: 1 });
  assert.deepEqual(where("b;"), { cell: 1, line: 2 });
  assert.deepEqual(where("c;"), { cell: 3, line: 1 });
  assert.equal(where("export {};"), undefined);
  assert.deepEqual(extractCells(notebook([])).source, "export {};\n");
});

Deno.test("cells: a finding in one line, with or without cell", () => {
  const found = { notebook: "a.ipynb", code: "house/size", message: "too large" };
  assert.equal(findingText(found), "a.ipynb: too large (house/size)");
  assert.equal(findingText({ ...found, cell: 2 }), "a.ipynb, code cell 2: too large (house/size)");
});

Deno.test("cells: types, names, imports, repeats and style are found with notebook, cell and line", async () => {
  await inFolder(async (folder) => {
    const first = await write(folder, "first.ipynb", [
      'import { measured } from "first-mirror/quantity";\n\nconst depth: string = measured(1, 0.1, "mm").value;',
      prose("now"),
      "const depth = 3;\nconsole.log(depth, unknownName);",
      prose("then"),
      'import { mesured } from "first-mirror/quantity";\nlet fixed = 5;\nif (fixed == 5) mesured();',
      prose("and"),
      'const depthText: string = await Promise.resolve("ok");\nconsole.log(depthText);',
    ]);
    const second = await write(folder, "second.ipynb", [
      "const depth = 1;\nconsole.log(depth);",
      prose("then"),
      'import { measured } from "first-mirror/quantity";\nmeasured(depth, "0.1", "mm");',
    ]);
    const found = (await checkCells([first, second])).map(findingText).map((text) =>
      text.replace(`${folder}/`, "")
    );
    for (
      const expected of [
        /^first\.ipynb, code cell 1, line 3: Type 'number' is not assignable to type 'string'\. \(TS2322\)$/,
        /^first\.ipynb, code cell 2, line 1: depth is declared again; it already stands in code cell 1 \(TS2451\)$/,
        /^first\.ipynb, code cell 2, line 2: Cannot find name 'unknownName'\. \(TS2304\)$/,
        /^first\.ipynb, code cell 3, line 1: .*no exported member.*'mesured'.*\(TS27?\d+\)$/,
        /^first\.ipynb, code cell 3, line 2: .*never reassigned.* \(prefer-const\)$/,
        /^first\.ipynb, code cell 3, line 3: .* \(eqeqeq\)$/,
        /^second\.ipynb, code cell 2, line 2: .*'string' is not assignable to .*'number'.*\(TS2345\)$/,
      ]
    ) {
      assert.equal(
        found.filter((text) => expected.test(text)).length,
        1,
        `${expected} in\n${found.join("\n")}`,
      );
    }
    assert.equal(found.filter((text) => text.startsWith("second")).length, 1);
    assert.equal(found.filter((text) => text.includes("declared again")).length, 1);
  });
});

Deno.test("cells: a cell that cannot be read is named, and hides nothing in the other notebooks", async () => {
  await inFolder(async (folder) => {
    const open = await write(folder, "open.ipynb", [
      "const a = 1;\nif (a) {",
      prose("then"),
      "console.log(2);",
    ]);
    const broken = await write(folder, "broken.ipynb", [
      "console.log(1);",
      prose("then"),
      "\nconst t: string = ;",
    ]);
    const other = await write(folder, "other.ipynb", [
      'const n: number = "text";\nconsole.log(n);',
    ]);
    const found = (await checkCells([open, broken, other])).map(({ notebook, cell, line, code }) =>
      [notebook.replace(`${folder}/`, ""), cell, line, code].join(" ")
    );
    assert.deepEqual(found, [
      "open.ipynb 1 2 syntax",
      "broken.ipynb 2 2 syntax",
      "other.ipynb 1 1 TS2322",
    ]);
  });
});

Deno.test("cells: a notebook without fault gives no finding, and no notebook no work", async () => {
  await inFolder(async (folder) => {
    const path = await write(folder, "good.ipynb", [
      'import { measured } from "first-mirror/quantity";\nconst depth = measured(1.04, 0.01, "mm");',
      prose("Twice as deep?"),
      "depth.value * 2;",
    ]);
    assert.deepEqual(await checkCells([path]), []);
    assert.deepEqual(await checkCells([]), []);
    await assert.rejects(checkCells([`${folder}/none.ipynb`]), NotebookRefused);
  });
});

const breaches = (cells: readonly (string | Cell)[], bytes = 1000): string[] =>
  styleRules(notebook(cells), "a.ipynb", bytes)
    .map(({ code, cell, line }) =>
      [code.replace("house/", ""), cell, line].filter((part) => part !== undefined).join(" ")
    );

Deno.test("house: a cell has at most 12 lines, a last line end not counted", () => {
  const lines = (count: number): string => Array.from({ length: count }, () => "a();").join("\n");
  assert.deepEqual(breaches([lines(MOST_LINES)]), []);
  assert.deepEqual(breaches([lines(MOST_LINES) + "\n"]), []);
  assert.deepEqual(breaches([prose(lines(30)), lines(MOST_LINES + 1)]), ["cell-length 1"]);
});

Deno.test("house: no function and no class is made in a notebook, however it is written", () => {
  const made = [
    "function f() {}",
    "async function f() {}",
    "export function f() {}",
    "class Mirror {}",
    "const f = (x: number) => x;",
    "const f = (x: number): number => x;",
    "const f: (x: number) => number = (x) => x;",
    "const f = async () => {};",
    "let f = x => x;",
    "const f = function () {};",
  ];
  for (const source of made) {
    assert.deepEqual(breaches([`a();\n${source}`]), ["no-functions 1 2"], source);
  }
});

Deno.test("house: a function handed to another is none made", () => {
  const used = [
    "[1, 2].map((x) => x * 2);",
    "const doubled = [1, 2].map((x) => x * 2);",
    "const total = sum(readings, (r) => r.depth);",
    "setTimeout(function () {}, 1);",
    'const text = "function f() {}";',
    "// function f() {}",
    "const classes = className(1);",
    "const ok = a >= b;",
  ];
  for (const source of used) assert.deepEqual(breaches([source]), [], source);
});

Deno.test("house: imports go through the import map", () => {
  assert.deepEqual(breaches(['import { a } from "first-mirror/optics";']), []);
  assert.deepEqual(breaches(['a();\nimport { a } from "../lib/optics/sphere.ts";']), [
    "imports 1 2",
  ]);
});

Deno.test("house: nothing that a run leaves is stored", () => {
  const ran = { ...code("1"), execution_count: 4 } as Cell;
  const shows = {
    ...code("1"),
    outputs: [{ output_type: "stream", name: "stdout", text: "a" }],
  } as Cell;
  assert.deepEqual(breaches([ran, prose("a"), shows]), ["stored-output 1", "stored-output 2"]);
});

Deno.test("house: two code cells in a row may be, a third is told once", () => {
  assert.deepEqual(breaches(["1", "2", prose("so"), "3", "4"]), []);
  assert.deepEqual(breaches(["1", "2", "3", "4", prose("so"), "5"]), ["rhythm 3"]);
});

Deno.test("house: the file is at most 40 kB", () => {
  assert.deepEqual(breaches([], MOST_BYTES), []);
  assert.deepEqual(breaches([], MOST_BYTES + 1), ["size"]);
});
