/**
 * How the zone test's numbers stand against exact rays: mirrors of ten families (zoneFamilies.ts), all masks, both lamps,
 * noise, drift and a scale that is a little off; intervals that hold, said probability against truth, wrong yeses.
 */
import { CannotTell } from "../../lib/numeric/cannotTell.ts";
import { random, type RandomSource } from "../../lib/numeric/random.ts";
import type { ZoneFigure } from "../../lib/testing/zones/zoneFigure.ts";
import { reduceZones } from "../../lib/testing/zones/zones.ts";
import { type JudgedMirror, readings, type Truth, truth } from "./judge.ts";
import { zoneTest } from "./story.ts";
import { edgesOf, FAMILIES, type FamilyName, type MaskKind, mirrorWith } from "./zoneFamilies.ts";

export const GOAL = 0.25;
export const NAMES = ["P-V", "RMS", "Strehl", "conic"] as const;
export type Name = (typeof NAMES)[number];

/** What the bench does to the readings beside their noise. */
export interface Stand {
  /** standard deviation, or the one value, of the drift from a run's first reading to its last, mm */
  readonly drift: (dice: RandomSource) => number;
  readonly scale: (dice: RandomSource) => number;
  /** of one reading, mm */
  readonly noise: (dice: RandomSource) => number;
  /** mirrors with a hole through the middle are read from there outward, share of the radius */
  readonly hole: number;
}

export const ORDINARY: Stand = {
  drift: (dice) => 0.05 * dice.normal(),
  scale: (dice) => 1 + 0.003 * dice.normal(),
  noise: (dice) => 0.02 * 5 ** dice.uniform(),
  hole: 0,
};

/** One mirror, read and reduced. */
export interface Judged {
  readonly family: FamilyName;
  readonly mask: MaskKind;
  readonly zones: number;
  readonly real: Truth;
  readonly figure: ZoneFigure;
}

/** A mirror of a family with a P-V, read on a bench by dice: 80 to 400 mm, f/4 to f/12, 4 to 12 zones, 3 to 5 runs. */
export function judgeOne(
  family: FamilyName,
  pv: number,
  dice: RandomSource,
  stand = ORDINARY,
  mask?: MaskKind,
): Judged {
  const between = (a: number, b: number): number => a + (b - a) * dice.uniform();
  const kinds = ["equal areas", "equal widths", "any"] as const;
  const half = between(40, 200), radius = 4 * half * between(4, 12), zones = 4 + dice.integer(9);
  const kind = mask ?? kinds[dice.integer(3)] ?? "any";
  const source = dice.uniform() < 0.5 ? "moves" : "fixed", runs = 3 + dice.integer(3);
  const edges = edgesOf(kind, zones, half, dice);
  if (stand.hole > 0) edges[0] = Math.min(stand.hole * half, 0.6 * (edges[1] ?? 0));
  const mirror = mirrorWith(family, pv, half, radius, edges, dice);
  const rows = readOn(mirror, source, runs, dice, stand);
  const bench = {
    aperture: 2 * half,
    bevel: 0,
    radius,
    source,
    draws: 1500,
    advise: false,
  } as const;
  const figure = reduceZones(zoneTest(rows, edges, bench));
  return { family, mask: kind, zones, real: truth(mirror, 600), figure };
}

function readOn(
  mirror: JudgedMirror,
  source: "moves" | "fixed",
  runs: number,
  dice: RandomSource,
  stand: Stand,
): number[][] {
  const ideal = readings(mirror, source), last = ideal.length - 1;
  const drift = stand.drift(dice), scale = stand.scale(dice), noise = stand.noise(dice);
  return Array.from(
    { length: runs },
    () => ideal.map((v, i) => scale * v + drift * (i / last - 0.5) + noise * dice.normal()),
  );
}

/** Intervals that hold, by name. */
export function held({ figure: { interval95 }, real }: Judged): Record<Name, boolean> {
  const within = ([low, high]: readonly [number, number], value: number): boolean =>
    value >= low && value <= high;
  return {
    "P-V": within(interval95.wavefrontPv, real.pv),
    RMS: within(interval95.wavefrontRms, real.rms),
    Strehl: within(interval95.strehl, real.strehl),
    conic: within(interval95.conic, real.conic),
  };
}

/** Whether a told value lies outside its own interval. */
export function isOutsideItself({ figure }: Judged): boolean {
  const { interval95, conic, strehl, wavefrontPv, wavefrontRms } = figure;
  const pairs = [
    [conic, interval95.conic],
    [strehl, interval95.strehl],
    [wavefrontPv, interval95.wavefrontPv],
    [wavefrontRms, interval95.wavefrontRms],
  ] as const;
  return pairs.some(([{ value }, [low, high]]) => !(value >= low && value <= high));
}

export interface Counts {
  count: number;
  readonly holds: Record<Name, number>;
  outside: number;
  readonly good: { count: number; yes: number; no: number };
  readonly bad: { count: number; yes: number; no: number };
}

export const noCounts = (): Counts => ({
  count: 0,
  holds: { "P-V": 0, RMS: 0, Strehl: 0, conic: 0 },
  outside: 0,
  good: { count: 0, yes: 0, no: 0 },
  bad: { count: 0, yes: 0, no: 0 },
});

export function count(into: Counts, judged: Judged): void {
  const all = held(judged), kind = judged.real.pv <= GOAL ? into.good : into.bad;
  into.count++;
  for (const name of NAMES) if (all[name]) into.holds[name]++;
  if (isOutsideItself(judged)) into.outside++;
  kind.count++;
  if (judged.figure.verdict === "yes") kind.yes++;
  if (judged.figure.verdict === "no") kind.no++;
}

/** Mirrors of all families in turn, true P-V from `low` to `high` waves; each is handed to `see`. Returns how many were refused. */
export function throughFamilies(
  mirrors: number,
  [low, high]: readonly [number, number],
  seed: number,
  see: (judged: Judged) => void,
  stand = ORDINARY,
): number {
  const dice = random(seed);
  let refused = 0;
  for (let i = 0; i < mirrors; i++) {
    const family = FAMILIES[i % FAMILIES.length] ?? "conic";
    for (;;) {
      try {
        see(judgeOne(family, low + (high - low) * dice.uniform(), dice, stand));
        break;
      } catch (error) {
        // a ripple in a narrow opening at the middle may read decimetres off: refused, and another is drawn
        if (!(error instanceof CannotTell)) throw error;
        refused++;
      }
    }
  }
  return refused;
}

export const percent = (part: number, all: number): string =>
  all === 0 ? "-" : (100 * part / all).toFixed(1);

/** One line of the table. */
export function line(name: string, { count: all, holds, outside, good, bad }: Counts): string {
  const cells = [
    name.padEnd(13),
    String(all).padStart(6),
    ...NAMES.map((one) => percent(holds[one], all).padStart(7)),
    String(outside).padStart(8),
    `${good.yes}/${good.count}`.padStart(11),
    String(good.no).padStart(9),
    `${bad.no}/${bad.count}`.padStart(11),
    String(bad.yes).padStart(10),
  ];
  return cells.join(" ");
}

export const HEAD =
  "family        mirrors     P-V     RMS  Strehl   conic  outside   yes/good  wrong no     no/bad  wrong yes";
