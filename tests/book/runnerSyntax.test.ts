import assert from "node:assert/strict";
import { formFault, parseFault, syntaxCause } from "../../lib/book/runnerSyntax.ts";
import { home } from "./notebooks.ts";

const config = `${home}deno.json`;

Deno.test("syntax: the parser's complaint with its line", async () => {
  assert.deepEqual(await syntaxCause("const a = 1;\nconst b = (;", config), {
    message: "Expression expected",
    line: 2,
  });
});

Deno.test("syntax: a name declared twice, a template left open, a module that is not there", async () => {
  const twice = await syntaxCause("let a = 1;\nlet a = 2;", config);
  assert.match(twice?.message ?? "", /Cannot redeclare .*'a'/);
  const open = await syntaxCause("const a = 1;\nconst s = `abc", config);
  assert.deepEqual(open, { message: "Unterminated template", line: 2 });
  const absent = await syntaxCause('\nimport { a } from "first-mirror/opticks";', config);
  assert.equal(absent?.line, 2);
  assert.match(absent?.message ?? "", /first-mirror\/opticks/);
});

Deno.test("syntax: wrong types and unknown names are no matter of form", async () => {
  assert.equal(await syntaxCause('const a: number = "b";\nunknown(a);', config), undefined);
});

Deno.test("syntax: what the subcommands say, read", () => {
  assert.deepEqual(parseFault("error: SyntaxError: Bad\n  |\n3 | x\n  | ~\n"), {
    message: "Bad",
    line: 3,
  });
  assert.equal(parseFault("Checked 1 file"), undefined);
  const said = "TS2304 [ERROR]: Cannot find name 'x'.\n    at file:///t/cell.ts:1:1\n\n" +
    "TS1108 [ERROR]: A 'return' statement.\n    at file:///t/cell.ts:4:1\n\nFound 2 errors.";
  assert.deepEqual(formFault(said), { message: "A 'return' statement.", line: 4 });
  assert.deepEqual(
    formFault("error: npm package 'x' does not exist.\n    at file:///t/cell.ts:2:19\n"),
    {
      message: "npm package 'x' does not exist.",
      line: 2,
    },
  );
  assert.equal(formFault(""), undefined);
});
