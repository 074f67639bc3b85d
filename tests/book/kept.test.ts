/** What cells gave is used by the next build, and only where nothing they saw has changed. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { buildBook, BuildStopped, notebooksIn } from "../../lib/book/build.ts";
import { Kept } from "../../lib/book/kept.ts";
import { parseNotebook } from "../../lib/book/notebook.ts";
import type { Progress } from "../../lib/book/runner.ts";
import { runWithoutKernels } from "../../lib/book/withoutKernels.ts";
import { openMirror, recordsFolder } from "../../lib/knowledge/open.ts";
import { random } from "../../lib/numeric/random.ts";
import { rememberIn } from "../../lib/numeric/remembered.ts";
import { RecordRefused } from "../../lib/record/errors.ts";
import { type Bench, onBench } from "./buildBench.ts";
import { code, prose } from "./sampleBook.ts";
import { stemOf } from "../stems.ts";

const FIRST = stemOf("choose-mirror"), SECOND = stemOf("measure-curve");

/** A cell that leaves a line in a file each time it is run; and how often it was. */
function counting(bench: Bench, name: string): [source: string, runs: () => Promise<number>] {
  const file = join(bench.folder, `${name}.runs`);
  const source = `Deno.writeTextFileSync(${JSON.stringify(file)}, "x", { append: true });\n`;
  return [source, async () => (await Deno.readTextFile(file).catch(() => "")).length];
}

/** A notebook of one such cell. */
async function counted(bench: Bench, stem: string, more = ""): Promise<() => Promise<number>> {
  const [source, runs] = counting(bench, stem);
  await bench.notebook(
    stem,
    prose(`# ${stem}\n\nHow deep?`),
    code(`${source}console.log(6 * 7${more})`, []),
  );
  return runs;
}

const broken = (bench: Bench): Promise<void> =>
  bench.notebook(SECOND, prose("# Second\n\nHow deep?"), code('throw new Error("no glass")', []));

/** Builds, one notebook at a time. @returns each notebook's last state, in order */
async function build(bench: Bench, edition?: "learner"): Promise<readonly Progress["state"][]> {
  const states = new Map<string, Progress["state"]>();
  const onProgress = ({ notebook, state }: Progress): void => void states.set(notebook, state);
  try {
    await buildBook({
      ...bench.options,
      jobs: 1,
      onProgress,
      ...(edition === undefined ? {} : { edition }),
    });
  } catch (error) {
    if (!(error instanceof BuildStopped)) throw error;
  }
  return [...states.values()];
}

