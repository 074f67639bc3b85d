// deno-lint-ignore-file no-console
/** `deno task test`: every test this machine can run; what it cannot is skipped by name and counted. */
import { tempFolder } from "../book/outputFolder.ts";
import { runTask } from "./command.ts";

const help = `deno task test [-- PATH ...]

Checks the types, then runs the tests: the examples in the library's own comments, then everything in tests/.
Tests that need Chromium, Jupyter or numpy are skipped by name where these are missing.
With FIRST_MIRROR_SKIP_NOTHING=1 in the environment a skipped test is a failure.`;

const rooms = (...names: string[]): string[] => names.map((name) => `tests/${name}`);

/** What keeps to a time wants the machine for itself. */
const ONE_BY_ONE = rooms(
  "book/runnerSpeed.test.ts",
  "book/runnerStress.test.ts",
  "commands/checkSpeed.test.ts",
  "figures/live/pageSpeed.test.ts",
);
/** What runs whole books, in kernels and in browsers: long, and in no hurry. */
const WHOLE_BOOKS = rooms("browser", "commands/bookBuilds.test.ts", "notebooks");

interface Count {
  passed: number;
  failed: number;
  skipped: number;
  /** The tests that failed, each with its file and line. */
  names: string[];
}

/** Whether all types hold, the examples' too; once for all rounds, which do not check again. */
async function typesHold(paths: readonly string[]): Promise<boolean> {
  const what = paths.length > 0 ? paths : ["lib", "tests"];
  const args = ["check", "--frozen", "--quiet", "--doc", ...what];
  return (await new Deno.Command(Deno.execPath(), { args }).spawn().status).success;
}

/** Runs `deno test` on some paths, passing its output on, and counts from its closing line. */
async function run(args: readonly string[], books: string): Promise<Count> {
  const child = new Deno.Command(Deno.execPath(), {
    args: ["test", "-A", "--frozen", "--quiet", "--no-check", ...args],
    env: { NO_COLOR: "1", FIRST_MIRROR_TEST_BOOKS: books },
    stdout: "piped",
    stderr: "inherit",
  }).spawn();
  let text = "";
  for await (const chunk of child.stdout.pipeThrough(new TextDecoderStream())) {
    text += chunk;
    await Deno.stdout.write(new TextEncoder().encode(chunk));
  }
  const { success } = await child.status;
  const count = (word: string): number =>
    [...text.matchAll(new RegExp(`^(?:ok|FAILED) \\|.*?(\\d+) ${word}`, "gm"))]
      .reduce((sum, match) => sum + Number(match[1]), 0);
  const names = [...text.matchAll(/^(.+ => \.\/.+:\d+:\d+)$/gm)].map((match) => match[1] ?? "");
  const result = {
    passed: count("passed"),
    failed: count("failed"),
    skipped: count("ignored"),
    names: [...new Set(names)],
  };
  if (!success && result.failed === 0) result.failed = 1;
  return result;
}

/** The rounds: what needs nothing but a core runs side by side, and first. */
function roundsOf(paths: readonly string[]): readonly (readonly string[])[] {
  if (paths.length > 0) return [["--doc", ...paths]];
  return [
    ["--doc", "--parallel", "lib"],
    ["--parallel", `--ignore=${[...ONE_BY_ONE, ...WHOLE_BOOKS].join(",")}`, "tests"],
    ONE_BY_ONE,
    ["--parallel", ...WHOLE_BOOKS],
  ];
}

async function test(paths: readonly string[]): Promise<number> {
  if (!await typesHold(paths)) {
    console.log("The types do not hold: no test was run.");
    return 1;
  }
  const books = await tempFolder("books");
  const total: Count = { passed: 0, failed: 0, skipped: 0, names: [] };
  for (const args of roundsOf(paths)) {
    const { passed, failed, skipped, names } = await run(args, books);
    total.passed += passed;
    total.failed += failed;
    total.skipped += skipped;
    total.names.push(...names);
  }
  await Deno.remove(books, { recursive: true });
  const strict = Deno.env.get("FIRST_MIRROR_SKIP_NOTHING") === "1";
  if (strict && total.skipped > 0) console.log("A test was skipped where none may be.");
  for (const name of total.names) console.log(`Failed: ${name}`);
  console.log(`${total.passed} passed, ${total.failed} failed, ${total.skipped} skipped`);
  return total.failed > 0 || total.passed === 0 || (strict && total.skipped > 0) ? 1 : 0;
}

if (import.meta.main) {
  Deno.exit(await runTask({ name: "test", help, most: Infinity, act: (paths) => test(paths) }));
}
