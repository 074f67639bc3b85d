// deno-lint-ignore-file no-console
/**
 * One hundred lines of the library changed for each of the dice, one at a time, in a copy of the kit: does a test notice?
 *
 * `deno task trial mutation` takes lines and changes by seeded throws of two dice. A change that the types refuse counts as
 * noticed only where a test that runs says so, for types are not checked here. Every file of tests is first run on an unchanged
 * copy, its lines counted; one that does not hold there is named and not asked. A change is then shown to all that run its line;
 * one that makes them run ten times longer than they did counts as noticed. Bound: at least 95 of each hundred noticed.
 * MUTATIONS=20 makes it shorter, MUTATION_SEED=7,8 throws other dice. Two hours; MUTATION_LOG=FILE, what a run that was stopped
 * had printed, goes on from there on the same tree. MUTATION_NEAR=1 asks only a file's examples and the tests that import it:
 * what these do not notice may still be noticed by others, so its count is a lower bound.
 */
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { maskCode } from "../../lib/living/maskCode.ts";
import { linesSeen, runTests, type Seen } from "./linesSeen.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));
const COUNT = Number(Deno.env.get("MUTATIONS") ?? 100);
const SEEDS = (Deno.env.get("MUTATION_SEED") ?? "2511,2512").split(",").map(Number);
/** s for all tests of a bundle; a change may lead to a loop without end, so a file has this long or ten times what it took. */
const LIMITS = { near: 120, far: 900 } as const;
/** Only the nearest tests are asked. */
const NEAR = Deno.env.get("MUTATION_NEAR") === "1";
/** At least so many of a hundred. */
const WANTED = 0.95;

