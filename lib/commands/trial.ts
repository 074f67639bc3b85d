/** `deno task trial`: the long trials, of which the tests run a share each time. */
import { runScripts, runTask } from "./command.ts";

const help = `deno task trial [NAME]

Runs tests/trials/*.trial.ts: hundreds of invented mirrors, logs and photographs against judges that share
no code with the library, minutes each. Each prints its figures, and ends with status 1 where a bound
that it names does not hold. The tests run a smaller share of the same every time.

  NAME     only the files whose name begins so, such as photographs
  --help   this text`;

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "trial",
      help,
      most: 1,
      many: "trial takes one name",
      act: ([name]) => runScripts("trials", "trial", name),
    }),
  );
}
