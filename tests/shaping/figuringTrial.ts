/** A mirror under test and work: measured with noise, planned, worked by the judge. Shared by the tests of figuring. */
import { random } from "../../lib/numeric/random.ts";
import {
  type FiguringPlan,
  figuringPlan,
  type TimedStroke,
} from "../../lib/shaping/figuring/figuringPlan.ts";
import { figuringStrokes } from "../../lib/shaping/figuring/figuringStrokes.ts";
import { decision } from "../../lib/record/tables.ts";
import { turning } from "../../lib/shaping/grinding/routine.ts";
import { modeShape } from "../../lib/shaping/figuring/figuringModes.ts";
import { reduceZones, type ZoneFigure } from "../../lib/testing/zones/zones.ts";
import { JudgedMirror, leftOver, readZones, workshop } from "./figuringJudge.ts";

/** Aperture and radius, mm, and what the readings are like. */
export interface Trial {
  readonly aperture: number;
  readonly radius: number;
  readonly runs: number;
  /** of one reading, mm */
  readonly scatter: number;
  /** of the hands' real rate about the one thought of; default 0.25 */
  readonly rateScatter?: number;
  readonly seed: number;
}

export const edges = [0, 10, 20, 30, 37.5, 45, 51, 57, 67, 74];
export const rim = 74;

export class FiguringTrial {
  readonly mirror: JudgedMirror;
  readonly gain: number;
  readonly #noise: () => number;

  /** `error` is the glass over the wanted paraboloid, nm. */
  constructor(readonly trial: Trial, error: (r: number) => number) {
    const source = random(trial.seed);
    this.gain = Math.exp((trial.rateScatter ?? 0.25) * source.normal());
    this.#noise = () => trial.scatter * source.normal();
    this.mirror = new JudgedMirror(
      trial.aperture,
      workshop.cells,
      (r) => error(r) * 1e-6 + this.wanted(r),
    );
  }

  /** Paraboloid over the sphere of the same middle, mm. */
  wanted(r: number): number {
    return -(r ** 4) / 8 / this.trial.radius ** 3;
  }

  now(): { rms: number; radial: (r: number) => number } {
    return leftOver(this.mirror, (r) => this.wanted(r), rim);
  }

  /** How far the rim lies off the place a tenth inside it, nm: below 0 is turned down. */
  edge(): number {
    const { radial } = this.now();
    return radial(rim) - radial(0.9 * rim);
  }

