/** A mirror under test and work: measured with noise, planned, worked by the judge. Shared by the tests of figuring. */
import { random } from "../../lib/numeric/random.ts";
import {
  type FiguringPlan,
  figuringPlan,
  type FiguringSpell,
} from "../../lib/shaping/figuringPlan.ts";
import { modeShape } from "../../lib/shaping/figuringModes.ts";
import { reduceZones, type ZoneFigure } from "../../lib/testing/zones.ts";
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

export const edges = [0, 30, 45, 57, 67, 74];
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
      profile: found.profile,
      covariance: found.profileCovariance,
      aperture: this.trial.aperture,
      goalNm: 68.75,
      verdict: found.verdict,
    });
  }

  work(spells: readonly FiguringSpell[]): void {
    const d = this.trial.aperture;
    for (const { stroke: { face, lap, travel, offset, press }, minutes } of spells) {
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
