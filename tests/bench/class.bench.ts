// deno-lint-ignore-file no-console
/** The demo class of twelve: one `check` of the folder beside a `check` of each record, by the clock, as a person runs them. */
import { join } from "node:path";
import { recordsFolder } from "../../lib/knowledge/open.ts";
import { run } from "../commands/run.ts";
import { seconds } from "./clock.ts";
import { noteRatio } from "./ratios.ts";

const folder = join(recordsFolder, "class-kestrel-lane");
const records = (await Array.fromAsync(Deno.readDir(folder)))
  .filter(({ isDirectory }) => isDirectory).map(({ name }) => join(folder, name)).sort();

const check = (paths: readonly string[]): Promise<number> =>
  seconds(async () => {
    for (const path of paths) await run("check", [path]);
  });

const rounds: { whole: number; each: number }[] = [];
for (let round = -1; round < 3; round++) {
  const times = { whole: await check([folder]), each: await check(records) };
  if (round >= 0) rounds.push(times);
}
const middle = (times: readonly number[]): number => times.toSorted((a, b) => a - b)[1] ?? NaN;
const whole = middle(rounds.map(({ whole }) => whole));
const each = middle(rounds.map(({ each }) => each)), ratio = whole / each;
noteRatio({
  what: `a class of ${records.length}, read at once`,
  beside: "one `check` a record",
  ratio,
});
console.log(
  `a class of ${records.length}: ${whole.toFixed(2)} s at once, ${
    each.toFixed(2)
  } s one by one, ratio ${ratio.toFixed(2)}`,
);
