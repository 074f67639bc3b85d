/** `deno task trial`: the long trials, of which the tests run a share each time. */
import { runScripts, runTask } from "./command.ts";

const help = `deno task trial [NAME]

Runs tests/trials/*.trial.ts: hundreds of invented mirrors, logs and photographs against judges that share
no code with the library, minutes each. Each prints its figures, and ends with status 1 where a bound
that it names does not hold. The tests run a smaller share of the same every time. What takes a night
(mutation) is run by its name alone.

  NAME     only that one, or those whose names begin so, such as photographs
  --help   this text`;

/** Trials of a night, which no other run takes along. */
export const OF_A_NIGHT = ["mutation"];

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "trial",
      help,
      most: 1,
      many: "trial takes one name",
      act: ([name]) => runScripts("trials", "trial", name, {}, OF_A_NIGHT),
    }),
  );
}
