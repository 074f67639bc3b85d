import assert from "node:assert/strict";
import {
  type Cell,
  isCode,
  type Notebook,
  NotebookRefused,
  notebookText,
  type Output,
} from "../../lib/book/notebook.ts";
import {
  formFault,
  parseFault,
  runNotebook,
  runNotebooks,
  type RunResult,
  syntaxCause,
} from "../../lib/book/runner.ts";
import { failureText } from "../../lib/book/runnerFailure.ts";
import type { Progress } from "../../lib/book/runnerProgress.ts";
import { code, home, inFolder, prose, write } from "./notebooks.ts";

async function run(
  cells: readonly (string | Cell)[],
  options: Parameters<typeof runNotebook>[1] = {},
): Promise<RunResult> {
  return await inFolder(async (folder) => {
    const path = await write(folder, "trial.ipynb", cells);
    return await runNotebook(path, { cwd: home, secondsPerCell: 30, ...options });
  });
}

const outputs = (notebook: Notebook): (readonly Output[])[] =>
  notebook.cells.filter(isCode).map((cell) => cell.outputs);

/** What a failure says, without the temporary folder. */
const said = ({ failures }: RunResult): string[] =>
  failures.map((failure) =>
    `${failure.kind}: ${failureText(failure).replace(/^\S*trial/, "trial")}`
  );

Deno.test("a notebook comes back with its outputs, counts and the kit's kernel, and nothing else changed", async () => {
  const result = await run([
    prose("# Depth"),
    "const depth = 1;\nconsole.log('reading');\nconsole.log('on');",
    "",
    "depth + 1",
  ]);
  assert.deepEqual(result.failures, []);
  assert.deepEqual(outputs(result.notebook), [
    [{ output_type: "stream", name: "stdout", text: "reading\non\n" }],
    [],
    [{
      output_type: "execute_result",
      execution_count: 3,
      data: { "text/plain": "2" },
      metadata: {},
    }],
  ]);
  assert.deepEqual(result.notebook.cells.map(({ id }) => id), ["c1", "c2", "c3", "c4"]);
  assert.equal((result.notebook.metadata["kernelspec"] as { name: string }).name, "deno");
  assert.ok(result.seconds > 0 && result.seconds < 60);
});

Deno.test("the environment and the folder asked for are the kernel's, and neither shows in the outputs", async () => {
  await inFolder(async (folder) => {
    const path = await write(folder, "a.ipynb", [
      'console.log(Deno.env.get("FIRST_MIRROR_RECORD"), Deno.cwd());',
      'console.log("%cred", "color: red");',
      "throw new Error(`cannot read ${Deno.cwd()}/zones.csv`);",
    ]);
    const result = await runNotebook(path, {
      env: { FIRST_MIRROR_RECORD: "/media/stick/kestrel" },
    });
    const [first, second] = outputs(result.notebook);
    assert.deepEqual(first, [{ output_type: "stream", name: "stdout", text: "kestrel .\n" }]);
    assert.deepEqual(second, [{ output_type: "stream", name: "stdout", text: "red\n" }]);
    assert.equal(result.failures[0]?.message, "Error: cannot read ./zones.csv");
    assert.ok(!notebookText(result.notebook).includes(folder));
  });
});

