// deno-lint-ignore-file no-console
/**
 * What can go wrong while a book is built: the whole build killed at random moments, kernels killed so where cells run in them, a
 * cell that never ends, one that eats all memory, a disk that is full. Each time the last good book and the maker's files must
 * stand, the sentence must name what happened, and no process may be left. Linux only; the full disk needs root and a small tmpfs.
 *
 * `deno task trial faults`; KILLS=5 makes it shorter.
 */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { buildBook, type BuildOptions, BuildStopped } from "../../lib/book/build.ts";
import type { Progress } from "../../lib/book/runner.ts";
import { type Bench, onBench } from "../book/buildBench.ts";
import { code, prose } from "../book/sampleBook.ts";
import { alive, descendants, kernels, until } from "../commands/processes.ts";
import { contents } from "../commands/run.ts";
import { stemOf } from "../stems.ts";

const KILLS = Number(Deno.env.get("KILLS") ?? 50);

// a build in a process of its own, for one that is killed
if (Deno.args[0] !== undefined) {
  const { builtOn, ...options } = JSON.parse(Deno.args[0]);
  await buildBook({ ...options, builtOn: new Date(builtOn) });
  Deno.exit(0);
}

/** A notebook that takes a second or two, most of it in waiting. */
async function slowNotebooks(bench: Bench): Promise<void> {
  for (const stem of [stemOf("choose-mirror"), stemOf("measure-curve"), stemOf("measure-zones")]) {
    await bench.notebook(
      stem,
      prose(`# ${stem}\n\nHow deep?`),
      ...Array.from(
        { length: 6 },
        (_, cell) =>
          code(`await new Promise((later) => setTimeout(later, 150));\nconsole.log(${cell})`, []),
      ),
    );
  }
}

/** What a failed build said; undefined where it was built all the same. */
async function complaint(
  bench: Bench,
  more: Partial<BuildOptions> = {},
): Promise<string | undefined> {
  try {
    await buildBook({ ...bench.options, ...more });
    return undefined;
  } catch (error) {
    if (!(error instanceof BuildStopped)) throw error;
    return error.message;
  }
}

/** Everything that stands in the record and in the book. */
const allOf = async ({ options: { record, out = "" } }: Bench): Promise<unknown> => [
  await contents(record),
  await contents(out),
  await contents(join(out, "notebooks")),
];

async function nothingLeft(): Promise<void> {
  const below = await descendants(Deno.pid);
  await until("every process to end", async () => (await alive(below)).length === 0);
}

/** A record written anew: nothing that an earlier try has done is used again, and there is work to be killed in. */
const touched = (bench: Bench, turn: number): Promise<void> =>
  Deno.utime(join(bench.options.record, "mirror.yaml"), new Date(), new Date(Date.now() + turn));

async function buildKilledAtRandom(bench: Bench): Promise<void> {
  await slowNotebooks(bench);
  await buildBook(bench.options);
  let before = await allOf(bench), stopped = 0;
  for (let kill = 0; kill < KILLS; kill++) {
    await touched(bench, kill);
    const child = new Deno.Command(Deno.execPath(), {
      args: [
        "run",
        "-A",
        "--no-check",
        fileURLToPath(import.meta.url),
        JSON.stringify(bench.options),
      ],
      stdout: "null",
      stderr: "null",
    }).spawn();
    const ended = child.status;
    const late = await Promise.race([
      ended.then(() => true),
      new Promise<boolean>((later) => setTimeout(() => later(false), 300 + Math.random() * 2500)),
    ]);
    if (late) {
      assert.equal((await ended).success, true);
      before = await allOf(bench);
      continue;
    }
    child.kill("SIGKILL");
    await ended;
    await nothingLeft();
    stopped++;
    assert.deepEqual(await allOf(bench), before, "the last good book and the record stand");
  }
  await touched(bench, KILLS);
  await buildBook(bench.options);
  const left = [...Deno.readDirSync(bench.folder)].map(({ name }) => name).sort();
  assert.deepEqual(left, ["book", "record"], "the next build takes away what the killed ones left");
  console.log(`the build killed ${KILLS} times: ${stopped} in time; the next one is whole`);
  assert.ok(stopped >= KILLS / 2, "most kills must come in time to matter");
}

