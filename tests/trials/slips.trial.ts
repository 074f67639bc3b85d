// deno-lint-ignore-file no-console
/**
 * A thousand records by dice, each with a slip of the pencil in it, beside the same record without: how many end in an order
 * that the slip made, told as if nothing were wrong. The bound is none.
 *
 * `deno task trial slips`; RECORDS=200 makes it shorter, FROM=200 begins with another record.
 */
import { type Ended, KINDS, trySlips } from "../record/slipsTrial.ts";

const RECORDS = Number(Deno.env.get("RECORDS") ?? 1000);
const FROM = Number(Deno.env.get("FROM") ?? 0);
const ENDS = ["checked", "only measured", "same order", "confident and wrong"] as const;

const wrong: Ended[] = [];
const all = await trySlips(RECORDS, (ended) => {
  if (ended.end === "confident and wrong") wrong.push(ended);
}, FROM);
console.log(`${"slip".padEnd(36)} ${ENDS.map((end) => end.padStart(20)).join("")}`);
for (const { name } of KINDS) {
  const counts = ENDS.map((end) =>
    all.filter((one) => one.kind === name && one.end === end).length
  );
  console.log(`${name.padEnd(36)} ${counts.map((n) => String(n).padStart(20)).join("")}`);
}
const sums = ENDS.map((end) => all.filter((one) => one.end === end).length);
const alarms = all.filter(({ falseAlarm }) => falseAlarm);
console.log(`${"all".padEnd(36)} ${sums.map((n) => String(n).padStart(20)).join("")}`);
console.log(
  `without the slip, to be looked at first all the same: ${alarms.length} of ${all.length}`,
);
for (const { kind, seed, sound, slipped } of [...wrong, ...alarms].slice(0, 20)) {
  console.log(`\n${kind}, seed ${seed}\n  without  ${sound}\n  with     ${slipped}`);
}
if (wrong.length > 0) Deno.exit(1);
