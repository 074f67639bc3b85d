/** Cells run as in a kernel: names shared, what is shown gathered, what goes wrong told in one sentence with its line. */
import assert from "node:assert/strict";
import { show } from "../../lib/figures/show.ts";
import { type CellCode, readCell } from "../../lib/living/cellCode.ts";
import { CellRefused } from "../../lib/living/cellErrors.ts";
import { Session, textOf } from "../../lib/living/session.ts";

const modules: Readonly<Record<string, Readonly<Record<string, unknown>>>> = {
  "first-mirror/figures": { show },
  "first-mirror/optics": { sagitta: (chord: number, radius: number) => chord ** 2 / 8 / radius },
};

const newSession = (): Session =>
  new Session({
    load: (module) => Promise.resolve(modules[module]),
    modules: Object.keys(modules),
    library: new Map([["sagitta", "first-mirror/optics"]]),
  });

/** Runs cells in their order; what each gave in words, or the sentence and line it stopped with. */
async function told(...sources: string[]): Promise<(string | [string, number | undefined])[]> {
  const session = newSession();
  const codes = sources.map((source): CellCode | CellRefused => {
    try {
      return readCell(source);
    } catch (refused) {
      assert.ok(refused instanceof CellRefused, String(refused));
      return refused;
    }
  });
  const names = new Set(
    codes.flatMap((code) =>
      code instanceof CellRefused ? [] : [...code.declares.keys(), ...code.imports.keys()]
    ),
  );
  const all: (string | [string, number | undefined])[] = [];
  for (const code of codes) {
    const { outputs = [], refused } = code instanceof CellRefused
      ? { refused: code }
      : await session.run(code, names);
    all.push(refused === undefined ? textOf(outputs) : [refused.message, refused.line]);
  }
  return all;
}

Deno.test("names are shared from cell to cell, types and imports come off, the last line is shown", async () => {
  // DERIVED: 150² ÷ 8 ÷ 2400 = 1.171875, and twice that
  assert.deepEqual(
    await told(
      'import { sagitta } from "first-mirror/optics";\nimport { show } from "first-mirror/figures";\nconst depth: number = sagitta(150, 2400);',
      'show(depth, "mm");',
      "depth * 2",
      '"so"',
    ),
    ["", "1.172\u2009mm", "2.34375", '"so"'],
  );
});

Deno.test("a name is one and the same for all cells, also where a function holds on to it", async () => {
  assert.deepEqual(
    await told(
      "let n = 0;\nfunction bump() { n += 1; return n; }",
      "bump();\nbump();",
      "n = n * 10;\nn",
      "bump()",
      "[n, typeof bump]",
    ),
    ["", "2", "20", "21", '[ 21, "function" ]'],
  );
});

Deno.test("patterns, classes, functions before their line, var in blocks, shorthand and loops keep their meaning", async () => {
  assert.deepEqual(
    await told(
      "const { a, b: { c }, ...rest } = { a: 1, b: { c: 2 }, d: 3, e: 4 }, [first, , third = 9] = [5, 6];",
      "({ a, c, rest, first, third })",
      "later();\nfunction later() { return 1; }\nclass Disc { mm = 150; area() { return this.mm ** 2; } }\nnew Disc().area()",
      "for (var i = 0; i < 3; i++) { var twice = i * 2; }\n[i, twice]",
      "let sum = 0;\nfor (const a of [10, 20]) sum += a;\nfor (const [k, v] of Object.entries({ x: 1 })) sum += v;\nsum",
      "const f = (a) => a + c, g = ({ a, c = 7 }) => a * c;\n[f(1), g({ a: 2 }), a]",
      "label: for (;;) { break label; }\nconst o = { a: 5, m() { return a; }, [first]: 1 };\n[o.a, o.m(), o[5]]",
      "const text = `${a} and ${`${c}`}`\ntext",
      "try { throw 1 } catch (a) { a }\na",
      "const g2 = function a(n) { return n ? a(n - 1) : 'end' };\ng2(2)",
      "const { a: renamed } = { a: 8 }; renamed",
      "let x\nlet y = 1\n;[x, y] = [y, 2]\nx + y\n",
    ),
    [
      "",
      "{ a: 1, c: 2, rest: { d: 3, e: 4 }, first: 5, third: 9 }",
      "22500",
      "[ 3, 4 ]",
      "31",
      "[ 3, 14, 1 ]",
      "[ 5, 1, 1 ]",
      '"1 and 2"',
      "1",
      '"end"',
      "8",
      "3",
    ],
  );
});

