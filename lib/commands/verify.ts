// deno-lint-ignore-file no-console
/** `deno task verify`: all that must hold before a change lands, in the order of how fast it fails. */
import { runTask } from "./command.ts";

const help = `deno task verify

Format, lint, types, then every test, the notebooks' cells among them: what CI does, in the same order.
Stops at the first step that fails; the last line counts the tests.
Set FIRST_MIRROR_SKIP_NOTHING=1 to make a skipped test a failure.`;

const STEPS: readonly (readonly [name: string, ...args: string[]])[] = [
  ["format", "fmt", "--check"],
  ["lint", "lint"],
  ["types and tests", "run", "-A", "lib/commands/test.ts"],
];

async function verify(): Promise<number> {
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

if (import.meta.main) Deno.exit(await runTask({ name: "verify", help, act: verify }));
