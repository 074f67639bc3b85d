/** `deno task bench`: the heavy computations beside numpy and scipy, interleaved in one run; ratios, not seconds. */
import { runTask } from "./command.ts";
import { runScripts } from "./scripts.ts";

const help = `deno task bench [NAME]

Runs tests/bench/*.bench.ts, each beside its numpy or scipy peer in the same run, and prints ratios.
Machines are noisy: a ratio of one run is worth more than a time in seconds. Needs Debian's python3-numpy
and python3-scipy; where they are missing only our own times are printed.

  NAME     only the files whose name begins so, such as optics
  --help   this text`;

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "bench",
      help,
      most: 1,
      many: "bench takes one name",
      act: ([name]) => runScripts("bench", "bench", name),
    }),
  );
}
