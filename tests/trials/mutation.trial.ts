// deno-lint-ignore-file no-console
/**
 * Lines of the library changed one at a time, in a copy of the kit: does a test notice?
 *
 * `deno task trial mutation` takes lines and changes by seeded throws of two dice, in turn. A change that the types refuse counts
 * as noticed only where a test that runs says so, for types are not checked here. It is shown, until one fails, to its file's
 * examples; the test of its name; the others that import it; the drawings; the tests that import those; a mirror's whole life,
 * the contract, all pages and all cells as they were last read; the record's; then to the rest that reach the file by imports,
 * nearest first, until MUTATION_SECONDS (300) of processor are over. What fails counts only where the same tests hold without the
 * change, and what runs on and on only where they end without it. Not asked: what keeps to a time; kernels and browsers but by
 * tests that import the file.
 *
 * Bound: at least 95 of each hundred noticed. MUTATIONS=20 takes fewer lines, MUTATION_SEED=7,8 throws other dice. With
 * MUTATION_LOG=FILE every line found is added to FILE at once, and what FILE holds is not asked again: so it goes on after a stop.
 */
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { maskCode } from "../../lib/living/maskCode.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));
const COUNT = Number(Deno.env.get("MUTATIONS") ?? 100);
const SEEDS = (Deno.env.get("MUTATION_SEED") ?? "2511,2512").split(",").map(Number);
const LOG = Deno.env.get("MUTATION_LOG");
/** s of processor that a change is looked for at the most, and after which one run of tests is stopped. */
const SECONDS = Number(Deno.env.get("MUTATION_SECONDS") ?? 300), LATE = 200;
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

/** What keeps to a time, or runs whole books in kernels and browsers. */
const APART =
  /^tests\/(browser|notebooks)\/|\/(runnerSpeed|runnerStress|checkSpeed|pageSpeed|bookBuilds|kernels)\./;

/** What looks at everything, in the order of its price; the last two run all notebooks, which no import says. */
const RING = [
  "tests/figures/snapshots.test.ts",
  "tests/knowledge/wholeLife.test.ts",
  "tests/contract/contract.test.ts",
  "tests/contract/story.test.ts",
  "tests/contract/seats.test.ts",
  "tests/book/snapshots.test.ts",
  "tests/notebooks/snapshots.test.ts",
];

/** For each file of the kit the files that import it. */
async function importersOf(copy: string): Promise<ReadonlyMap<string, ReadonlySet<string>>> {
  const tests = (await filesBelow(join(copy, "tests"))).filter((path) => path.endsWith(".test.ts"));
  const all = join(copy, "all.ts");
  await Deno.writeTextFile(all, tests.map((path) => `import ${JSON.stringify(path)};`).join("\n"));
  const { stdout } = await new Deno.Command(Deno.execPath(), {
    args: ["info", "--json", all],
    cwd: copy,
    stderr: "null",
  }).output();
  await Deno.remove(all);
  const { modules } = JSON.parse(new TextDecoder().decode(stdout)) as {
    modules: {
      specifier: string;
      dependencies?: { code?: { specifier?: string } }[];
    }[];
  };
  const nameOf = (url: string): string =>
    url.startsWith("file:") ? relative(copy, fileURLToPath(url)) : url;
  const importers = new Map<string, Set<string>>();
  for (const { specifier, dependencies = [] } of modules) {
    for (const { code } of dependencies) {
      if (code?.specifier === undefined) continue;
      const to = nameOf(code.specifier);
      importers.set(to, (importers.get(to) ?? new Set()).add(nameOf(specifier)));
    }
  }
  return importers;
}

/** The tests that reach a file, by how many imports lie between: those that import it itself first. */
function reaching(
  file: string,
  importers: ReadonlyMap<string, ReadonlySet<string>>,
): readonly (readonly string[])[] {
  const seen = new Set([file]), rings: string[][] = [];
  for (let now = [file]; now.length > 0;) {
    const next = [...new Set(now.flatMap((one) => [...(importers.get(one) ?? [])]))]
      .filter((one) => !seen.has(one));
    for (const one of next) seen.add(one);
    const tests = next.filter((one) => one.endsWith(".test.ts")).sort();
    if (tests.length > 0 || rings.length > 0) rings.push(tests);
    else rings.push([]);
    now = next;
  }
  return rings;
}

