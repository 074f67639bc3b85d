// deno-lint-ignore-file no-console
/**
 * The demo book built by one job and by two: the same bytes, in what time, with how much memory at the peak; and how
 * long `check` takes once warm. Bounds: the same bytes, at most 1.5 GB. Times are printed beside a bare start of Deno,
 * for machines differ.
 *
 * `deno task trial book`
 */
import assert from "node:assert/strict";
import { join, relative } from "node:path";
import { buildBook } from "../../lib/book/build.ts";
import { demoName, recordFolder } from "../../lib/knowledge/open.ts";
import { seconds } from "../bench/clock.ts";
import { descendants } from "../commands/processes.ts";
import { run } from "../commands/run.ts";

const BUILT_ON = new Date(2026, 10, 26);
const PEAK_GB = 1.5;

/** Memory of this process and of all below it, in bytes: what is theirs, and their share of what is common (PSS). */
async function memory(): Promise<number> {
  const processes = [Deno.pid, ...await descendants(Deno.pid)];
  const shares = await Promise.all(processes.map(async (process) => {
    const text = await Deno.readTextFile(`/proc/${process}/smaps_rollup`).catch(() => "");
    return 1024 * Number(/^Pss: +(\d+) kB/m.exec(text)?.[1] ?? 0);
  }));
  return shares.reduce((sum, share) => sum + share, 0);
}

/** Every file of a book by its name in it. */
async function filesOf(folder: string, root = folder): Promise<Map<string, Uint8Array>> {
  const files = new Map<string, Uint8Array>();
  for await (const { name, isDirectory } of Deno.readDir(folder)) {
    const path = join(folder, name);
    if (!isDirectory) files.set(relative(root, path), await Deno.readFile(path));
    else for (const [inner, bytes] of await filesOf(path, root)) files.set(inner, bytes);
  }
  return files;
}

/** Builds the demo book. @returns its files, the seconds it took, and the peak of memory in bytes */
async function build(
  out: string,
  jobs: number,
): Promise<{ files: Map<string, Uint8Array>; seconds: number; peak: number }> {
  let peak = 0;
  const watch = setInterval(async () => peak = Math.max(peak, await memory()), 250);
  const took = await seconds(() =>
    buildBook({ record: recordFolder(demoName), out, jobs, builtOn: BUILT_ON })
  );
  clearInterval(watch);
  return { files: await filesOf(out), seconds: took, peak };
}

const folder = await Deno.makeTempDir({ prefix: "first-mirror-book-trial-" });
try {
  const [two, one] = [await build(join(folder, "two"), 2), await build(join(folder, "one"), 1)];
  const names = [...two.files.keys()].sort();
  assert.deepEqual([...one.files.keys()].sort(), names);
  const different = names.filter((name) =>
    Deno.inspect(two.files.get(name)) !== Deno.inspect(one.files.get(name)) ||
    !two.files.get(name)?.every((byte, place) => byte === one.files.get(name)?.[place])
  );
  assert.deepEqual(different, [], "one job or two, the same bytes");
  const size = [...two.files.values()].reduce((sum, { length }) => sum + length, 0);
  console.log(
    `${names.length} files of ${(size / 1e6).toFixed(1)} MB, the same bytes by one job and by two`,
  );
  for (const [jobs, { seconds, peak }] of [[2, two], [1, one]] as const) {
    console.log(
      `${jobs} at a time: ${seconds.toFixed(1)} s, ${(peak / 1e9).toFixed(2)} GB at the peak`,
    );
    assert.ok(peak < PEAK_GB * 1e9, `${peak} bytes at the peak`);
  }
  const warm: number[] = [], bare: number[] = [];
  for (let turn = 0; turn < 6; turn++) {
    warm.push(await seconds(() => run("check", [demoName])));
    bare.push(
      await seconds(() => new Deno.Command(Deno.execPath(), { args: ["eval", "0"] }).output()),
    );
  }
  const middle = (times: number[]): string =>
    (times.slice(1).sort((a, b) => a - b)[2] ?? NaN).toFixed(2);
  console.log(
    `check of the demo record, warm: ${middle(warm)} s; a bare start of Deno ${middle(bare)} s`,
  );
} finally {
  await Deno.remove(folder, { recursive: true });
}
