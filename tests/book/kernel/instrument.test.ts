/** Runs instrumented code with a stand-in for the kernel's side and tells what it noted. */
import assert from "node:assert/strict";
import { cellImports, instrument, statementStarts } from "../../../lib/book/kernel/instrument.ts";
import { maskCode } from "../../../lib/living/maskCode.ts";

async function run(source: string): Promise<{ lines: number[]; value: unknown }> {
  const noted = { lines: [] as number[], value: undefined as unknown };
  const hook = {
    at: (_cell: number, line: number) => noted.lines.push(line),
    value: undefined as unknown,
  };
  const scope = globalThis as unknown as Record<symbol, unknown>;
  const key = Symbol.for("first-mirror.runner");
  scope[key] = hook;
  try {
    const AsyncFunction = Object.getPrototypeOf(async (): Promise<void> => {}).constructor;
    await new AsyncFunction(instrument(source, 1))();
  } finally {
    delete scope[key];
  }
  return { ...noted, value: hook.value };
}

const starts = (source: string): string[] => {
  const masked = maskCode(source);
  return statementStarts(masked).map((at) => source.slice(at).split(/[\s(;]/)[0] ?? "");
};

Deno.test("instrument: each statement of the outermost level begins once", () => {
  assert.deepEqual(starts("const a = 1;\nlet b = { c: 2 };\nfoo(a);"), ["const", "let", "foo"]);
  assert.deepEqual(starts("for (let i = 0; i < 3; i++) { a(); b(); }\nc();"), ["for", "c"]);
  assert.deepEqual(starts("if (a) { b(); } else { c(); }\nd()"), ["if", "d"]);
  assert.deepEqual(starts("try { a(); } catch { b(); } finally { c(); }\nd();"), ["try", "d"]);
  assert.deepEqual(starts("do { a(); } while (b);\nc();"), ["do", "c"]);
  assert.deepEqual(starts("let n = 0;\nwhile (n < 3) n++;\nfor (;;) {}\nwhile (n) {}"), [
    "let",
    "while",
    "for",
    "while",
  ]);
  assert.deepEqual(starts("do n++; while (n < 3);\nif (a) b(); else c();\nd();"), [
    "do",
    "if",
    "d",
  ]);
  assert.deepEqual(starts("function f() { return 1; }\nf();"), ["function", "f"]);
  assert.deepEqual(starts("interface A { b: 1 }\nconst a = 1;"), ["interface", "const"]);
  assert.deepEqual(starts(";;a();;b();"), ["a", "b"]);
  assert.deepEqual(starts("// only a comment"), []);
});

Deno.test("instrument: without a semicolon nothing is put in between", () => {
  assert.deepEqual(starts("const a = { b: 1 }\n+ 2\nfoo()"), ["const"]);
});

Deno.test("instrument: lines stay where they were", () => {
  const source = "// one\nconst a = 1;\n\nconst b = `x\ny`;\na + b.length;\n";
  assert.equal(instrument(source, 1).split("\n").length, source.split("\n").length);
  instrument(source, 1).split("\n").forEach((line, i) => {
    if (i !== 5) assert.ok(line.endsWith(source.split("\n")[i] ?? ""), line);
  });
});

Deno.test("instrument: notes the line of each statement and keeps the last value", async () => {
  const got = await run("const a = 1;\n\nconst b = [\n  a,\n  2,\n];\n// then\nb.length / 0;");
  assert.deepEqual(got, { lines: [1, 3, 8], value: Infinity });
});

Deno.test("instrument: the value of awaits, comparisons and objects is kept as it is", async () => {
  assert.ok(Object.is((await run("await Promise.resolve(-0)")).value, -0));
  assert.equal((await run("const n = Number('x'); n")).value === undefined, false);
  assert.deepEqual((await run('const o = { a: "x;y" }; o')).value, { a: "x;y" });
  assert.deepEqual((await run("[3, 1].map((x) => { return x * 2; })")).value, [6, 2]);
});

Deno.test("instrument: declarations, blocks, throws and objects have no value to keep", () => {
  for (
    const last of [
      "const z = 1;",
      "if (a) b();",
      "throw x",
      "{ a: 1 }",
      "class A {}",
      "type T = 1;",
      "export {};",
    ]
  ) {
    assert.doesNotMatch(instrument(`a();\n${last}`, 1), /\.value =/, last);
  }
});

Deno.test("instrument: two expressions without a semicolon between are left as they are", () => {
  const source = "foo()\nbar();baz()\nqux()";
  assert.ok(instrument(source, 1).startsWith("var firstMirrorLine = "));
  assert.match(instrument("a()\nb()", 2), /\.value = \(a\(\)\nb\(\)\)\)$/);
});

Deno.test("instrument: an empty cell stays empty", () => {
  assert.equal(instrument("", 1), "");
  assert.equal(instrument("// words\n", 1), "// words\n");
});

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