/** One start of Deno for some files of tests. */
function bundles(tests: readonly string[], size = 8): string[][] {
  return Array.from(
    { length: Math.ceil(tests.length / size) },
    (_, k) => tests.slice(k * size, (k + 1) * size),
  );
}

/** The tests of a file, in the order in which they are asked. */
function testsFor(
  file: string,
  importers: ReadonlyMap<string, ReadonlySet<string>>,
): readonly (readonly string[])[] {
  const [own = [], second = [], ...far] = reaching(file, importers);
  const reached = new Set([...own, ...second, ...far.flat()]);
  const quiet = (tests: readonly string[]): string[] =>
    tests.filter((test) => !APART.test(test) && !RING.includes(test));
  const ring = RING.filter((test) => reached.has(test) || test === RING.at(-1));
  const name = file.replace(/^lib/, "tests").replace(/\.ts$/, ".test.ts");
  const record = far.flat().filter((test) => test.startsWith("tests/record/"));
  const others = (tests: readonly string[]): string[] =>
    quiet(tests).filter((test) => test !== name);
  return [
    ["--doc", "--permit-no-files", file],
    // many a test of a file's name reaches it by way of others, and imports it not itself
    ...bundles(quiet([...reached]).filter((test) => test === name)),
    ...bundles(others(own)),
    ...ring.filter((test) => test === RING[0]).map((test) => [test]),
    ...bundles(others(second)),
    ...ring.filter((test) => test !== RING[0]).map((test) => [test]),
    ...own.filter((test) => APART.test(test) && !RING.includes(test)).map((test) => [test]),
    ...bundles(others(record)),
    ...bundles(others(far.flat().filter((test) => !record.includes(test)))),
  ];
}

/** How tests came out: "late" where they had to be stopped. */
type Outcome = "pass" | "fail" | "late";

/** s of processor that a process has had, those of its children that have ended counted; by the clock where no /proc is. */
function processorOf(pid: number | "self", since: number): number {
  try {
    const after = Deno.readTextFileSync(`/proc/${pid}/stat`).split(") ")[1]?.split(" ") ?? [];
    // user and system, its own and its children's, in hundredths: fields 14 to 17, the first two lie before the bracket
    return after.slice(11, 15).reduce((sum, ticks) => sum + Number(ticks), 0) / 100;
  } catch {
    return (performance.now() - since) / 1000;
  }
}

/** Runs tests on a copy of the kit, as if the copy's own task had been called; stopped after so many seconds of processor. */
async function runTests(copy: string, paths: readonly string[]): Promise<Outcome> {
  const start = performance.now();
  const child = new Deno.Command(Deno.execPath(), {
    args: ["test", "-A", "--quiet", "--no-check", "--fail-fast", ...paths],
    cwd: copy,
    env: { INIT_CWD: copy },
    stdout: "null",
    stderr: "null",
  }).spawn();
  let late = false;
  // what sleeps for ever takes no processor
  const watch = setInterval(() => {
    if (processorOf(child.pid, start) < LATE && performance.now() - start < 8000 * LATE) return;
    late = true;
    clearInterval(watch);
    child.kill("SIGKILL");
  }, 2000);
  const { success } = await child.status;
  clearInterval(watch);
  return late ? "late" : success ? "pass" : "fail";
}

/** Tests known to hold without a change, and those known not to. */
const holds = new Set<string>(), fails = new Set<string>();

/** Whether tests that did not hold with a change hold without it; those that do not are never asked again. */
async function holdWithout(copy: string, paths: readonly string[]): Promise<boolean> {
  const key = paths.join(" ");
  if (holds.has(key) || paths.every((path) => holds.has(path))) return true;
  if (await runTests(copy, paths) === "pass") {
    for (const one of [key, ...(paths[0] === "--doc" ? [] : paths)]) holds.add(one);
    return true;
  }
  for (const one of paths[0] === "--doc" ? [key] : paths) {
    if (
      paths.length === 1 || paths[0] === "--doc" || await runTests(copy, [one]) !== "pass"
    ) {
      if (!fails.has(one)) console.log(`not asked, for it does not hold unchanged: ${one}`);
      fails.add(one);
    } else holds.add(one);
  }
  return false;
}

