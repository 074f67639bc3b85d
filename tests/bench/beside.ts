// deno-lint-ignore-file no-console
/** Runs our kernels and their numpy peers in turns, in one run, and prints how much CPU time each took. */
import process from "node:process";
import { type Peer, startPeer } from "./peer.ts";
import { noteRatio } from "./ratios.ts";

/** One computation done by both. */
export interface Race {
  readonly name: string;
  /** does the work once; the numbers all must agree on */
  readonly ours: () => readonly number[];
  /** numpy's ways of doing it: functions in the peer's file; `goal` is the largest ratio of our time to its that we want */
  readonly peers: readonly { readonly kernel: string; readonly goal?: number }[];
  /** what those functions are given to begin with */
  readonly input: unknown;
  /** how far each number may differ, absolute */
  readonly tolerance: readonly number[];
}

const ROUNDS = 13, WARM = 5, LABEL = 60;

/**
 * Runs the races of one bench; where the two gave different results the process ends with status 1.
 *
 * @param file   the peer's python file beside this one
 * @param races  one after the other; within each, ours and numpy's turn about
 */
export async function beside(file: string, races: readonly Race[]): Promise<void> {
  const peer = await startPeer(new URL(file, import.meta.url).pathname);
  if (!peer) console.log("python3 with numpy is not here: our own times alone");
  let agreed = true;
  try {
    for (const race of races) agreed = await run(race, peer) && agreed;
  } finally {
    await peer?.stop();
  }
  if (!agreed) Deno.exitCode = 1;
}

async function run(race: Race, peer: Peer | undefined): Promise<boolean> {
  const ours: number[] = [], theirs = race.peers.map((): number[] => []);
  let words: string | undefined;
  for (let round = -WARM; round < ROUNDS; round++) {
    const own = timed(race.ours);
    if (round >= 0) ours.push(own.cpu);
    for (const [i, { kernel }] of race.peers.entries()) {
      const other = await peer?.once(kernel, round === -WARM ? race.input : undefined);
      if (!other) continue;
      words ??= difference(race, own.result, other.result);
      if (round >= 0) theirs[i]?.push(other.cpu);
    }
  }
  console.log(`\n${race.name.padEnd(LABEL)}      min   median   CPU ms`);
  print("ours", lowestAndMedian(ours));
  if (!peer) return true;
  race.peers.forEach(({ kernel, goal }, i) => {
    const other = lowestAndMedian(theirs[i] ?? []);
    const ratio = compare(`numpy ${peer.version}, ${kernel}`, lowestAndMedian(ours), other, goal);
    const wanted = goal === undefined ? {} : { goal };
    noteRatio({ what: race.name, beside: `numpy, ${kernel}`, ratio, ...wanted });
  });
  console.log(
    words === undefined ? "  all give the same result" : `  the results DIFFER: ${words}`,
  );
  return words === undefined;
}

/** CPU time of the whole process: the collector's and the compiler's threads are in it. */
function timed(work: () => readonly number[]): { cpu: number; result: readonly number[] } {
  const before = process.cpuUsage(), result = work(), { user, system } = process.cpuUsage(before);
  return { cpu: (user + system) / 1000, result };
}

function difference(
  { tolerance }: Race,
  ours: readonly number[],
  theirs: readonly number[],
): string | undefined {
  const at = tolerance.findIndex((most, i) =>
    !(Math.abs((ours[i] ?? NaN) - (theirs[i] ?? NaN)) <= most)
  );
  if (at < 0 && ours.length === theirs.length) return undefined;
  return `number ${at + 1} is ${ours[at]} here, ${theirs[at]} in numpy, allowed ${tolerance[at]}`;
}

type Pair = readonly [lowest: number, median: number];

function lowestAndMedian(times: readonly number[]): Pair {
  const sorted = [...times].sort((a, b) => a - b);
  return [sorted[0] ?? NaN, sorted[sorted.length >> 1] ?? NaN];
}

/** Prints both ratios, and gives the median's. */
function compare(label: string, ours: Pair, theirs: Pair, goal?: number): number {
  print(label, theirs);
  const ratio: Pair = [ours[0] / theirs[0], ours[1] / theirs[1]];
  const met = goal !== undefined && ratio[1] <= goal ? "met" : "missed";
  print("  ratio", ratio, goal === undefined ? "" : `   goal ${goal} by the median: ${met}`);
  return ratio[1];
}

function print(label: string, [lowest, median]: Pair, more = ""): void {
  const cells = [lowest, median].map((value) => value.toFixed(2).padStart(9)).join("");
  console.log(`  ${label}`.padEnd(LABEL) + cells + more);
}
