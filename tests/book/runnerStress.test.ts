/** No output lost, none under another cell: 200 cells of the kinds that a kernel's "idle" cannot be trusted with. */
import assert from "node:assert/strict";
import { isCode, notebookText, type Output } from "../../lib/book/notebook.ts";
import type { RunResult } from "../../lib/book/runner.ts";
import { home, inFolder, runNotebook, write } from "./notebooks.ts";

const CELLS = 200;

const stream = (name: "stdout" | "stderr", lines: readonly string[]): Output => ({
  output_type: "stream",
  name,
  text: lines.map((line) => `${line}\n`).join(""),
});
const result = (cell: number, text: string): Output => ({
  output_type: "execute_result",
  execution_count: cell,
  data: { "text/plain": text },
  metadata: {},
});
const display = (text: string): Output => ({
  output_type: "display_data",
  data: { "text/html": text },
  metadata: {},
});
const numbered = (count: number, cell: number): string[] =>
  Array.from({ length: count }, (_, i) => `cell ${cell} line ${i}`);

type Trial = readonly [source: string, outputs: readonly Output[]];

/** Kinds of cells, and what each must come to. */
const kinds: readonly ((cell: number) => Trial)[] = [
  (n) => [
    `for (let i = 0; i < 30; i++) console.log("cell ${n} line " + i);\n"value ${n}"`,
    [stream("stdout", numbered(30, n)), result(n, `"value ${n}"`)],
  ],
  (n) => [
    `await new Promise((go) => setTimeout(go, 2));\n"awaited ${n}"`,
    [result(n, `"awaited ${n}"`)],
  ],
  (n) => [
    `await Deno.jupyter.display({ "text/html": "<b>${n}</b>" }, { raw: true });\n"after ${n}"`,
    [display(`<b>${n}</b>`), result(n, `"after ${n}"`)],
  ],
  (n) => [
    `({\n  [Symbol.for("Jupyter.display")]: async () => {\n` +
    `    await Deno.jupyter.display({ "text/html": "<i>${n}</i>" }, { raw: true });\n` +
    `    await new Promise((go) => setTimeout(go, 5));\n    return {};\n  },\n})`,
    [display(`<i>${n}</i>`)],
  ],
  (n) => [
    `setTimeout(() => console.log("timer ${n}"), 1);\nawait new Promise((go) => setTimeout(go, 4));\n` +
    `console.log(${JSON.stringify(numbered(30, n).join("\n"))});`,
    [stream("stdout", [`timer ${n}`, ...numbered(30, n)])],
  ],
];

const cells: readonly Trial[] = Array.from(
  { length: CELLS },
  (_, i) => kinds[i % kinds.length]?.(i + 1) ?? ["", []],
);

interface Tally {
  readonly lost: number;
  readonly foreign: number;
}

/** Compares every output with what its own cell must come to. */
function tally({ notebook }: RunResult): Tally {
  let lost = 0;
  let foreign = 0;
  notebook.cells.filter(isCode).forEach(({ outputs }, i) => {
    const wanted = (cells[i]?.[1] ?? []).map((output) => JSON.stringify(output));
    const got = outputs.map((output) => JSON.stringify(output));
    lost += wanted.filter((output) => !got.includes(output)).length;
    foreign += got.filter((output) => !wanted.includes(output)).length;
  });
  return { lost, foreign };
}

/** Keeps the machine's cores busy, for a minute at most, until called off. */
function burn(): () => Promise<void> {
  const code = "const end = Date.now() + 60_000; while (Date.now() < end);";
  const burners = Array.from(
    { length: navigator.hardwareConcurrency + 1 },
    () =>
      new Deno.Command(Deno.execPath(), { args: ["eval", "--no-config", code], stdin: "null" })
        .spawn(),
  );
  return async () => {
    for (const burner of burners) burner.kill("SIGKILL");
    await Promise.all(burners.map((burner) => burner.status));
  };
}

Deno.test("200 cells of logs, awaits and displays: none lost, none misplaced, quiet and with all cores busy", async (test) => {
  await inFolder(async (folder) => {
    const path = await write(folder, "stress.ipynb", cells.map(([source]) => source));
    const quiet = await runNotebook(path, { cwd: home });
    const callOff = burn();
    const busy = await runNotebook(path, { cwd: home }).finally(callOff);
    for (const [how, run] of [["quiet", quiet], ["busy", busy]] as const) {
      const { lost, foreign } = tally(run);
      const each = (1000 * run.seconds / CELLS).toFixed(0);
      const figures =
        `${how}: ${lost} lost, ${foreign} misplaced of ${CELLS} cells, ${each} ms a cell`;
      await test.step(figures, () => assert.deepEqual({ lost, foreign }, { lost: 0, foreign: 0 }));
      assert.deepEqual(run.failures, []);
    }
    assert.equal(
      notebookText(quiet.notebook),
      notebookText(busy.notebook),
      "two runs write the same bytes",
    );
  });
});

Deno.test("the comparison itself finds a lost and a misplaced output", async () => {
  await inFolder(async (folder) => {
    const path = await write(folder, "small.ipynb", cells.slice(0, 3).map(([source]) => source));
    const run = await runNotebook(path, { cwd: home });
    assert.deepEqual(tally(run), { lost: 0, foreign: 0 });
    const [first, second, third] = run.notebook.cells.filter(isCode);
    assert.ok(first && second && third);
    const moved = [
      { ...first, outputs: first.outputs.slice(0, 1) },
      { ...second, outputs: [...second.outputs, ...first.outputs.slice(1)] },
      third,
    ];
    assert.deepEqual(tally({ ...run, notebook: { ...run.notebook, cells: moved } }), {
      lost: 1,
      foreign: 1,
    });
  });
});
