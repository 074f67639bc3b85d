// deno-lint-ignore-file no-console
/** `deno task verify`: all that must hold, in the order of how fast it fails, and every figure that tests/evidence tells. */
import { runTask } from "./command.ts";

const help = `deno task verify [--quick]

Format, lint, types, then every test, the notebooks' cells among them; stops at the first of these that
fails. Then every bench and every trial whose figures stand in tests/evidence: two hours on two cores. All
of them are run, and those that do not hold are told at the end.
Set FIRST_MIRROR_SKIP_NOTHING=1 to make a skipped test a failure.

  --quick   no bench and no trial: what CI does before a change lands; the last line counts the tests
  --help    this text`;

type Step = readonly [name: string, ...args: string[]];

const STEPS: readonly Step[] = [
  ["format", "fmt", "--check"],
  ["lint", "lint"],
  ["types and tests", "task", "--quiet", "test"],
];

const FIGURES: readonly Step[] = [
  ["benches", "task", "--quiet", "bench"],
  ["trials", "task", "--quiet", "trial"],
];

/** Runs a step under its heading. @returns its exit status */
async function take([name, ...args]: Step): Promise<number> {
  console.log(`\n== ${name}`);
  return (await new Deno.Command(Deno.execPath(), { args }).spawn().status).code;
}

async function verify(quick: boolean): Promise<number> {
  for (const step of STEPS) {
    const code = await take(step);
    if (code === 0) continue;
    console.log(`\nStopped: ${step[0]} does not hold.`);
    return code;
  }
  let worst = 0;
  for (const step of quick ? [] : FIGURES) worst = Math.max(worst, await take(step));
  return worst;
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "verify",
      help,
      options: { quick: { type: "boolean" } },
      act: (_, { quick = false }) => verify(quick),
    }),
  );
}
