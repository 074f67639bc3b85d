// deno-lint-ignore-file no-console
/**
 * Wear of 4800 strokes beside numpy in one run, both by the same routine: brute force and once a set. CPU seconds, for machines
 * are shared.
 */
import process from "node:process";
import { fittedSagitta } from "../../lib/shaping/grinding/discShape.ts";
import { chordRoutine, playRoutine, type Routine } from "../../lib/shaping/grinding/routine.ts";
import { WearBench } from "../../lib/shaping/grinding/wear.ts";
import { wearSettings } from "../../lib/shaping/grinding/wearLaws.ts";
import { thirds } from "../shaping/tenRoutines.ts";
import { hasNumpy, python } from "../machine.ts";
import { noteRatio } from "./ratios.ts";

const strokes = 4800, settings = wearSettings(150);

/** CPU seconds of this process for one call; wall seconds where they are fewer (other threads tidy up meanwhile). */
function seconds(work: () => void): number {
  const cpu = process.cpuUsage(), wall = performance.now();
  work();
  const spent = process.cpuUsage(cpu);
  return Math.min((spent.user + spent.system) / 1e6, (performance.now() - wall) / 1e3);
}

interface Peer {
  readonly seconds: number;
  readonly strokes: number;
}

/** The peer's CPU seconds, scaled to 4800 strokes. */
function peer(...words: string[]): number {
  const script = new URL("peer_wear.py", import.meta.url).pathname;
  const { stdout } = new Deno.Command(python, { args: [script, "64", ...words] }).outputSync();
  const told = JSON.parse(new TextDecoder().decode(stdout)) as Peer;
  return told.seconds * strokes / told.strokes;
}

const ms = (s: number): string => `${(1000 * s).toFixed(1)} ms`;

/** One routine, by the engine and by both ways of the peer, by turns. */
function compare(
  name: string,
  routine: Routine & { readonly strokes: number },
  turning: string[],
): void {
  const sets = strokes / routine.strokes, played = playRoutine(routine, sets);
  const polar = (): { upper: number; lower: number } => {
    const bench = new WearBench(settings);
    for (const set of played) bench.grind(set);
    const { upper, lower } = bench.worn;
    return { upper: fittedSagitta(upper) * 1000, lower: fittedSagitta(lower) * 1000 };
  };
  const { upper, lower } = polar();
  let ours = Infinity, brute = Infinity, lump = Infinity;
  for (let round = 0; round < 3; round++) {
    for (let run = 0; run < 4; run++) ours = Math.min(ours, seconds(() => void polar()));
    if (!hasNumpy) continue;
    lump = Math.min(lump, peer(`${sets}`, "lump", ...turning));
    brute = Math.min(brute, peer(`${240 / routine.strokes}`, ...turning));
  }
  console.log(
    `wear, ${sets} sets of ${routine.strokes} strokes, ${name}, on 150 mm (sagittas ${
      upper.toFixed(1)
    } and ${lower.toFixed(1)} um)`,
  );
  console.log(`  polar engine, geometry included   ${ms(ours)}`);
  if (!hasNumpy) {
    console.log("  numpy is not here: nothing to compare with");
    return;
  }
  const what = `wear of 4,800 strokes, ${name}`;
  for (
    const [way, theirs, times] of [["stroke by stroke", brute, 150], [
      "once a set",
      lump,
      15,
    ]] as const
  ) {
    noteRatio({ what, beside: `numpy, 64 cells, ${way}`, ratio: ours / theirs, goal: 1 / times });
    console.log(
      `  numpy, 64 cells, ${way.padEnd(16)} ${theirs.toFixed(2)} s, ${
        (theirs / ours).toFixed(0)
      } times the polar engine's (aim: ${times})`,
    );
  }
}

compare("by thirds and eighths", { ...thirds, strokes: 20 }, []);
compare("by the rule of turning", { ...chordRoutine(150), strokes: 8 }, ["rule"]);
