// deno-lint-ignore-file no-console
/**
 * One hundred lines of the library changed, one at a time, in a copy of the kit: does a test notice?
 *
 * `deno task trial mutation` takes lines and changes by a seeded throw of dice. A change that the types refuse counts as
 * noticed only where a test that runs says so, for types are not checked here. Bound: at least 90 of 100 noticed.
 * MUTATIONS=20 makes it shorter, MUTATION_SEED=7 throws other dice. An hour or more; MUTATION_LOG=FILE, what a run that was
 * stopped had printed, goes on from there on the same tree.
 */
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { maskCode } from "../../lib/book/kernel/mask.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));
const COUNT = Number(Deno.env.get("MUTATIONS") ?? 100);
/** A change may lead to a loop without end: s for the tests of one file, and for those of a room. */
const LIMITS = { near: 120, far: 900 } as const;

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
  [/(?<![\w.$])(\d+\.\d+|[2-9]\d*|1\d+)(?![\w.])/, "(1.1 * $1)"],
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

/** The folder of tests that mirrors a file's own, or the one above where there is none. */
async function roomOf(file: string): Promise<string> {
  let room = dirname(file).replace(/^lib/, "tests");
  while (!await Deno.stat(join(root, room)).then(() => true, () => false)) room = dirname(room);
  return room;
}

/** The tests of a file, nearest first: its examples, those that import it, its room's, then what is built from it. */
async function testsFor(file: string): Promise<{ near: string[][]; far: string[][] }> {
  const room = await roomOf(file), importers = await importersOf(file);
  const rooms = ["contract", "stages", "record", "lessons", "figures"].map((name) =>
    `tests/${name}`
  );
  return {
    near: [["--doc", file], ...(importers.length > 0 ? [importers] : [])],
    far: [
      [room],
      ...rooms.filter((other) => !room.startsWith(other)).map((other) => [other]),
      ["tests/commands/check.test.ts", "tests/notebooks/cells.test.ts"],
      ...(/^lib\/(book|figures|lessons)\//.test(file) ? [["tests/browser/pages.test.ts"]] : []),
    ],
  };
}

/** Whether the tests fail, or do not end in time, on the copy as it stands. */
async function outcome(
  copy: string,
  paths: readonly string[],
  seconds: number,
): Promise<"pass" | "fail" | "late"> {
  const child = new Deno.Command(Deno.execPath(), {
    args: ["test", "-A", "--quiet", "--no-check", "--fail-fast", "--permit-no-files", ...paths],
    cwd: copy,
    // as if the copy's own task had been called, and not this one's
    env: { INIT_CWD: copy },
    stdout: "null",
    stderr: "null",
  }).spawn();
  let late = false;
  const limit = setTimeout(() => {
    late = true;
    child.kill("SIGKILL");
  }, seconds * 1000);
  const { success } = await child.status;
  clearTimeout(limit);
  return late ? "late" : success ? "pass" : "fail";
}

/** Which of its tests noticed a change; nothing where none did. */
async function noticed(copy: string, { file, line, is }: Mutation): Promise<string | undefined> {
  const path = join(copy, file);
  const text = await Deno.readTextFile(path);
  const lines = text.split("\n");
  lines[line - 1] = is;
  await Deno.writeTextFile(path, lines.join("\n"));
  try {
    const tests = await testsFor(file);
    for (const how of ["near", "far"] as const) {
      for (const paths of tests[how]) {
        const came = await outcome(copy, paths, LIMITS[how]);
        if (came !== "pass") return `${paths.join(" ")}${came === "late" ? " (never ended)" : ""}`;
      }
    }
    return undefined;
  } finally {
    await Deno.writeTextFile(path, text);
  }
}

async function copyOf(): Promise<string> {
  const copy = await Deno.makeTempDir({ prefix: "first-mirror-mutation-" });
  const parts = ["lib", "tests", "data", "notebooks", "deno.json", "deno.lock", "README.md"];
  const { success } = await new Deno.Command("cp", { args: ["-r", ...parts, copy], cwd: root })
    .output();
  if (!success) throw new Error("the kit could not be copied");
  return copy;
}

/** Rooms of tests that a change may be shown to, so that a failure is the change's and not the copy's. */
async function roomsOfTests(copy: string): Promise<string[]> {
  const rooms: string[] = [];
  for await (const { name, isDirectory } of Deno.readDir(join(copy, "lib"))) {
    if (isDirectory && name !== "commands") rooms.push(`tests/${name}`);
  }
  return [...rooms.sort(), "tests/contract", "tests/commands/check.test.ts"];
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
const chosen = draw(await candidates(), COUNT, dice(Number(Deno.env.get("MUTATION_SEED") ?? 2026)));
const known = await formerly();
const copies = [await copyOf(), await copyOf()];
for (const room of await roomsOfTests(copies[0] ?? "")) {
  const came = await outcome(copies[0] ?? "", [room], LIMITS.far);
  if (came !== "pass") throw new Error(`${room} does not hold in a copy that nothing has changed`);
}
const survivors: Mutation[] = [];
let done = 0;
try {
  const queue = [...chosen];
  await Promise.all(copies.map(async (copy) => {
    for (let one = queue.shift(); one !== undefined; one = queue.shift()) {
      const at = `${one.file}:${one.line}`, by = known.get(at) ?? await noticed(copy, one) ?? NONE;
      if (by === NONE) survivors.push(one);
      console.log(`${++done}/${chosen.length} ${at} ${by}`);
    }
  }));
} finally {
  for (const copy of copies) await Deno.remove(copy, { recursive: true });
}
for (const { file, line, was, is } of survivors) {
  console.log(`\n${file}:${line}\n  ${was.trim()}\n  ${is.trim()}`);
}
const caught = chosen.length - survivors.length;
console.log(`\n${caught} of ${chosen.length} changed lines were noticed (at least 90 % wanted)`);
if (caught < 0.9 * chosen.length) Deno.exit(1);
