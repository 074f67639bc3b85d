// deno-lint-ignore-file no-console
/**
 * A hundred photographs by a second maker of pictures (`tests/testing/photoOther.ts`: other dice, light by transforms, a hand-held
 * phone): whether the intervals hold, whether a turned edge gets a yes, what is refused.
 */
import { cpus } from "node:os";
import {
  OTHER_KINDS,
  otherCase,
  type OtherFound,
  otherJudged,
} from "../testing/photoOtherCases.ts";
import { MOST_MEDIAN, otherFaults, otherLine } from "../testing/photoOtherBounds.ts";

/** Dice of the last run: no choice was made by these. */
const FIRST = 7100, COUNT = 100;

const [from = FIRST, count = COUNT] = Deno.args.map(Number);
const all: OtherFound[] = [];
for (let seed = from; seed < from + count; seed++) {
  const found = await otherJudged(otherCase(seed));
  all.push(found);
  console.log(otherLine(found));
}

const read = all.filter(({ figure }) => figure !== undefined);
const share = (some: readonly OtherFound[], of: "conic" | "pv" | "rms" | "strehl"): string =>
  `${some.filter(({ held }) => held?.[of]).length}`;
console.log(
  "\n| kind | read | K held | P-V held | RMS held | Strehl held | called good |\n|---|---|---|---|---|---|---|",
);
for (const kind of [...OTHER_KINDS, "all"] as const) {
  const own = read.filter(({ of }) => kind === "all" || of.kind === kind);
  const made = all.filter(({ of }) => kind === "all" || of.kind === kind).length;
  const yes = own.filter(({ figure }) => figure?.verdict === "yes").length;
  console.log(
    `| ${kind} | ${own.length} of ${made} | ${share(own, "conic")} | ${share(own, "pv")} | ${
      share(own, "rms")
    } | ${share(own, "strehl")} | ${yes} |`,
  );
}
const seconds = read.map((found) => found.seconds).sort((a, b) => a - b);
console.log(
  `\nprocessor: ${seconds[seconds.length >> 1]?.toFixed(2)} s by the median, ${
    seconds.at(-1)?.toFixed(2)
  } s at most (bound ${MOST_MEDIAN} s by the median; ${cpus()[0]?.model ?? ""})`,
);
const wrong = otherFaults(all);
for (const fault of wrong) console.log(`BEYOND: ${fault}`);
if (wrong.length > 0) Deno.exit(1);
