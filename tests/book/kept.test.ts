/** Notebooks that were done when a build stopped are used by the next, and only where nothing they saw has changed. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { buildBook, BuildStopped } from "../../lib/book/build.ts";
import { parseNotebook } from "../../lib/book/notebook.ts";
import type { Progress } from "../../lib/book/runner.ts";
import { type Bench, onBench } from "./buildBench.ts";
import { code, prose } from "./sampleBook.ts";
import { stemOf } from "../stems.ts";

const FIRST = stemOf("choose-mirror"), SECOND = stemOf("measure-curve");

/** A notebook that leaves a line in a file each time it is run. */
async function counted(bench: Bench, stem: string): Promise<() => Promise<number>> {
  const file = join(bench.folder, `${stem}.runs`);
  const source = `Deno.writeTextFileSync(${JSON.stringify(file)}, "x", { append: true });\n` +
    "console.log(6 * 7)";
  await bench.notebook(stem, prose(`# ${stem}\n\nHow deep?`), code(source, []));
  return async () => (await Deno.readTextFile(file).catch(() => "")).length;
}

const broken = (bench: Bench): Promise<void> =>
  bench.notebook(SECOND, prose("# Second\n\nHow deep?"), code('throw new Error("no glass")', []));

/** Builds, one notebook at a time. @returns each notebook's last state, in order */
async function build(bench: Bench): Promise<readonly Progress["state"][]> {
  const states = new Map<string, Progress["state"]>();
  const onProgress = ({ notebook, state }: Progress): void => void states.set(notebook, state);
  try {
    await buildBook({ ...bench.options, jobs: 1, onProgress });
  } catch (error) {
    if (!(error instanceof BuildStopped)) throw error;
  }
  return [...states.values()];
}

Deno.test("a notebook that was done is not run again once the one that failed is mended", () =>
  onBench(async (bench) => {
    const runs = await counted(bench, FIRST);
    await broken(bench);
    assert.deepEqual(await build(bench), ["done", "failed"]);
    assert.equal(await runs(), 1);
    await counted(bench, SECOND);
    assert.deepEqual(await build(bench), ["kept", "done"]);
    assert.equal(await runs(), 1);
    const path = join(bench.options.out ?? "", "notebooks", `${FIRST}.ipynb`);
    const { cells } = parseNotebook(await Deno.readTextFile(path), path);
    assert.match(JSON.stringify(cells[1]), /"text":"42\\n"/, "with its outputs");
    assert.deepEqual(await build(bench), ["done", "done"], "a book that stands keeps nothing");
    assert.equal(await runs(), 2);
  }));

Deno.test("a build that is stopped goes on from there at the next try", () =>
  onBench(async (bench) => {
    const runs = await counted(bench, FIRST);
    await bench.notebook(
      SECOND,
      prose("# Second\n\nHow deep?"),
      code("await new Promise((later) => setTimeout(later, 60_000))", []),
    );
    const stop = new AbortController();
    const onProgress = ({ notebook, state }: Progress): void => {
      if (notebook.includes(SECOND) && state === "running") stop.abort(new Error("Stopped."));
    };
    const stopped = buildBook({ ...bench.options, jobs: 1, onProgress, signal: stop.signal });
    await assert.rejects(stopped, /^Error: Stopped\.$/);
    await counted(bench, SECOND);
    assert.deepEqual(await build(bench), ["kept", "done"]);
    assert.equal(await runs(), 1);
  }));

Deno.test("what has changed is run again: the record, or the notebook itself", () =>
  onBench(async (bench) => {
    const runs = await counted(bench, FIRST);
    await broken(bench);
    await build(bench);
    await bench.record("title: Bench eight\naperture: 150 mm\nfocal_length: 1200 mm\n");
    assert.deepEqual(await build(bench), ["done", "failed"]);
    assert.equal(await runs(), 2);
    await bench.notebook(FIRST, prose("# First\n\nHow deep?"), code("console.log(7 * 7)", []));
    assert.deepEqual(await build(bench), ["done", "failed"]);
    await counted(bench, SECOND);
    await build(bench);
  }));