async function kernelKilledAtRandom(bench: Bench): Promise<void> {
  await slowNotebooks(bench);
  await buildBook({ ...bench.options, kernels: true });
  const before = await allOf(bench);
  let stopped = 0, late = 0;
  const words = new Map<string, number>();
  for (let kill = 0; kill < KILLS; kill++) {
    await touched(bench, kill);
    const running = Promise.withResolvers<void>();
    const onProgress = ({ state }: Progress): void =>
      void (state === "running" && running.resolve());
    const said = complaint(bench, { kernels: true, onProgress });
    await Promise.race([running.promise, said]);
    await new Promise((later) => setTimeout(later, Math.random() * 1500));
    const [victim] = await kernels(Deno.pid);
    if (victim !== undefined) Deno.kill(victim, "SIGKILL");
    const sentence = await said;
    await nothingLeft();
    if (sentence === undefined) {
      late++;
      continue;
    }
    stopped++;
    assert.match(sentence, /\d\d-[\w-]+\.ipynb/, "names the notebook");
    assert.deepEqual(await allOf(bench), before, "the last good book and the record stand");
    const kind = sentence.replace(/^\S+ipynb/, "NOTEBOOK").replace(/cell \d+/, "cell N");
    words.set(kind, (words.get(kind) ?? 0) + 1);
  }
  console.log(
    `a kernel killed ${KILLS} times: ${stopped} stopped with a sentence, ${late} too late to matter`,
  );
  for (const [kind, count] of words) console.log(`  ${count} x ${kind.slice(0, 160)}`);
  assert.ok(stopped >= KILLS / 2, "most kills must come in time to matter");
}

/** One cell that goes wrong in its own way, after a good book. */
async function badCell(bench: Bench, what: string, source: string, said: RegExp): Promise<void> {
  await bench.notebook(
    stemOf("choose-mirror"),
    prose("# Choosing\n\nHow wide?"),
    code("console.log(1)", []),
  );
  await buildBook(bench.options);
  const before = await allOf(bench);
  await bench.notebook(stemOf("choose-mirror"), prose("# Choosing\n\nHow wide?"), code(source, []));
  const begun = performance.now();
  const sentence = await complaint(bench);
  const seconds = (performance.now() - begun) / 1000;
  console.log(`${what}, after ${seconds.toFixed(0)} s: ${sentence}`);
  assert.match(sentence ?? "", said);
  await nothingLeft();
  assert.deepEqual(await allOf(bench), before);
}

/** Writes into a file until the disk has no room left. */
async function fill(path: string): Promise<void> {
  using file = await Deno.open(path, { write: true, create: true });
  const piece = new Uint8Array(64_000);
  try {
    while (await file.write(piece) > 0);
  } catch { /* full */ }
}

async function fullDisk(bench: Bench): Promise<void> {
  const disk = join(bench.folder, "small disk");
  await Deno.mkdir(disk);
  const mount = await new Deno.Command("mount", {
    args: ["-t", "tmpfs", "-o", "size=20m", "tmpfs", disk],
    stderr: "piped",
  }).output().catch(() => undefined);
  if (mount?.success !== true) {
    console.log("a full disk: not tried, since no small disk could be mounted (needs root)");
    return;
  }
  try {
    const small: Bench = { ...bench, options: { ...bench.options, out: join(disk, "book") } };
    await bench.notebook(
      stemOf("choose-mirror"),
      prose("# Choosing\n\nHow wide?"),
      code("console.log(1)", []),
    );
    await buildBook(small.options);
    const before = await allOf(small);
    await fill(join(disk, "photographs"));
    const sentence = await complaint(small);
    console.log(`a full disk: ${sentence?.replace(disk, "DISK")}`);
    assert.match(
      sentence ?? "",
      /cannot be written \(.*space.*\); name another folder with --out\.$/i,
    );
    assert.deepEqual(await allOf(small), before);
    assert.deepEqual([...Deno.readDirSync(disk)].map(({ name }) => name).sort(), [
      "book",
      "photographs",
    ]);
  } finally {
    await new Deno.Command("umount", { args: [disk] }).output();
  }
}

await onBench(buildKilledAtRandom);
await onBench(kernelKilledAtRandom);
await onBench((bench) =>
  badCell(bench, "a cell that never ends", "while (true) {}", /\d\d-choose-mirror\.ipynb/)
);
await onBench((bench) =>
  badCell(
    bench,
    "a cell that eats memory",
    "const eaten = []; while (true) eaten.push(new Array(1e6).fill(Math.random()));",
    /\d\d-choose-mirror\.ipynb/,
  )
);
await onBench(fullDisk);
console.log("the last good book and the maker's files stood each time, no process was left");
