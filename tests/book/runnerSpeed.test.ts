/** The runner beside nbconvert on one and the same notebook, in one run. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { writeKernelspec } from "../../lib/book/kernelspec.ts";
import { isCode, readNotebook } from "../../lib/book/notebook.ts";
import { hasNbconvert, python } from "../machine.ts";
import { home, inFolder, prose, write } from "./notebooks.ts";

/** The most that the runner may take of nbconvert's time. */
const MOST = 0.6;
const ROUNDS = 3;

/** A lesson's worth of cells: units, a table, a picture, awaits and words. */
const cells = [
  prose("# Depth of the curve"),
  'import { quantity } from "first-mirror/quantity";\nconst aperture = quantity("6 in").value;',
  "aperture.toFixed(1);",
  prose("Readings come in a table."),
  'import pl from "nodejs-polars";\nconst table = pl.DataFrame({ depth: [1.02, 1.04, 1.03] });',
  "table.height;",
  prose("And are drawn."),
  'import * as Plot from "@observablehq/plot";\nimport { parseHTML } from "linkedom";\nconst { document } = parseHTML("<p></p>");',
  "const picture = Plot.lineY([1, 2, 4]).plot({ document });\nDeno.jupyter.html`${picture.outerHTML}`;",
  'for (let i = 0; i < 10; i++) console.log("stroke", i);',
  'await new Promise((go) => setTimeout(go, 5));\n"done";',
];

const program = `
import { runNotebooks } from ${
  JSON.stringify(new URL("../../lib/book/runner.ts", import.meta.url).href)
};
import { writeNotebook } from ${
  JSON.stringify(new URL("../../lib/book/notebook.ts", import.meta.url).href)
};
const [path, out, cwd] = Deno.args;
const [{ notebook, failures }] = await runNotebooks([path], { cwd });
await writeNotebook(out, notebook);
if (failures.length > 0) { console.error(failures); Deno.exit(1); }
`;

/** Gives a folder the kit's import map, since nbconvert lets the kernel work where the notebook stands. */
async function withImports(folder: string): Promise<void> {
  const { imports } = JSON.parse(await Deno.readTextFile(join(home, "deno.json")));
  const whole = Object.entries<string>(imports).map((
    [name, target],
  ) => [name, target.startsWith("./") ? new URL(target, `file://${home}`).href : target]);
  const settings = { imports: Object.fromEntries(whole), lock: false };
  await Deno.writeTextFile(join(folder, "deno.json"), JSON.stringify(settings));
}

async function seconds(
  command: string,
  args: readonly string[],
  env: Record<string, string>,
): Promise<number> {
  const begun = performance.now();
  const child = new Deno.Command(command, {
    args: [...args],
    env,
    cwd: home,
    stdin: "null",
    stdout: "null",
    stderr: "piped",
  });
  const { success, stderr } = await child.output();
  assert.ok(success, new TextDecoder().decode(stderr));
  return (performance.now() - begun) / 1000;
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? NaN;

Deno.test({
  name: `the runner takes at most ${MOST} of nbconvert's time (needs Jupyter)`,
  ignore: !hasNbconvert,
  fn: (test) =>
    inFolder(async (folder) => {
      await writeKernelspec(folder);
      await withImports(folder);
      const env = { JUPYTER_PATH: folder, JUPYTER_RUNTIME_DIR: join(folder, "runtime") };
      const script = join(folder, "run.ts");
      await Deno.writeTextFile(script, program);
      const path = await write(folder, "lesson.ipynb", cells);
      const out = join(folder, "ours.ipynb");
      const ours: number[] = [];
      const theirs: number[] = [];
      for (let round = 0; round < ROUNDS; round++) {
        ours.push(
          await seconds(Deno.execPath(), [
            "run",
            "-A",
            "--no-check",
            "--no-lock",
            script,
            path,
            out,
            folder,
          ], {}),
        );
        theirs.push(
          await seconds(python, [
            ...[
              "-m",
              "nbconvert",
              "--to",
              "notebook",
              "--execute",
              "--ExecutePreprocessor.kernel_name=deno",
            ],
            ...[
              "--output-dir",
              folder,
              "--output",
              "theirs.ipynb",
              path,
            ],
          ], env),
        );
      }
      const ratio = median(ours) / median(theirs);
      const list = (values: readonly number[]): string =>
        values.map((value) => value.toFixed(2)).join(", ");
      const figures = `runner ${list(ours)} s, nbconvert ${list(theirs)} s, ratio of the medians ${
        ratio.toFixed(2)
      }`;
      await test.step(figures, () => assert.ok(ratio <= MOST, figures));
      const result = await readNotebook(out);
      const shown = result.cells.filter(isCode).map(({ outputs }) => outputs.length);
      assert.deepEqual(shown, [0, 1, 0, 1, 0, 1, 1, 1], "the runner did the work");
    }),
});
