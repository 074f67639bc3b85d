import assert from "node:assert/strict";
import { houseRules, MOST_BYTES, MOST_LINES } from "../../lib/book/cellsHouse.ts";
import type { Cell } from "../../lib/book/notebook.ts";
import { code, notebook, prose } from "./notebooks.ts";

const breaches = (cells: readonly (string | Cell)[], bytes = 1000): string[] =>
  houseRules(notebook(cells), "a.ipynb", bytes)
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