/** What a line may become: the code found, and what stands there instead. */
const CHANGES: readonly (readonly [found: RegExp, instead: string])[] = [
  [/ \+ /, " - "],
  [/ - /, " + "],
  [/ \* /, " / "],
  [/ \/ /, " * "],
  [/ < /, " >= "],
  [/ > /, " <= "],
  [/ <= /, " > "],
  [/ >= /, " < "],
  [/ === /, " !== "],
  [/ !== /, " === "],
  [/ && /, " || "],
  [/ \|\| /, " && "],
  [/\bMath\.min\b/, "Math.max"],
  [/\bMath\.max\b/, "Math.min"],
  [/\bMath\.sqrt\(/, "Math.abs("],
  [/\btrue\b/, "false"],
  [/\bfalse\b/, "true"],
  // a small count becomes one more, any other number a tenth more
  [/(?<![\w.$])([2-9]|1\d)(?![\w.])/, "($1 + 1)"],
  [/(?<![\w.$])(\d+\.\d+|[2-9]\d+|1\d\d+)(?![\w.])/, "(1.1 * $1)"],
];

/** A change to try. */
interface Mutation {
  readonly file: string;
  readonly line: number;
  readonly was: string;
  readonly is: string;
}

/** Dice of 32 bits: Marsaglia's xorshift, so that they share nothing with the library they throw at. */
function dice(seed: number): () => number {
  let state = seed >>> 0 || 1;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
}

async function filesBelow(folder: string): Promise<string[]> {
  const found: string[] = [];
  for await (const { name, isDirectory } of Deno.readDir(folder)) {
    const path = join(folder, name);
    if (isDirectory) found.push(...await filesBelow(path));
    else if (name.endsWith(".ts") && name !== "mod.ts") found.push(path);
  }
  return found.sort();
}

/** Every change of every line of code; lines of types, imports and comments have none. */
async function candidates(): Promise<Mutation[]> {
  const all: Mutation[] = [];
  for (const path of await filesBelow(join(root, "lib"))) {
    const text = await Deno.readTextFile(path);
    const lines = text.split("\n"), code = maskCode(text).split("\n");
    code.forEach((masked, index) => {
      if (/^\s*(import|export (type|interface)|type|interface|readonly|declare)\b/.test(masked)) {
        return;
      }
      const was = lines[index] ?? "";
      for (const [found, instead] of CHANGES) {
        const at = masked.search(found);
        if (at < 0) continue;
        const is = was.slice(0, at) + was.slice(at).replace(found, instead);
        if (is !== was) all.push({ file: relative(root, path), line: index + 1, was, is });
      }
    });
  }
  return all;
}

/** As many changes as asked for, no two of one line. */
function draw(all: readonly Mutation[], count: number, random: () => number): Mutation[] {
  const drawn = new Map<string, Mutation>();
  while (drawn.size < Math.min(count, all.length)) {
    const one = all[Math.floor(random() * all.length)];
    if (one !== undefined) drawn.set(`${one.file}:${one.line}`, one);
  }
  return [...drawn.values()];
}

/** The tests that import a file by its own name. */
async function importersOf(file: string): Promise<string[]> {
  const found: string[] = [];
  for (const path of await filesBelow(join(root, "tests"))) {
    if (!path.endsWith(".test.ts")) continue;
    if ((await Deno.readTextFile(path)).includes(`/${file}"`)) found.push(relative(root, path));
  }
  return found;
}

/** What keeps to a time, or runs whole books in kernels and browsers: not asked line by line. */
const APART =
  /^tests\/(browser|notebooks)\/|\/(runnerSpeed|runnerStress|checkSpeed|pageSpeed|bookBuilds)\./;

/** Every other file of tests with the changed lines that it runs, shortest first. */
async function seenByTests(
  copies: readonly string[],
  wanted: ReadonlySet<string>,
): Promise<readonly Seen[]> {
  const queue = (await filesBelow(join(root, "tests")))
    .map((path) => relative(root, path))
    .filter((path) => path.endsWith(".test.ts") && !APART.test(path));
  const seen: Seen[] = [];
  await Promise.all(copies.map(async (copy) => {
    for (let test = queue.shift(); test !== undefined; test = queue.shift()) {
      const one = await linesSeen(copy, test, wanted, LIMITS.far);
      if (one === undefined) console.log(`not asked, for it does not hold unchanged: ${test}`);
      else seen.push(one);
    }
  }));
  return seen.sort((a, b) => a.seconds - b.seconds);
}

/** One start of Deno for many short files of tests, one for a few long ones. */
function bundles(seen: readonly Seen[]): string[][] {
  const all: string[][] = [];
  let seconds = Infinity;
  for (const one of seen) {
    if (seconds + one.seconds > LIMITS.near / 2) {
      all.push([]);
      seconds = 0;
    }
    all.at(-1)?.push(one.test);
    seconds += one.seconds;
  }
  return all;
}

/** The tests of a line: its file's examples, those that import the file, all that run the line, and what all notebooks show. */
async function testsFor({ file, line }: Mutation, seen: readonly Seen[]): Promise<string[][]> {
  const held = new Set(seen.map(({ test }) => test));
  const importers = (await importersOf(file)).filter((test) => NEAR || held.has(test));
  if (NEAR) {
    return [["--doc", "--permit-no-files", file], ...(importers.length > 0 ? [importers] : [])];
  }
  const others = seen.filter(({ test, lines }) =>
    lines.has(`${file}:${line}`) && !importers.includes(test)
  );
  return [
    ["--doc", "--permit-no-files", file],
    ...(importers.length > 0 ? [importers] : []),
    ...bundles(others),
    ["tests/notebooks/cells.test.ts", "tests/notebooks/snapshots.test.ts"],
  ];
}

/** Which of its tests noticed a change; nothing where none did. */
async function noticed(
  copy: string,
  change: Mutation,
  seen: readonly Seen[],
): Promise<string | undefined> {
  const path = join(copy, change.file);
  const text = await Deno.readTextFile(path);
  const lines = text.split("\n");
  lines[change.line - 1] = change.is;
  await Deno.writeTextFile(path, lines.join("\n"));
  try {
    for (const [nth, paths] of (await testsFor(change, seen)).entries()) {
      const took = seen.reduce(
        (s, { test, seconds }) => s + (paths.includes(test) ? seconds : 0),
        0,
      );
      const limit = Math.max(10 * took, nth < 2 ? LIMITS.near : LIMITS.far);
      const came = await runTests(copy, paths, limit);
      if (came !== "pass") return `${paths.join(" ")}${came === "late" ? " (never ended)" : ""}`;
    }
    return undefined;
  } finally {
    await Deno.writeTextFile(path, text);
  }
}

async function copyOf(): Promise<string> {
  const copy = await Deno.makeTempDir({ prefix: "first-mirror-mutation-" });
  const parts = [
    "lib",
    "tests",
    "data",
    "notebooks",
    "deno.json",
    "deno.lock",
    "README.md",
    "DEVELOPERS.md",
    "CHANGELOG.md",
    "LICENSE",
  ];
  const { success } = await new Deno.Command("cp", { args: ["-r", ...parts, copy], cwd: root })
    .output();
  if (!success) throw new Error("the kit could not be copied");
  return copy;
}

/** What a former run had found of each line. */
async function formerly(): Promise<ReadonlyMap<string, string>> {
  const log = Deno.env.get("MUTATION_LOG");
  const text = log === undefined ? "" : await Deno.readTextFile(log);
  return new Map(
    [...text.matchAll(/^\d+\/\d+ (\S+:\d+) (.+)$/gm)].map(([, at = "", by = ""]) => [at, by]),
  );
}

const NONE = "NOT NOTICED";
const all = await candidates();
const drawn = SEEDS.map((seed) => draw(all, COUNT, dice(seed)));
const known = await formerly();
const copies = [await copyOf(), await copyOf()];
const lines = new Set(drawn.flat().map(({ file, line }) => `${file}:${line}`));
const seen = NEAR ? [] : await seenByTests(copies, lines);
if (!NEAR) {
  console.log(`${seen.length} files of tests hold in a copy that nothing has changed`);
}
const survivors = new Set<Mutation>();
let done = 0;
try {
  const queue = drawn.flat();
  const count = queue.length;
  await Promise.all(copies.map(async (copy) => {
    for (let one = queue.shift(); one !== undefined; one = queue.shift()) {
      const at = `${one.file}:${one.line}`,
        by = known.get(at) ?? await noticed(copy, one, seen) ?? NONE;
      if (by === NONE) survivors.add(one);
      console.log(`${++done}/${count} ${at} ${by}`);
    }
  }));
} finally {
  for (const copy of copies) await Deno.remove(copy, { recursive: true });
}
for (const { file, line, was, is } of survivors) {
  console.log(`\n${file}:${line}\n  ${was.trim()}\n  ${is.trim()}`);
}
console.log();
for (const [nth, changes] of drawn.entries()) {
  const caught = changes.filter((one) => !survivors.has(one)).length;
  console.log(
    `dice ${SEEDS[nth]}: ${caught} of ${changes.length} changed lines were noticed (${
      100 * WANTED
    } % wanted)`,
  );
  if (caught < WANTED * changes.length) Deno.exitCode = 1;
}