Deno.test("what was done is not run again, whether another failed or the book stands", () =>
  onBench(async (bench) => {
    const runs = await counted(bench, FIRST);
    await broken(bench);
    assert.deepEqual(await build(bench), ["done", "failed"]);
    await counted(bench, SECOND);
    assert.deepEqual(await build(bench), ["kept", "done"]);
    assert.deepEqual(await build(bench), ["kept", "kept"]);
    assert.equal(await runs(), 1);
    const path = join(bench.options.out ?? "", "notebooks", `${FIRST}.ipynb`);
    const { cells } = parseNotebook(await Deno.readTextFile(path), path);
    assert.match(JSON.stringify(cells[1]), /"text":"42\\n"/, "with its outputs");
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

Deno.test("what has changed is run again, and what it rests on for its names; nothing else", () =>
  onBench(async (bench) => {
    const [base, bases] = counting(bench, "base"), [alone, alones] = counting(bench, "alone");
    const [reads, readers] = counting(bench, "reads"), [on, ons] = counting(bench, "on");
    const notebook = (last: string): Promise<void> =>
      bench.notebook(
        FIRST,
        prose("# First\n\nHow deep?"),
        code(`${base}const two = 2;`, []),
        code(`${alone}console.log(7);`, []),
        code(
          `import { openRecord } from "first-mirror/knowledge";\n${reads}const { yours } = await openRecord();\nconsole.log(yours.record.settings.title);`,
          [],
        ),
        code(`${on}console.log(two + ${last});`, []),
      );
    const runs = async (): Promise<number[]> =>
      await Promise.all([bases, alones, readers, ons].map((count) => count()));
    await notebook("1");
    await build(bench);
    assert.deepEqual(await runs(), [1, 1, 1, 1]);
    await notebook("3");
    assert.deepEqual(await build(bench), ["done"]);
    assert.deepEqual(await runs(), [2, 1, 1, 2]);
    await bench.record("title: Bench eight\naperture: 150 mm\nfocal_length: 1200 mm\n");
    assert.deepEqual(await build(bench), ["done"]);
    assert.deepEqual(await runs(), [2, 1, 2, 2]);
    const page = await Deno.readTextFile(join(bench.options.out ?? "", `${FIRST}.html`));
    assert.match(page, /Bench eight/);
  }));

Deno.test("each edition keeps its own", () =>
  onBench(async (bench) => {
    const runs = await counted(bench, FIRST);
    await build(bench);
    await build(bench, "learner");
    assert.equal(await runs(), 2);
    assert.deepEqual(await build(bench), ["kept"]);
  }));

/** Changes that are tried; each runs all cells once from scratch. */
const ROUNDS = 2;

/** Changes a random cell of a random table, takes a row away or reads it once more. */
async function changed(record: string, dice: () => number): Promise<string> {
  const tables = (await Array.fromAsync(Deno.readDir(record))).map(({ name }) => name)
    .filter((name) => name.endsWith(".csv")).sort();
  const one = <T>(all: readonly T[]): T => all[Math.floor(dice() * all.length)] as T;
  const table = one(tables), path = join(record, table);
  const lines = (await Deno.readTextFile(path)).trimEnd().split("\n");
  const rows = lines.flatMap((line, at) => /^\d{4}-|,\d/.test(line) ? [at] : []);
  const at = one(rows),
    kind = one(["cell", "cell", "gone", "again"]),
    cells = (lines[at] ?? "").split(",");
  if (kind === "cell") {
    const n = one(cells.flatMap((cell, place) => /^\d+(\.\d+)?$/.test(cell) ? [place] : []));
    const digits = /\.(\d+)/.exec(cells[n] ?? "")?.[1]?.length ?? 0;
    cells[n] = (Number(cells[n]) + 10 ** -digits).toFixed(digits);
    lines[at] = cells.join(",");
  } else lines.splice(at, kind === "gone" ? 1 : 0, ...(kind === "gone" ? [] : [lines[at] ?? ""]));
  await Deno.writeTextFile(path, `${lines.join("\n")}\n`);
  return `${kind} in line ${at + 1} of ${table}`;
}

/** What all cells of all notebooks give on a record; with what was kept, or without. */
async function cellsOn(record: string, isKept: boolean): Promise<string> {
  const today = "2026-11-30", kept = isKept ? await Kept.of(record, today) : undefined;
  rememberIn(kept?.results);
  try {
    const mirror = await openMirror(record, today);
    const files = await notebooksIn(join(recordsFolder, "../../notebooks"));
    const known = new Map([[await Deno.realPath(record), mirror]]);
    const with_ = { record, today, known, row: files.toReversed() };
    const results = await runWithoutKernels(files, kept === undefined ? with_ : { ...with_, kept });
    assert.deepEqual(results.flatMap(({ failures }) => failures), []);
    await kept?.keepResults();
    return JSON.stringify([mirror.summary, results.map(({ notebook }) => notebook)]);
  } finally {
    rememberIn(undefined);
  }
}

Deno.test("dice: whatever row changes, cells with what was kept give what they give from scratch", async () => {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-kept-" });
  const dice = random(20261130), record = join(folder, "record");
  try {
    await copied(join(recordsFolder, "demo-150-f8"), record);
    await cellsOn(record, true);
    for (let round = 0; round < ROUNDS;) {
      const before = join(folder, "before");
      await copied(record, before);
      const what = await changed(record, () => dice.uniform());
      const isRead = await openMirror(record, "2026-11-30").then(() => true, (error) => {
        if (error instanceof RecordRefused) return false;
        throw error;
      });
      if (isRead) {
        assert.ok(await cellsOn(record, true) === await cellsOn(record, false), what);
        round++;
      } else await copied(before, record);
    }
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
});

async function copied(from: string, to: string): Promise<void> {
  await Deno.mkdir(to, { recursive: true });
  for await (const { name, isDirectory } of Deno.readDir(from)) {
    if (isDirectory) await copied(join(from, name), join(to, name));
    else await Deno.copyFile(join(from, name), join(to, name));
  }
}
