import assert from "node:assert/strict";
import { cellImports } from "../../../lib/book/kernel/imports.ts";

Deno.test("imports: names, renamed names, several lines", () => {
  const source = [
    "// import { no } from 'nowhere';",
    'import { sagitta, radius as r } from "first-mirror/optics";',
    "import {",
    "  one,",
    "  two,",
    "} from 'first-mirror/quantity';",
  ].join("\n");
  assert.deepEqual(cellImports(source), [
    { specifier: "first-mirror/optics", names: ["sagitta", "radius"], line: 2 },
    { specifier: "first-mirror/quantity", names: ["one", "two"], line: 3 },
  ]);
});

Deno.test("imports: a default export is asked for by the name default, a namespace asks for nothing", () => {
  const [first, second, third] = cellImports(
    'import pl from "nodejs-polars";\nimport * as Plot from "@observablehq/plot";\nimport a, { b } from "c";',
  );
  assert.deepEqual(first?.names, ["default"]);
  assert.deepEqual(second?.names, []);
  assert.deepEqual(third?.names, ["default", "b"]);
});

Deno.test("imports: types ask for nothing", () => {
  const found = cellImports('import type { A } from "a";\nimport { type B, c } from "b";');
  assert.deepEqual(found, [{ specifier: "b", names: ["c"], line: 2 }]);
});

Deno.test("imports: text that looks like one, and imports on the way, are none", () => {
  assert.deepEqual(cellImports('const s = `\nimport { x } from "y";\n`;'), []);
  assert.deepEqual(cellImports('const m = await import("y");'), []);
  assert.deepEqual(cellImports('import "side-effect";'), []);
  assert.deepEqual(cellImports(""), []);
});