Deno.test("every failure that leaves the kernel alive is told with cell and line", async () => {
  const result = await run([
    "const s = 1;\n\nconst t: string = ;",
    "import { basename, dirnam } from 'node:path';\nbasename('a');",
    "throw 'a string';",
    "const n = 5;\nthrow null;",
    "const shown = {\n  [Symbol.for('Jupyter.display')]: () => {\n    throw new RangeError('no picture');\n  },\n};\nshown;",
    "interface Reading {\n  depth: number;\n}\n\n// two of them\nconst a: Reading = { depth: 1 };\nJSON.parse('{');",
    "Number('0,1')",
    "setTimeout(() => {\n  throw new Error('too late');\n}, 10);\nawait new Promise((go) => setTimeout(go, 60));",
    "Promise.reject(new Error('floating'));\n1;",
    "const wrong = { [Symbol.for('Jupyter.display')]: () => ({ 'text/plain': 5 }) };\nwrong;",
    "return 5;",
    "import.meta.url;",
    "const twice = 1;\nconst twice = 2;",
    "import { b } from '/not/there/nowhere.ts';",
    "await Promise.reject(new TypeError('awaited'));",
  ], { keepGoing: true });
  assert.deepEqual(said(result), [
    "syntax: trial.ipynb, code cell 1, line 3: Expression expected\n    const t: string = ;",
    'import: trial.ipynb, code cell 2, line 1: "node:path" exports no value named dirnam, perhaps dirname?' +
    " (a type wants `import type`)\n    import { basename, dirnam } from 'node:path';",
    "error: trial.ipynb, code cell 3, line 1: threw what is not an Error: a string\n    throw 'a string';",
    "error: trial.ipynb, code cell 4, line 2: threw what is not an Error: null\n    throw null;",
    "error: trial.ipynb, code cell 5, line 6: RangeError: no picture\n    shown;",
    "error: trial.ipynb, code cell 6, line 7: SyntaxError: Expected property name or '}' in JSON at position 1" +
    " (line 1 column 2)\n    JSON.parse('{');",
    "unshown: trial.ipynb, code cell 7, line 1: the cell's value is NaN, which the kernel does not show;" +
    " end the cell with show(...)\n    Number('0,1')",
    "uncaught: trial.ipynb, code cell 8: an error that nothing caught, in a timer or a promise not awaited:" +
    " Error: too late\n    setTimeout(() => {",
    "uncaught: trial.ipynb, code cell 9: an error that nothing caught, in a timer or a promise not awaited:" +
    " Error: floating\n    Promise.reject(new Error('floating'));",
    "output: trial.ipynb, code cell 10, line 2: what the cell shows as text/plain must be text or a list of lines," +
    " got 5\n    wrong;",
    "syntax: trial.ipynb, code cell 11, line 1: A 'return' statement can only be used within a function body." +
    "\n    return 5;",
    "syntax: trial.ipynb, code cell 12: SyntaxError: Cannot use 'import.meta' outside a module\n    import.meta.url;",
    "syntax: trial.ipynb, code cell 13, line 1: Cannot redeclare block-scoped variable 'twice'." +
    "\n    const twice = 1;",
    'error: trial.ipynb, code cell 14, line 1: TypeError: Module not found "file://' +
    `/not/there/nowhere.ts".` +
    "\n    import { b } from '/not/there/nowhere.ts';",
    "error: trial.ipynb, code cell 15, line 1: TypeError: awaited\n    await Promise.reject(new TypeError('awaited'));",
  ]);
  for (const [i, shown] of outputs(result.notebook).entries()) {
    assert.ok(
      shown.some(({ output_type }) => output_type === "error"),
      `cell ${i + 1} shows its failure`,
    );
  }
  assert.ok(notebookText(result.notebook).length > 0);
});

Deno.test("values that the kernel hides are failures, values that are nothing by intent are not", async () => {
  const hidden = ["null", "-0", "10n", "const o = { x: 0 };\no.x / 0 * 0;"];
  const intended = ["undefined", "const a = 1;", "if (a) a;", "[].find(() => true);", "void 0;"];
  const result = await run([...hidden, ...intended], { keepGoing: true });
  assert.deepEqual(result.failures.map(({ cell, kind }) => [cell, kind]), [
    [1, "unshown"],
    [2, "unshown"],
    [3, "unshown"],
    [4, "unshown"],
  ]);
});

Deno.test("a failure stops the notebook, and what was not reached stays empty", async () => {
  const result = await run(["1", "throw new Error('here');", "3"]);
  assert.equal(result.failures.length, 1);
  const counts = result.notebook.cells.filter(isCode).map((cell) => cell.execution_count);
  assert.deepEqual(counts, [1, 2, null]);
});

Deno.test("a traceback names the cell, not the kernel's own lines", async () => {
  const { notebook } = await run(["const f = 1;\nthrow new Error('here');"]);
  assert.deepEqual(outputs(notebook)[0], [{
    output_type: "error",
    ename: "Error",
    evalue: "here",
    traceback: ["Error: here", "    at code cell 1, line 2"],
  }]);
});

Deno.test("a cell tagged raises-exception may throw; other silence in it is still told", async () => {
  const result = await run([
    code("throw new Error('on purpose');", ["raises-exception"]),
    code("import { nope } from 'node:path';\nNaN;", ["raises-exception"]),
  ], { keepGoing: true });
  assert.deepEqual(result.failures.map(({ cell, kind }) => [cell, kind]), [[2, "import"], [
    2,
    "unshown",
  ]]);
});

