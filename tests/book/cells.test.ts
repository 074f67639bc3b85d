import assert from "node:assert/strict";
import { checkCells, extractCells, findingText } from "../../lib/book/cells.ts";
import { NotebookRefused } from "../../lib/book/notebook.ts";
import { inFolder, notebook, prose, write } from "./notebooks.ts";

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