  measure(): ZoneFigure {
    const { aperture, radius, runs } = this.trial;
    const readings = readZones(this.now().radial, edges, radius, runs, this.#noise);
    const bench = { aperture, bevel: 1, radius, source: "moves", openings: "bands" } as const;
    return reduceZones({ readings, ...bench, draws: 1000 });
  }

  plan(found: ZoneFigure): FiguringPlan {
    return figuringPlan({
      strokes: figuringStrokes,
      profile: found.profile,
      covariance: found.profileCovariance,
      aperture: this.trial.aperture,
      radius: this.trial.radius,
      longest: decision("session_longest"),
      goalNm: 68.75,
      verdict: found.verdict,
    });
  }

  work(strokes: readonly TimedStroke[]): void {
    const d = this.trial.aperture;
    for (const { stroke: { face, lap, travel, offset, press }, minutes } of strokes) {
      // no longer than five minutes on one pressing
      const parts = Math.ceil(minutes / 5);
      for (let part = 0; part < parts; part++) {
        this.mirror.polish(
          {
            face,
            lap: lap * d,
            travel: travel * d,
            offset: offset * d,
            minutes: minutes / parts,
            press,
            turns: turning,
          },
          this.gain,
        );
      }
    }
  }
}

/** A seeded smooth error of so many nm rms: the coarser the shape, the more of it. */
export function someError(seed: number, rms: number): (r: number) => number {
  const source = random(1000 + seed), amounts = [1, 0.7, 0.4, 0.25].map((s) => s * source.normal());
  const size = Math.hypot(...amounts);
  return (r) =>
    amounts.reduce((sum, v, k) => sum + rms * v / size * modeShape(k + 2, (r / rim) ** 2), 0);
}

/**
 * Another kind of error, none of the planner's shapes: a fourth power and three broad bumps at chance places, the narrowest
 * about as wide as a window of the mask; scaled to so many nm rms at best focus.
 */
export function bumpyError(seed: number, rms: number): (r: number) => number {
  const source = random(2000 + seed);
  const fourth = source.normal();
  const bumps = [0, 1, 2].map(() => ({
    at: source.uniform(),
    width: 0.2 + 0.25 * source.uniform(),
    high: source.normal(),
  }));
  const raw = (r: number): number =>
    bumps.reduce(
      (sum, { at, width, high }) => sum + high * Math.exp(-(((r / rim - at) / width) ** 2)),
      2 * fourth * (r / rim) ** 4,
    );
  const count = 400,
    values = Array.from({ length: count }, (_, i) => {
      const q = (i + 0.5) / count;
      return { q: q - 0.5, h: raw(rim * Math.sqrt(q)) };
    });
  const mean = values.reduce((sum, { h }) => sum + h, 0) / count;
  const slope = values.reduce((sum, { q, h }) => sum + q * h, 0) /
    values.reduce((sum, { q }) => sum + q * q, 0);
  const size = Math.sqrt(
    values.reduce((sum, { q, h }) => sum + (h - mean - slope * q) ** 2, 0) / count,
  );
  return (r) => rms / size * (raw(r) - mean - slope * ((r / rim) ** 2 - 0.5));
}

/** COMMON PRACTICE: 0.05 mm of the outer reading is a worse edge; DERIVED: 0.05 x 70.6 / 2396^2 x 7 mm of glass, nm. */
const edgeShows = 4.3;

/** What one plan, worked whole, makes of a mirror. */
export interface Halving {
  /** rms after over rms before */
  readonly share: number;
  readonly minutes: number;
  /** halved, and the edge no worse than the course's knife shows */
  readonly both: boolean;
}

/** 150 mm f/8 with 40 nm rms of smooth error: five noisy runs, one plan, all of it worked by the judge. */
export function halving(seed: number, error = someError): Halving {
  const bench = { aperture: 150, radius: 2400, runs: 5, scatter: 0.05, seed };
  const trial = new FiguringTrial(bench, error(seed, 40));
  const before = trial.now().rms, edge = Math.abs(trial.edge());
  const { whole } = trial.plan(trial.measure());
  trial.work(whole);
  const share = trial.now().rms / before;
  return {
    share,
    minutes: whole.reduce((sum, { minutes }) => sum + minutes, 0),
    both: share <= 0.5 && Math.abs(trial.edge()) <= edge + edgeShows,
  };
}

/** Sessions until the test shows the goal, 15 at the most, and what the glass then truly is, P-V in nm. */
export function sphereToGoal(seed: number): { readonly sessions: number; readonly pv: number } {
  const radius = 1800;
  const bench = { aperture: 150, radius, runs: 5, scatter: 0.05, seed };
  const trial = new FiguringTrial(bench, (r) => r ** 4 / 8 / radius ** 3 * 1e6);
  let sessions = 0;
  for (; sessions < 15; sessions++) {
    const found = trial.measure();
    if (found.verdict === "yes") break;
    trial.work(trial.plan(found).next);
  }
  const { radial } = trial.now();
  const heights = Array.from({ length: 60 }, (_, i) => radial(i * rim / 59));
  return { sessions, pv: Math.max(...heights) - Math.min(...heights) };
}

/** Middle of some numbers. */
export function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b), half = sorted.length / 2;
  return ((sorted[Math.ceil(half) - 1] ?? NaN) + (sorted[Math.floor(half)] ?? NaN)) / 2;
}