Deno.test("the value of a cell is that of its last statement that has one, as a kernel has it", async () => {
  assert.deepEqual(
    await told(
      "1;\nconst a = 2;",
      "if (a) 3; else 4;",
      "if (!a) 3;",
      "if (!a) { 5; } else { 6; const b = 7; }",
      "try { null.x; } catch { 8; }",
      "for (const i of [1, 2]) i * 10;",
      "switch (a) { case 2: 9; }",
      "function f() {}",
    ),
    ["1", "3", "", "6", "8", "20", "9", ""],
  );
});

Deno.test("a cell may wait, load a module in its middle, print, and show more than once", async () => {
  assert.deepEqual(
    await told(
      'const { sagitta } = await import("first-mirror/optics");\nawait new Promise((later) => setTimeout(later, 1));\nconsole.log("deep", { mm: 1 });\nconsole.log("and");\nsagitta(150, 2400)',
    ),
    ["deep { mm: 1 }\nand\n1.171875"],
  );
});

Deno.test("TypeScript that only says types leaves no trace, and an enum its values", async () => {
  assert.deepEqual(
    await told(
      "interface Disc { mm: number }\ntype Two = [Disc, Disc];\nconst both = [{ mm: 1 }, { mm: 2 }] as unknown as Two;\nboth[1]!.mm satisfies number",
      "enum Face { Up, Down }\nFace.Down",
      "function id<T>(x: T): T { return x; }\nid<number>(3)",
    ),
    ["2", "1", "3"],
  );
});

Deno.test("what a cell throws is one sentence with the cell's own line, whatever was thrown", async () => {
  const [, ...all] = await told(
    'import { sagitta } from "first-mirror/optics";\nimport { show } from "first-mirror/figures";\nconst fixed = 1;\nconst deep = () => { throw new RangeError("sagitta requires mm, got inches"); };',
    "const a = 1;\nthrow 'no glass';",
    "\n\nnothing + 1",
    "deeep()",
    "sagita(150, 2400)",
    "1;\ndeep();",
    "fixed = 2;",
    "const again = () => again();\nagain();",
    "new Array(-1)",
    "show(NaN);",
    "null.mm",
    "early;\nconst early = 1;",
    "await Promise.reject(new Error('late'))",
  );
  assert.deepEqual(all, [
    ["the cell threw “no glass”.", 2],
    ["there is nothing called nothing.", 3],
    ["there is nothing called deeep; did you mean deep?", 1],
    ["there is nothing called sagita; did you mean sagitta?", 1],
    ["sagitta requires mm, got inches.", 2],
    ["fixed is fixed; declare it with let if it is to change.", 1],
    ["a function calls itself without end.", 1],
    ["the cell asked for more memory than there is.", 1],
    ["show requires a finite number, got NaN.", 1],
    ["Cannot read properties of null (reading 'mm').", 1],
    ["there is nothing called early.", 1],
    ["late.", 1],
  ]);
});

Deno.test("a library's name that was not imported is told with its import; a module or name that is not there with the nearest", async () => {
  assert.deepEqual(
    await told(
      "sagitta(150, 2400)",
      'import { sagita } from "first-mirror/optics";',
      'import { sagitta } from "first-mirror/optic";',
    ),
    [
      ['sagitta is not there yet: begin with import { sagitta } from "first-mirror/optics".', 1],
      ['"first-mirror/optics" has nothing called sagita; did you mean sagitta?', 1],
      ['there is no module "first-mirror/optic" here; did you mean "first-mirror/optics"?', 1],
    ],
  );
});

