import assert from "node:assert/strict";
import type { Turn } from "../../lib/book/kernel/kernel.ts";
import {
  type Cell,
  isCode,
  type Notebook,
  NotebookRefused,
  notebookText,
  type Output,
} from "../../lib/book/notebook.ts";
import {
  failureAt,
  failureOfEnd,
  failureOutput,
  failuresOf,
  failureText,
  formFault,
  Pace,
  parseFault,
  type Progress,
  progressText,
  readableError,
  runNotebooks,
  type RunResult,
  syntaxCause,
} from "../../lib/book/runner.ts";
import { code, home, inFolder, prose, runNotebook, write } from "./notebooks.ts";

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

const place = { notebook: "notebooks/02-read.ipynb", cell: 3, source: "\nconst a = 1;\nfoo(a);" };
const turn = (more: Partial<Turn> = {}): Turn => ({
  ended: "done",
  messages: [],
  reply: { status: "ok" },
  line: 3,
  ...more,
});
const report = { mark: "m", line: 3, faults: [], missing: [] };
const error = (evalue: string, traceback: string[], ename = "Error"): Output => ({
  output_type: "error",
  ename,
  evalue,
  traceback,
});

Deno.test("failure: says notebook, cell, line and the line itself", () => {
  assert.equal(
    failureText(failureAt(place, "error", "Error: no", 3)),
    "notebooks/02-read.ipynb, code cell 3, line 3: Error: no\n    foo(a);",
  );
});

Deno.test("failure: without a line the cell's first is quoted; without a cell only the notebook is named", () => {
  assert.equal(
    failureText(failureAt(place, "uncaught", "late")),
    "notebooks/02-read.ipynb, code cell 3: late\n    const a = 1;",
  );
  assert.equal(
    failureText({ notebook: "a.ipynb", kind: "start", message: "no kernel" }),
    "a.ipynb: no kernel",
  );
});

Deno.test("failure: nothing wrong is nothing told", () => {
  const fine: Output = { output_type: "stream", name: "stderr", text: "a warning\n" };
  assert.deepEqual(failuresOf(turn({ report }), [fine], place), []);
});

Deno.test("failure: an error sent counts though the reply is ok", () => {
  const [failure] = failuresOf(turn({ report }), [
    error("no", ["Error: no", "    at <anonymous>:1:1"]),
  ], place);
  assert.deepEqual([failure?.kind, failure?.message, failure?.line], ["error", "Error: no", 3]);
});

Deno.test("failure: what was thrown is told in one line, errors apart from other values", () => {
  const message = (output: Output): string | undefined =>
    failuresOf(turn(), [output], place)[0]?.message;
  assert.equal(message(error("null", [""])), "threw what is not an Error: null");
  assert.equal(
    message(error("a\n    at file:///x", ["TypeError: a"], "TypeError")),
    "TypeError: a",
  );
});

Deno.test("failure: a missing export offers the nearest name there is, or none", () => {
  const lack = {
    specifier: "first-mirror/optics",
    name: "sagita",
    line: 1,
    near: ["conic", "sagitta", "sag"],
  };
  const told = (more: object): string | undefined =>
    failuresOf(turn({ report: { ...report, missing: [{ ...lack, ...more }] } }), [], place)[0]
      ?.message;
  assert.match(
    told({}) ?? "",
    /"first-mirror\/optics" exports no value named sagita, perhaps sagitta\?/,
  );
  assert.doesNotMatch(told({ name: "astigmatism" }) ?? "", /perhaps/);
  assert.match(told({ name: "Sagitta" }) ?? "", /perhaps sagitta\?/);
  for (const near of [["sagittal", "sagitta"], ["sagitta", "sagittal"]]) {
    assert.match(told({ near }) ?? "", /perhaps sagitta\?/, "the nearest, not the first");
  }
});

Deno.test("failure: a hidden value is told only where the cell ended well", () => {
  const hidden = { ...report, unshown: "NaN" as const };
  assert.equal(failuresOf(turn({ report: hidden }), [], place)[0]?.kind, "unshown");
  assert.deepEqual(failuresOf(turn({ report: hidden, reply: { status: "error" } }), [], place), []);
});

Deno.test("failure: errors that nothing caught are told each", () => {
  const faults = ["one", "two"].map((message) => ({ name: "Error", message, stack: "" }));
  const kinds = failuresOf(turn({ report: { ...report, faults } }), [], place);
  assert.deepEqual(kinds.map(({ kind }) => kind), ["uncaught", "uncaught"]);
  assert.match(kinds[1]?.message ?? "", /Error: two$/);
});

