// deno-lint-ignore-file no-console
/** `deno task verify`: all that must hold before a change lands, in the order of how fast it fails. */
import { parseArgs } from "node:util";

const HELP = `deno task verify

Format, lint, types, the notebooks' cells, then every test: what CI does, in the same order.
Stops at the first step that fails; the last line counts the tests.
Set FIRST_MIRROR_SKIP_NOTHING=1 to make a skipped test a failure.`;

const STEPS: readonly (readonly [name: string, ...args: string[]])[] = [
  ["format", "fmt", "--check"],
  ["lint", "lint"],
  ["types", "check", "lib", "tests"],
  ["cells", "run", "-A", "lib/commands/cells.ts"],
  ["tests", "run", "-A", "lib/commands/test.ts"],
];

async function main(): Promise<number> {
  try {
    const options = { help: { type: "boolean", short: "h" } } as const;
    const { values } = parseArgs({ args: Deno.args, options });
    if (values.help) {
      console.log(HELP);
      return 0;
    }
  } catch (error) {
    console.error(`${(error as Error).message}\nTry: deno task verify --help`);
    return 2;
  }
  for (const [name, ...args] of STEPS) {
    console.log(`\n== ${name}`);
    const { code } = await new Deno.Command(Deno.execPath(), { args }).spawn().status;
    if (code !== 0) {
      console.log(`\nStopped: ${name} does not hold.`);
      return code;
    }
  }
  return 0;
}

if (import.meta.main) Deno.exit(await main());
