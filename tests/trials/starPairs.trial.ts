// deno-lint-ignore-file no-console
/**
 * Star pairs by another route (`tests/testing/star/starBench.py`: direct sums in numpy, air as moving screens, five colours, a phone's
 * curve), at 2 arcsec of air on 150 mm: how far each fault is missed, whether the doubts hold, what is refused.
 */
import { cpus } from "node:os";
import { hasNumpy } from "../machine.ts";
import { starFaults } from "../../lib/testing/star/starFaults.ts";
import {
  judgedBench,
  namedRightly,
  starBenches,
  type StarJudged,
} from "../testing/star/starBenches.ts";

/** Dice of the last run: no choice was made by these. */
const FIRST = 60_000, COUNT = 120, SEEING = 2;

/** Bounds: RMS of what spherical and astigmatism are missed by, waves; share of the 95 % intervals that hold; share refused. */
const MOST_MISS = 0.03, LEAST_HELD = 0.92, MOST_REFUSED = 0.05;

/** Share of the pairs of which no fault is named that is not there, and none ruled out that is. */
const LEAST_NAMED = 0.9;

if (!hasNumpy) {
  console.log("python3 with numpy is not here: no star pairs are made");
  Deno.exit(0);
}
const [from = FIRST, count = COUNT] = Deno.args.map(Number);
const all: StarJudged[] = [];
for (let first = from; first < from + count; first += 10) {
  const few = Math.min(10, from + count - first);
  for (const bench of starBenches(first, few, SEEING)) {
    const judged = judgedBench(bench);
    all.push(judged);
    console.log(
      `${bench.seed} ${
        judged.refused ??
          judged.misses.map(({ name, miss, u }) => `${name} ${miss.toFixed(3)}/${u.toFixed(3)}`)
            .join(", ")
      }; ${judged.seconds.toFixed(1)} s`,
    );
  }
}

const wrong: string[] = [];
console.log("\n| fault | RMS of the miss, waves | 95 of 100 within | largest | held at 95 % |");
console.log("|---|---|---|---|---|");
for (const name of ["spherical", "astigmatism", "coma", "threefold"]) {
  const own = all.flatMap(({ misses }) => misses.filter((one) => one.name === name));
  const rms = Math.sqrt(own.reduce((sum, { miss }) => sum + miss * miss, 0) / own.length);
  const sorted = own.map(({ miss }) => Math.abs(miss)).sort((a, b) => a - b);
  const held = own.filter(({ miss, u }) => Math.abs(miss) < 1.96 * u).length / own.length;
  console.log(
    `| ${name} | ${rms.toFixed(4)} | ${sorted[Math.floor(0.95 * sorted.length)]?.toFixed(4)} | ${
      sorted.at(-1)?.toFixed(4)
    } | ${(100 * held).toFixed(1)} |`,
  );
  if (!(rms < MOST_MISS)) wrong.push(`${name} is missed by ${rms.toFixed(4)} waves`);
  if (!(held >= LEAST_HELD)) wrong.push(`${name} holds in ${(100 * held).toFixed(1)} of 100`);
}
const told = all.flatMap(({ bench, figure }) => figure === undefined ? [] : [{ bench, figure }]);
const named = told.filter(({ bench, figure }) => namedRightly(bench, figure)).length;
const says = told.flatMap(({ figure }) => starFaults(figure).map((one) => one.says));
const ofThem = (wanted: string): number => says.filter((one) => one === wanted).length;
console.log(
  `\nfaults named rightly in ${named} of ${told.length} pairs: ${ofThem("there")} there, ${
    ofThem("not there")
  } not there, ${ofThem("cannot tell")} cannot tell`,
);
if (named < LEAST_NAMED * told.length) wrong.push(`faults are named rightly in ${named} only`);
const refused = all.filter((one) => one.refused !== undefined).length;
const seconds = all.map((one) => one.seconds).sort((a, b) => a - b);
console.log(
  `\n${all.length} pairs, ${refused} refused; ${
    seconds[seconds.length >> 1]?.toFixed(2)
  } s by the median, ${seconds.at(-1)?.toFixed(2)} s at most (${cpus()[0]?.model ?? ""})`,
);
if (refused > MOST_REFUSED * all.length) wrong.push(`${refused} good pairs are refused`);
for (const fault of wrong) console.log(`BEYOND: ${fault}`);
if (wrong.length > 0) Deno.exit(1);
