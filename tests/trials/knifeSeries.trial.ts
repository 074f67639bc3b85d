// deno-lint-ignore-file no-console
/**
 * Series of twelve knife-edge photographs by another route (`tests/testing/knife/knifeBench.py`: the whole wave by Fourier sums in numpy,
 * three colours, air, a phone's curve): how far the map is missed, whether the doubts hold, what is refused. With `KNIFE_LOG=FILE` each
 * series is written down as it ends, and a run that was stopped goes on after the last.
 */
import { existsSync } from "node:fs";
import { cpus } from "node:os";
import { hasNumpy } from "../machine.ts";
import {
  judgedKnife,
  knifeBenches,
  type KnifeFault,
  type KnifeJudged,
} from "../testing/knife/knifeBenches.ts";

/** Dice of the last run: no choice was made by these. */
const FIRST = 70_000, COUNT = 120;

/** Bounds: RMS of what the map is missed by, nm, in the middle and at the worst; share of the 95 % intervals that hold; share refused. */
const MIDDLE = 6, WORST = 15, HELD = [0.92, 0.98] as const, MOST_REFUSED = 0.05;

/** Series with a fault in them, of each kind, and how many of them must be refused. */
const FAULTS: readonly KnifeFault[] = ["mixed", "reversed", "side", "cut", "burnt"];
const OF_EACH = 6, LEAST_FOUND = 0.9;

if (!hasNumpy) {
  console.log("python3 with numpy is not here: no knife-edge series are made");
  Deno.exit(0);
}
/** What is kept of a series. */
type Kept = Pick<KnifeJudged, "refused" | "miss" | "held" | "seconds">;

const [from = FIRST, count = COUNT] = Deno.args.map(Number), log = Deno.env.get("KNIFE_LOG");
const all: Kept[] = [], wrong: string[] = [];
const before = new Map<number, Kept>();
if (log !== undefined && existsSync(log)) {
  for (const line of Deno.readTextFileSync(log).trim().split("\n")) {
    const { seed, ...kept } = JSON.parse(line);
    before.set(seed, kept);
  }
  console.log(`goes on: ${before.size} series are in ${log}`);
}
for (let seed = from; seed < from + count; seed++) {
  const known = before.get(seed);
  if (known !== undefined) {
    all.push(known);
    continue;
  }
  for (const bench of knifeBenches(seed, 1)) {
    const judged = judgedKnife(bench), { figure, truth, miss, held } = judged;
    all.push(judged);
    if (log !== undefined) {
      const { refused, seconds } = judged;
      const line = JSON.stringify({ seed, refused, miss, held, seconds });
      Deno.writeTextFileSync(log, `${line}\n`, { append: true });
    }
    const range = ([low, high]: readonly [number, number]): string =>
      `${low.toFixed(1)} to ${high.toFixed(1)}`;
    console.log(
      figure === undefined || truth === undefined
        ? `${seed} ${judged.refused}; ${judged.seconds.toFixed(1)} s`
        : `${seed} ${bench.aperture} mm, missed by ${miss?.toFixed(1)} nm; P-V ${
          truth.pv.toFixed(0)
        } (${range(figure.interval95.surfacePv)}), RMS ${truth.rms.toFixed(1)} (${
          range(figure.interval95.surfaceRms)
        }), astigmatism ${truth.astigmatism.toFixed(1)} (${
          range(figure.astigmatism.interval95)
        }); left ${(100 * figure.misfit).toFixed(1)} %, bent ${figure.bent.toFixed(2)}; ${
          Object.values(held ?? {}).every(Boolean) ? "" : "out; "
        }${judged.seconds.toFixed(1)} s`,
    );
  }
}

const told = all.filter(({ miss }) => miss !== undefined);
const misses = told.map(({ miss = NaN }) => miss).sort((a, b) => a - b);
const middle = misses[misses.length >> 1] ?? NaN, worst = misses.at(-1) ?? NaN;
console.log(
  `\nthe map is missed by ${middle.toFixed(2)} nm RMS in the middle, ${
    worst.toFixed(1)
  } at the worst`,
);
if (!(middle < MIDDLE)) wrong.push(`the map is missed by ${middle.toFixed(2)} nm in the middle`);
if (!(worst < WORST)) wrong.push(`the map is missed by ${worst.toFixed(1)} nm at the worst`);
for (const name of ["pv", "rms", "astigmatism"] as const) {
  const share = told.filter(({ held }) => held?.[name] === true).length / told.length;
  console.log(`${name} holds in ${(100 * share).toFixed(1)} of 100`);
  if (!(share >= HELD[0] && share <= HELD[1])) {
    wrong.push(`${name} holds in ${(100 * share).toFixed(1)}`);
  }
}
const refused = all.length - told.length,
  seconds = all.map((one) => one.seconds).sort((a, b) => a - b);
console.log(
  `${all.length} series, ${refused} refused; ${
    seconds[seconds.length >> 1]?.toFixed(1)
  } s in the middle, ${seconds.at(-1)?.toFixed(1)} s at most (${cpus()[0]?.model ?? ""})`,
);
if (refused > MOST_REFUSED * all.length) wrong.push(`${refused} good series are refused`);
let found = 0;
for (const fault of FAULTS) {
  const own = Array.from({ length: OF_EACH }, (_, k) => knifeBenches(from + 1000 + k, 1, fault))
    .flat()
    .map(judgedKnife);
  const out = own.filter((one) => one.refused !== undefined).length;
  found += out;
  console.log(`${fault}: ${out} of ${OF_EACH} refused`);
  for (const one of own) {
    console.log(`  ${one.refused ?? `told, the map missed by ${one.miss?.toFixed(1)} nm`}`);
  }
}
if (found < LEAST_FOUND * OF_EACH * FAULTS.length) wrong.push(`${found} faults are found`);
for (const fault of wrong) console.log(`BEYOND: ${fault}`);
if (wrong.length > 0) Deno.exit(1);
