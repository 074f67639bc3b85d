/** The ratios of a run of benches, gathered for the one table that `deno task bench` prints at its end. */
import type { Ratio } from "../../lib/commands/bench.ts";

/** Notes a ratio in the file named by FIRST_MIRROR_RATIOS; without one nothing is kept. */
export function noteRatio(ratio: Ratio): void {
  const file = Deno.env.get("FIRST_MIRROR_RATIOS");
  if (file === undefined) return;
  Deno.writeTextFileSync(file, `${JSON.stringify(ratio)}\n`, { append: true });
}