Deno.test("failure: the ways of not coming back", () => {
  assert.match(
    failureOfEnd(turn({ ended: "loop" }), place, 2, "").message,
    /^still computing after 2 s/,
  );
  const waiting = failureOfEnd(turn({ ended: "wait", fault: "Error: in a timer" }), place, 2, "");
  assert.match(waiting.message, /^still waiting after 2 s.*nothing caught: Error: in a timer$/);
  const died = failureOfEnd(
    turn({ ended: "died", exitCode: 134 }),
    place,
    2,
    "one\na wheel came off",
  );
  assert.equal(
    died.message,
    "the kernel ended with exit code 134; its last words: a wheel came off",
  );
  const killed = failureOfEnd(turn({ ended: "died", exitCode: 137 }), place, 2, "");
  assert.equal(
    killed.message,
    "the kernel ended with exit code 137 (killed, perhaps for want of memory)",
  );
  const histogram =
    "#\n# Fatal JavaScript out of memory: Reached heap limit\n#\n\n    deno(+0x28b0d2e) [0x55]";
  const eaten = failureOfEnd(turn({ ended: "died", exitCode: 133 }), place, 2, histogram);
  assert.equal(
    eaten.message,
    "the kernel ended with exit code 133; the cell asked for more memory than a kernel may have",
  );
  assert.deepEqual([died.kind, died.line, died.code], ["died", 3, "foo(a);"]);
});

Deno.test("failure: as an output it names cell and line", () => {
  assert.deepEqual(failureOutput(failureAt(place, "import", "no such name", 2)), {
    output_type: "error",
    ename: "import",
    evalue: "no such name",
    traceback: ["no such name", "    at code cell 3, line 2"],
  });
});

Deno.test("failure: a traceback keeps the library's frames and drops the kernel's", () => {
  const output = error("bad depth\nsecond line\n    at x", [
    "RangeError: bad depth",
    "second line",
    "    at sagitta (./lib/optics/sphere.ts:31:9)",
    "    at <anonymous>:2:51",
    "    at format (ext:cli/40_jupyter.js:257:31)",
  ], "RangeError");
  const readable = readableError(output, place, 3);
  assert.deepEqual(readable.output_type === "error" && readable.traceback, [
    "RangeError: bad depth",
    "second line",
    "    at sagitta (./lib/optics/sphere.ts:31:9)",
    "    at code cell 3, line 3",
  ]);
  const stream: Output = { output_type: "stream", name: "stdout", text: "a" };
  assert.equal(readableError(stream, place), stream);
});

Deno.test("pace: nothing to go by is no estimate", () => {
  assert.equal(new Pace(10).secondsLeft(), undefined);
});

Deno.test("pace: the cells left take as long as those done", () => {
  let now = 1000;
  const pace = new Pace(10, () => now);
  now += 4000;
  pace.finish(2);
  // DERIVED 4 s for 2 cells is 2 s a cell; 8 cells are left
  assert.equal(pace.secondsLeft(), 16);
  now += 1;
  pace.finish(7);
  // DERIVED 4.001 s / 9 cells x 1 cell = 0.44 s, rounded up
  assert.equal(pace.secondsLeft(), 1);
  pace.finish();
  assert.equal(pace.secondsLeft(), 0);
});

Deno.test("pace: more cells than were said do not make the time negative", () => {
  const pace = new Pace(1, () => 0);
  pace.finish(3);
  assert.equal(pace.secondsLeft(), 0);
});

Deno.test("progress: one line for each state", () => {
  const step = { notebook: "02-read.ipynb", cell: 3, cells: 14 };
  const texts = (["starting", "running", "done", "failed"] as const).map((state) =>
    progressText({ ...step, state })
  );
  assert.deepEqual(texts, [
    "02-read.ipynb  starting",
    "02-read.ipynb  cell 3 of 14",
    "02-read.ipynb  done, 14 cells",
    "02-read.ipynb  failed in cell 3 of 14",
  ]);
});

Deno.test("progress: the time left in seconds, then in minutes", () => {
  const text = (secondsLeft: number): string =>
    progressText({ notebook: "a", state: "running", cell: 1, cells: 2, secondsLeft });
  assert.match(text(59), /about 59 s left$/);
  assert.match(text(61), /about 1 min 01 s left$/);
});
