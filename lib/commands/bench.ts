// deno-lint-ignore-file no-console
/** `deno task bench`: the heavy computations beside numpy and scipy, interleaved in one run; ratios, not seconds. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";

const HELP = `deno task bench [-- NAME]

Runs tests/bench/*.bench.ts, each beside its numpy or scipy peer in the same run, and prints ratios.
Machines are noisy: a ratio of one run is worth more than a time in seconds. Needs Debian's python3-numpy
and python3-scipy; where they are missing only our own times are printed.

  NAME   only the files whose name begins so, e.g. optics`;

/** The bench files, in order of name; none where there is no such folder. */
async function benchFiles(prefix: string): Promise<string[]> {
  const folder = fileURLToPath(new URL("../../tests/bench", import.meta.url));
  const names: string[] = [];
  try {
    for await (const { name } of Deno.readDir(folder)) {
      if (name.endsWith(".bench.ts") && name.startsWith(prefix)) names.push(name);
    }
  } catch (error) {
    if (!(error instanceof Deno.errors.NotFound)) throw error;
  }
  return names.sort().map((name) => join(folder, name));
}

async function main(): Promise<number> {
  let parsed;
  try {
    const args = Deno.args.filter((word) => word !== "--");
    const options = { help: { type: "boolean", short: "h" } } as const;
    parsed = parseArgs({ args, options, allowPositionals: true });
  } catch (error) {
    console.error(`${(error as Error).message}\nTry: deno task bench --help`);
    return 2;
  }
  const { values, positionals } = parsed;
  if (values.help) {
    console.log(HELP);
    return 0;
  }
  const files = await benchFiles(positionals[0] ?? "");
  if (files.length === 0) {
    console.error(`No bench in tests/bench begins with "${positionals[0] ?? ""}".`);
    return 2;
  }
  for (const file of files) {
    const { code } = await new Deno.Command(Deno.execPath(), { args: ["run", "-A", file] }).spawn()
      .status;
    if (code !== 0) return code;
  }
  return 0;
}

if (import.meta.main) Deno.exit(await main());
