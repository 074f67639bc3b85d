// deno-lint-ignore-file no-console
import { availableParallelism, cpus } from "node:os";
import { join } from "node:path";
import { tempFolder } from "../book/outputFolder.ts";
import { runScripts, runTask } from "./command.ts";

/** `deno task bench`: the heavy computations beside numpy and scipy, interleaved in one run; ratios, not seconds. */

const help = `deno task bench [NAME]

Runs tests/bench/*.bench.ts, each beside its numpy or scipy peer in the same run, and prints ratios,
all of them once more in one table at the end. Machines are noisy: a ratio of one run is worth more
than a time in seconds. Needs Debian's python3-numpy and python3-scipy; where they are missing only
our own times are printed.

  NAME     only that one, or those whose names begin so, such as zones
  --help   this text`;

/** What a computation took beside its peer's, in one run; a bench notes each in a line of the file FIRST_MIRROR_RATIOS. */
export interface Ratio {
  readonly what: string;
  readonly beside: string;
  /** our time over the peer's, by the median where there are several rounds */
  readonly ratio: number;
  /** the largest ratio wanted */
  readonly goal?: number;
}

/** A number to two digits, as short as it can be read. */
const twoDigits = (value: number): string => String(Number(value.toPrecision(2)));

/** All ratios as a table of Markdown, with the machine's name. */
function table(ratios: readonly Ratio[]): string {
  const machine = `${cpus()[0]?.model.trim() ?? "a machine"}, ${availableParallelism()} cores`;
  const rows = ratios.map(({ what, beside, ratio, goal }) => {
    const wanted = goal === undefined ? "" : twoDigits(goal);
    return `| ${what} | ${beside} | ${twoDigits(ratio)} | ${wanted} |`;
  });
  const head = ["| what | beside | ours / theirs | wanted |", "| --- | --- | --- | --- |"];
  return [`\nAll ratios of this run, on ${machine}:\n`, ...head, ...rows].join("\n");
}

async function bench(name?: string): Promise<number> {
  const folder = await tempFolder("ratios"), file = join(folder, "ratios");
  try {
    const code = await runScripts("bench", "bench", name, { FIRST_MIRROR_RATIOS: file });
    const lines = (await Deno.readTextFile(file).catch(() => "")).split("\n").filter((line) =>
      line !== ""
    );
    if (lines.length > 0) console.log(table(lines.map((line) => JSON.parse(line))));
    return code;
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

if (import.meta.main) {
  const act = ([name]: readonly string[]): Promise<number> => bench(name);
  Deno.exit(await runTask({ name: "bench", help, most: 1, many: "bench takes one name", act }));
}