/** What a cell that cannot be read is told. */
const unread: readonly (readonly [source: string, says: string, line: number])[] = [
  [
    "const mine = 2384,8;",
    "write 2384.8 with a point, because a comma here ends the number.",
    1,
  ],
  ["let r;\nr = 2384,8;", "write 2384.8 with a point, because a comma here ends the number.", 2],
  [
    "const a = 1;\nconst a = 2;",
    "a is declared twice in this cell; give one of the two another name.",
    2,
  ],
  ["show(1;\n", "the ( here is not closed.", 1],
  ["const a = 1;\nshow(a));", "the ) here closes nothing; leave it out, or open it before.", 2],
  ["const a = {\n  b: 1,\n", "the { here is not closed.", 1],
  ['const a = "deep;\nshow(a);', 'the text that begins with " is not closed on its line.', 1],
  ["const a = “deep”;", 'write straight quotes, "; code does not know “.', 1],
  ["const a = 2 × 3;", "write * for times; code does not know ×.", 1],
  ["const a = 5 − 3;", "write - for minus; code does not know −.", 1],
  ["const a = 150 mm;", "write 150 alone, because a number in code has no unit behind it.", 1],
  ["const a = 1 2;", "something is missing between 1 and 2: a comma, a sign or a semicolon.", 1],
  ["const a = ;", "; is not expected here.", 1],
  ["const a =", "the cell ends in the middle of something.", 1],
  ["1 = 2;", "only a name can stand left of =; to compare, write ===.", 1],
  ["return 5;", "return belongs into a function; a cell gives what its last line is.", 1],
  ["export default 5;", "export has no place in a cell; its names are the page's already.", 1],
];
for (const [source, says, line] of unread) {
  Deno.test(`unreadable: ${JSON.stringify(source)}`, async () => {
    assert.deepEqual(await told(source), [[says, line]]);
  });
}

Deno.test("commas that part numbers are left alone", async () => {
  assert.deepEqual(await told("Math.max(1,2)", "[1,2].length", "const f = (a,b) => a;\nf(3,4)"), [
    "2",
    "2",
    "3",
  ]);
});

Deno.test("an error that nothing awaits, in a timer or a promise, is the cell's while it runs", async () => {
  const session = newSession(),
    code = readCell("await new Promise((later) => setTimeout(later, 5));\n1");
  const run = session.run(code, new Set());
  session.fault(new Error("too late"));
  // what was told before the cell began to run is not its own
  assert.equal((await run).refused?.message, "too late.");
  assert.equal((await session.run(readCell("1"), new Set())).refused, undefined);
});

Deno.test("what a cell gives, uses and changes is known from its text", () => {
  const code = readCell(
    "import { sagitta as s } from 'first-mirror/optics';\nconst list = [depth];\nlist.push(wide);\nrows.sort();\ntotal += 1;\nbox.mm = 2;\nconst later = () => { count++; };\nfunction f(wide) { return wide + deep; }\nshow(s(list));",
  );
  assert.deepEqual([...code.declares.keys()].sort(), ["f", "later", "list"]);
  assert.deepEqual([...code.imports], [["s", {
    module: "first-mirror/optics",
    name: "sagitta",
    line: 1,
  }]]);
  assert.deepEqual([...code.uses], [
    ["depth", 2],
    ["wide", 3],
    ["rows", 4],
    ["total", 5],
    ["box", 6],
    ["count", 7],
    ["deep", 8],
    ["show", 9],
  ]);
  assert.deepEqual([...code.writes].sort(), ["box", "rows", "total"]);
  assert.deepEqual([...code.writesLater].map(([name, changed]) => [name, [...changed]]), [
    ["later", ["count"]],
  ]);
});