Deno.test("what hangs or ends the kernel is told with cell and line and ends the notebook at once", async () => {
  const hangs = {
    "loop.ipynb": ["const a = 1;", "let n = 0;\nwhile (true) n++;", "3"],
    "await.ipynb": ["const a = 1;\n\nawait new Promise(() => {});", "3"],
    "exit.ipynb": ["const a = 1;\nDeno.exit(3);", "3"],
    "timer.ipynb": [
      "const { promise } = Promise.withResolvers();\nsetTimeout(() => { throw new Error('in a timer'); }, 10);\nawait promise;",
      "3",
    ],
    "nodeExit.ipynb": ["console.log('before');\nprocess.exit();", "3"],
  };
  await inFolder(async (folder) => {
    const paths = await Promise.all(
      Object.entries(hangs).map(([name, cells]) => write(folder, name, cells)),
    );
    const results = await runNotebooks(paths, { cwd: home, secondsPerCell: 2.5, keepGoing: true });
    assert.deepEqual(results.map(({ path }) => path), paths);
    const told = results.map(({ failures }) =>
      failures.map(({ cell, line, kind }) => [cell, line, kind])
    );
    assert.deepEqual(told, [
      [[2, 2, "loop"]],
      [[1, 3, "wait"]],
      [[1, 2, "died"]],
      [[1, 3, "wait"]],
      [[1, 2, "died"]],
    ]);
    const messages = results.map(({ failures }) => failures[0]?.message);
    assert.deepEqual(messages, [
      "still computing after 2.5 s; a loop that does not end?",
      "still waiting after 2.5 s; an await that nothing settles?",
      "the kernel ended with exit code 3",
      "still waiting after 2.5 s; an await that nothing settles?" +
      "; before that, an error that nothing caught: Error: in a timer",
      "the kernel ended with exit code 0",
    ]);
    for (const { notebook, seconds } of results) {
      assert.equal(
        notebook.cells.at(-1)?.cell_type === "code" && outputs(notebook).at(-1)?.length,
        0,
      );
      // a busy machine is given longer, by as much as it is busy
      const busy = Math.max(1, (Deno.loadavg()[0] ?? 0) / navigator.hardwareConcurrency);
      assert.ok(seconds < 20 * busy, `${seconds} s`);
    }
    assert.equal(outputs(results[4]?.notebook as Notebook)[0]?.[0]?.output_type, "stream");
  });
});

Deno.test("a cell that breaks the console or the globals loses nothing", async () => {
  const result = await run(
    [
      "const console = { log: () => {} };",
      "globalThis.setTimeout = undefined;\n1;",
      "delete globalThis.Symbol;\n2",
    ].slice(0, 2).concat(["'still here'"]),
  );
  assert.deepEqual(said(result), []);
  assert.deepEqual(outputs(result.notebook).at(-1), [
    {
      output_type: "execute_result",
      execution_count: 3,
      data: { "text/plain": '"still here"' },
      metadata: {},
    },
  ]);
});

Deno.test("a stream longer than the pipes and a display of 4 MB arrive whole", async () => {
  const result = await run([
    "for (let i = 0; i < 3000; i++) console.log(`line ${i}`);",
    "const big = 'x'.repeat(4e6);\nconst shown = { [Symbol.for('Jupyter.display')]: () => ({ 'text/html': big }) };\nshown;",
    "1",
  ]);
  assert.deepEqual(said(result), []);
  const [lines, big] = outputs(result.notebook);
  const expected = Array.from({ length: 3000 }, (_, i) => `line ${i}\n`).join("");
  assert.deepEqual(lines, [{ output_type: "stream", name: "stdout", text: expected }]);
  const [display] = big ?? [];
  assert.equal(
    display !== undefined && "data" in display && String(display.data["text/html"]).length,
    4e6,
  );
});

Deno.test("progress tells notebook, cell and time left", async () => {
  const steps: Progress[] = [];
  await run(["1", prose("between"), "2", "3"], { onProgress: (step) => steps.push(step) });
  assert.deepEqual(steps.map(({ state, cell, cells }) => `${state} ${cell}/${cells}`), [
    "starting 0/3",
    "running 1/3",
    "running 2/3",
    "running 3/3",
    "done 3/3",
  ]);
  assert.deepEqual(steps.map(({ secondsLeft }) => secondsLeft === undefined), [
    true,
    true,
    false,
    false,
    false,
  ]);
  assert.equal(steps.at(-1)?.secondsLeft, 0);
});

Deno.test("an aborted run ends at once with the signal's reason", async () => {
  const stop = new AbortController();
  const begun = performance.now();
  const running = run(["1", "while (true) {}"], {
    signal: stop.signal,
    secondsPerCell: 60,
    onProgress: ({ cell }) => cell === 2 && stop.abort(new Error("enough")),
  });
  await assert.rejects(running, /enough/);
  assert.ok(performance.now() - begun < 20_000);
});

Deno.test("a folder that is not there, and a file that is no notebook, are told before anything runs", async () => {
  await assert.rejects(runNotebook("nowhere.ipynb"), (error: unknown) => {
    assert.ok(error instanceof NotebookRefused);
    assert.equal(error.message, "nowhere.ipynb: there is no such file");
    return true;
  });
  const result = await run(["1"], { cwd: "/nowhere/at/all" });
  assert.deepEqual(result.failures.map(({ kind, cell }) => [kind, cell]), [["start", undefined]]);
});

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
