/** Which lines of the library a file of tests runs, its sub-processes counted, and how long it takes. */
import { relative } from "node:path";

/** How a file of tests came out. */
export type Outcome = "pass" | "fail" | "late";

/** A file of tests, and what it has to do with some lines. */
export interface Seen {
  readonly test: string;
  /** s, while its lines were counted */
  readonly seconds: number;
  /** of the lines asked for, those that it runs: `lib/optics/sphere.ts:12` */
  readonly lines: ReadonlySet<string>;
}

/**
 * Runs tests on a copy of the kit, as if the copy's own task had been called.
 * @param limit s, after which they are stopped
 * @param coverage folder for the lines that run; none are counted without it
 */
export async function runTests(
  copy: string,
  paths: readonly string[],
  limit: number,
  coverage?: string,
): Promise<Outcome> {
  const counted = coverage === undefined
    ? []
    : [`--coverage=${coverage}`, "--coverage-raw-data-only"];
  const child = new Deno.Command(Deno.execPath(), {
    args: ["test", "-A", "--quiet", "--no-check", "--fail-fast", ...counted, ...paths],
    cwd: copy,
    // the commands that a test starts count into the same folder
    env: { INIT_CWD: copy, ...(coverage === undefined ? {} : { DENO_COVERAGE_DIR: coverage }) },
    stdout: "null",
    stderr: "null",
  }).spawn();
  let late = false;
  const stop = setTimeout(() => {
    late = true;
    child.kill("SIGKILL");
  }, limit * 1000);
  const { success } = await child.status;
  clearTimeout(stop);
  return late ? "late" : success ? "pass" : "fail";
}

/** The lines with a count above zero in what `deno coverage --lcov` wrote. */
function linesOf(lcov: string, copy: string, wanted: ReadonlySet<string>): Set<string> {
  const lines = new Set<string>();
  let file = "";
  for (const row of lcov.split("\n")) {
    if (row.startsWith("SF:")) file = relative(copy, row.slice(3)).replaceAll("\\", "/");
    const [, line, count] = row.match(/^DA:(\d+),(\d+)/) ?? [];
    if (line === undefined || count === "0") continue;
    if (wanted.has(`${file}:${line}`)) lines.add(`${file}:${line}`);
  }
  return lines;
}

/**
 * Runs one file of tests on a copy that nothing has changed.
 * @param limit s
 * @returns nothing where the tests do not hold there, counted or not
 */
export async function linesSeen(
  copy: string,
  test: string,
  wanted: ReadonlySet<string>,
  limit: number,
): Promise<Seen | undefined> {
  const coverage = await Deno.makeTempDir({ prefix: "first-mirror-lines-" });
  try {
    const start = performance.now();
    const counted = await runTests(copy, [test], limit, coverage);
    const seconds = (performance.now() - start) / 1000;
    // counting slows the code down, so what keeps to a time is asked again without
    if (counted !== "pass" && await runTests(copy, [test], limit) !== "pass") return undefined;
    const { stdout } = await new Deno.Command(Deno.execPath(), {
      args: ["coverage", "--quiet", "--lcov", "--include=^file:.*/lib/", coverage],
      cwd: copy,
      stderr: "null",
    }).output();
    return { test, seconds, lines: linesOf(new TextDecoder().decode(stdout), copy, wanted) };
  } finally {
    await Deno.remove(coverage, { recursive: true });
  }
}
