// deno-lint-ignore-file no-console -- the shares are the result; a pass alone would hide them
/**
 * How often the zone test's stated intervals hold: mirrors whose truth is known from an exact path, knife noise of 0.05 mm,
 * five runs. Judge and mirrors are in judge.ts and share no formula with what they judge.
 */
import { random } from "../../lib/numeric/random.ts";
import type { ZoneFigure } from "../../lib/testing/zoneFigure.ts";
import { reduceZones } from "../../lib/testing/zones.ts";
import {
  FAMILIES,
  type JudgedMirror,
  randomMirror,
  readings,
  referenceMirrors,
  type Truth,
  truth,
} from "./judge.ts";
import { zoneTest } from "./story.ts";

const NOISE = 0.05;
export const NAMES = ["P-V", "RMS", "Strehl", "conic"] as const;
export type Name = (typeof NAMES)[number];

/** Draws whose interval was wholly above the truth, and wholly below it. */
export interface Tally {
  readonly above: Record<Name, number>;
  readonly below: Record<Name, number>;
  count: number;
}

const none = (): Record<Name, number> => ({ "P-V": 0, RMS: 0, Strehl: 0, conic: 0 });
export const newTally = (): Tally => ({ above: none(), below: none(), count: 0 });

/** Intervals that held the truth, of 100. */
export function share({ above, below, count }: Tally, name: Name): number {
  return 100 - (100 * (above[name] + below[name])) / count;
}

/** Shares, and in brackets the misses to both sides: "P-V 95.2 (3.1 + 1.7)". */
export function inWords(tally: Tally): string {
  const percent = (n: number): string => ((100 * n) / tally.count).toFixed(1);
  return NAMES.map((name) =>
    `${name} ${share(tally, name).toFixed(1)} (${percent(tally.above[name])} + ${
      percent(tally.below[name])
    })`
  ).join("  ");
}

/** Reads a mirror five times with noise, and reduces it. */
function readNoisily(
  mirror: JudgedMirror,
  ideal: readonly number[],
  dice: ReturnType<typeof random>,
): ZoneFigure {
  const runs = Array.from({ length: 5 }, () => ideal.map((v) => v + NOISE * dice.normal()));
  const { edges, half, radius } = mirror;
  return reduceZones(
    zoneTest(runs, [...edges], { aperture: 2 * half, bevel: 0, radius, draws: 1500 }),
  );
}

function take(tally: Tally, { interval95 }: ZoneFigure, real: Truth): void {
  const parts = [
    ["P-V", interval95.wavefrontPv, real.pv],
    ["RMS", interval95.wavefrontRms, real.rms],
    ["Strehl", interval95.strehl, real.strehl],
    ["conic", interval95.conic, real.conic],
  ] as const;
  for (const [name, [low, high], value] of parts) {
    if (value < low) tally.above[name]++;
    if (value > high) tally.below[name]++;
  }
  tally.count++;
}

/** The three reference mirrors, `draws` times each; one tally for each mirror. */
export function referenceTallies(draws: number, seed: number): Tally[] {
  const dice = random(seed);
  return referenceMirrors().map((mirror, i) => {
    const ideal = readings(mirror), real = truth(mirror), tally = newTally();
    for (let n = 0; n < draws; n++) take(tally, readNoisily(mirror, ideal, dice), real);
    console.log(`mirror ${i + 1}, ${draws} draws: ${inWords(tally)}`);
    return tally;
  });
}

/** Many mirrors of four families, each read once. */
export interface ManyMirrors {
  readonly all: Tally;
  /** those whose true P-V misses a goal of a quarter wave by a fifth or more, and how many of them were called good */
  readonly bad: { count: number; yes: number };
  /** those inside half of it */
  readonly good: { count: number; yes: number };
}

export function manyMirrors(count: number, seed: number): ManyMirrors {
  const dice = random(seed), all = newTally();
  const families = new Map(FAMILIES.map((family) => [family as string, newTally()]));
  const bad = { count: 0, yes: 0 }, good = { count: 0, yes: 0 };
  for (let i = 0; i < count; i++) {
    const family = FAMILIES[i % FAMILIES.length] ?? "conic", mirror = randomMirror(family, dice);
    const real = truth(mirror, 600), figure = readNoisily(mirror, readings(mirror), dice);
    take(all, figure, real);
    take(families.get(family) ?? all, figure, real);
    const kind = real.pv >= 0.25 * 1.2 ? bad : real.pv <= 0.125 ? good : undefined;
    if (kind) kind.count++;
    if (kind && figure.verdict === "yes") kind.yes++;
  }
  families.forEach((tally, family) => console.log(`${family.padEnd(13)} ${inWords(tally)}`));
  console.log(`${`${count} mirrors`.padEnd(13)} ${inWords(all)}`);
  console.log(
    `${bad.count} miss the goal by a fifth, ${bad.yes} of them called yes; ` +
      `${good.count} inside half of it, ${good.yes} called yes`,
  );
  return { all, bad, good };
}
