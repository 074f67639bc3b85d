// deno-lint-ignore-file no-console
/** Wear of 4800 strokes beside numpy in one run: brute force and once a set. CPU seconds, for machines are shared. */
import process from "node:process";
import { fittedSagitta } from "../../lib/shaping/grinding/discShape.ts";
import { chordRoutine, playRoutine } from "../../lib/shaping/grinding/routine.ts";
import { WearBench } from "../../lib/shaping/grinding/wear.ts";
import { wearSettings } from "../../lib/shaping/grinding/wearLaws.ts";
import { hasNumpy, python } from "../machine.ts";
import { noteRatio } from "./ratios.ts";

const sets = 240;
const settings = wearSettings(150);
const played = playRoutine(chordRoutine(150), sets);

/** CPU seconds of this process for one call; wall seconds where they are fewer (other threads tidy up meanwhile). */
function seconds(work: () => void): number {
  const cpu = process.cpuUsage(), wall = performance.now();
  work();
  const spent = process.cpuUsage(cpu);
  return Math.min((spent.user + spent.system) / 1e6, (performance.now() - wall) / 1e3);
}

function polar(): { upper: number; lower: number } {
  const bench = new WearBench(settings);
  for (const set of played) bench.grind(set);
  const { upper, lower } = bench.worn;
  return { upper: fittedSagitta(upper) * 1000, lower: fittedSagitta(lower) * 1000 };
}

interface Peer {
  readonly seconds: number;
  readonly strokes: number;
  readonly upper: number;
  readonly lower: number;
}

/** The peer's CPU seconds, scaled to 4800 strokes. */
function peer(...words: string[]): Peer {
  const script = new URL("peer_wear.py", import.meta.url).pathname;
  const { stdout } = new Deno.Command(python, { args: [script, "64", ...words] }).outputSync();
  const told = JSON.parse(new TextDecoder().decode(stdout)) as Peer;
  return { ...told, seconds: told.seconds * sets * 20 / told.strokes };
}

function best(runs: number, work: () => number): number {
  return Math.min(...Array.from({ length: runs }, work));
}

for (let i = 0; i < 3; i++) polar();

const ours = { polar: Infinity };
const theirs = { brute: Infinity, lump: Infinity };
for (let round = 0; round < 3; round++) {
  ours.polar = Math.min(ours.polar, best(4, () => seconds(() => void polar())));
  if (!hasNumpy) continue;
  theirs.lump = Math.min(theirs.lump, peer(`${sets}`, "lump").seconds);
  theirs.brute = Math.min(theirs.brute, peer("12").seconds);
}

const ms = (s: number): string => `${(1000 * s).toFixed(1)} ms`;
const { upper, lower } = polar();
console.log(
  `wear, 4800 strokes on 150 mm (sagittas ${upper.toFixed(1)} and ${lower.toFixed(1)} um)`,
);
console.log(`  polar engine, geometry included   ${ms(ours.polar)}`);
if (hasNumpy) {
  const what = "wear of 4,800 strokes, polar engine";
  const note = (way: string, theirs: number, goal: number): void =>
    noteRatio({ what, beside: `numpy, 64 cells, ${way}`, ratio: ours.polar / theirs, goal });
  note("stroke by stroke", theirs.brute, 1 / 150);
  note("once a set", theirs.lump, 1 / 15);
  const ratio = (s: number): string => `${(s / ours.polar).toFixed(0)} times the polar engine's`;
  console.log(
    `  numpy, 64 cells, stroke by stroke ${theirs.brute.toFixed(1)} s, ${
      ratio(theirs.brute)
    } (aim: 150)`,
  );
  console.log(
    `  numpy, 64 cells, once a set       ${theirs.lump.toFixed(2)} s, ${
      ratio(theirs.lump)
    } (aim: 15)`,
  );
} else console.log("  numpy is not here: nothing to compare with");