/** Which tests noticed a change, or that none did. */
async function noticed(
  copy: string,
  { file, line, is }: Mutation,
  importers: ReadonlyMap<string, ReadonlySet<string>>,
): Promise<string> {
  const path = join(copy, file), text = await Deno.readTextFile(path), lines = text.split("\n");
  lines[line - 1] = is;
  const changed = lines.join("\n");
  const had = processorOf("self", 0);
  try {
    for (const asked of testsFor(file, importers)) {
      const spent = processorOf("self", 0) - had;
      if (spent > SECONDS) return `${NONE} in ${SECONDS} s`;
      for (let again = true; again;) {
        again = false;
        const paths = asked.filter((one) => !fails.has(one) && !fails.has(asked.join(" ")));
        if (paths.length === 0) break;
        await Deno.writeTextFile(path, changed);
        const came = await runTests(copy, paths);
        if (came === "pass") {
          for (const one of paths[0] === "--doc" ? [] : paths) holds.add(one);
          break;
        }
        await Deno.writeTextFile(path, text);
        if (await holdWithout(copy, paths)) {
          return `${paths.join(" ")}${came === "late" ? " (never ended)" : ""}`;
        }
        again = paths.some((one) => fails.has(one));
      }
    }
    return NONE;
  } finally {
    await Deno.writeTextFile(path, text);
  }
}

/** The kit as it stands, without its history and its books. */
async function copyOf(): Promise<string> {
  const copy = await Deno.makeTempDir({ prefix: "first-mirror-mutation-" });
  const parts = [...Deno.readDirSync(root)].map(({ name }) => name)
    .filter((name) => name !== ".git" && name !== "book");
  const { success } = await new Deno.Command("cp", { args: ["-r", ...parts, copy], cwd: root })
    .output();
  if (!success) throw new Error("the kit could not be copied");
  return copy;
}

/** What a former run had found of each line. */
async function formerly(): Promise<ReadonlyMap<string, string>> {
  let text = "";
  try {
    text = LOG === undefined ? "" : await Deno.readTextFile(LOG);
  } catch (error) {
    if (!(error instanceof Deno.errors.NotFound)) throw error;
  }
  return new Map(
    [...text.matchAll(/^(\S+:\d+) (.+)$/gm)].map(([, at = "", by = ""]) => [at, by]),
  );
}

const NONE = "NOT NOTICED";
const all = await candidates();
const drawn = SEEDS.map((seed) => draw(all, COUNT, dice(seed)));
const known = await formerly();
const copy = await copyOf();
const found = new Map<Mutation, string>();
const survived = (one: Mutation): boolean => found.get(one)?.startsWith(NONE) ?? true;
try {
  const importers = await importersOf(copy);
  for (let nth = 0; nth < COUNT; nth++) {
    for (const changes of drawn) {
      const one = changes[nth];
      if (one === undefined) continue;
      const at = `${one.file}:${one.line}`, before = known.get(at);
      const by = before ?? await noticed(copy, one, importers);
      found.set(one, by);
      console.log(`${found.size}/${drawn.flat().length} ${at} ${by}`);
      if (survived(one)) console.log(`  ${one.was.trim()}\n  ${one.is.trim()}`);
      if (LOG !== undefined && before === undefined) {
        await Deno.writeTextFile(LOG, `${at} ${by}\n`, { append: true });
      }
    }
  }
} finally {
  await Deno.remove(copy, { recursive: true });
}
console.log();
for (const [nth, changes] of drawn.entries()) {
  const caught = changes.filter((one) => !survived(one)).length;
  console.log(
    `dice ${SEEDS[nth]}: ${caught} of ${changes.length} changed lines were noticed (${
      100 * WANTED
    } % wanted)`,
  );
  if (caught < WANTED * changes.length) Deno.exitCode = 1;
}
