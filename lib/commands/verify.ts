// deno-lint-ignore-file no-console
/** `deno task verify`: all that must hold before a change lands, in the order of how fast it fails. */
import { runTask } from "./command.ts";

const help = `deno task verify [--figures]

Format, lint, types, then every test, the notebooks' cells among them: what CI does, in the same order.
Stops at the first step that fails; the last line counts the tests.
Set FIRST_MIRROR_SKIP_NOTHING=1 to make a skipped test a failure.

  --figures   then also every bench and every trial whose figures stand in DEVELOPERS.md,
              some three hours on two cores; all are run, and those that do not hold are told
              at the end`;

type Step = readonly [name: string, ...args: string[]];

const STEPS: readonly Step[] = [
  ["format", "fmt", "--check"],
  ["lint", "lint"],
  ["types and tests", "run", "-A", "lib/commands/test.ts"],
];

const FIGURES: readonly Step[] = [
  ["benches", "run", "-A", "lib/commands/bench.ts"],
  ["trials", "run", "-A", "lib/commands/trial.ts"],
];

/** Runs a step under its heading. @returns its exit status */
async function take([name, ...args]: Step): Promise<number> {
  console.log(`\n== ${name}`);
  return (await new Deno.Command(Deno.execPath(), { args }).spawn().status).code;
}

async function verify(figures: boolean): Promise<number> {
  for (const step of STEPS) {
    const code = await take(step);
    if (code === 0) continue;
    console.log(`\nStopped: ${step[0]} does not hold.`);
    return code;
  }
  let worst = 0;
  for (const step of figures ? FIGURES : []) worst = Math.max(worst, await take(step));
  return worst;
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "verify",
      help,
      options: { figures: { type: "boolean" } },
      act: (_, { figures = false }) => verify(figures),
    }),
  );
}
