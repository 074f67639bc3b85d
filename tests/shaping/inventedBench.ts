/**
 * A bench that grinds minute by minute, to judge the log's forecast by: nothing here is shared with the library's model.
 *
 * Its rate starts fast, sags within every charge, drifts over the hours; its reader seats the straight-edge with an
 * error, reads leaves to 0.01 mm or coarser, and now and then takes the wrong leaf.
 */
import type {
  DepthReading,
  LogInterval,
  Position,
} from "../../lib/shaping/grinding/grindingLog.ts";
import { random } from "../../lib/numeric/random.ts";

export interface BenchTraits {
  /** um/min in the middle of the work, mirror on top */
  readonly rate: number;
  /** rate with the tool on top over that with the mirror on top */
  readonly backShare: number;
  /** change of the rate over 120 min as a share */
  readonly drift: number;
  /** um gained by the fast start */
  readonly fastStart: number;
  /** minutes in which the fast start dies down */
  readonly settling: number;
  /** standard deviation of seating the straight-edge, um */
  readonly seating: number;
  /** from go to no-go, mm */
  readonly bracket: number;
}

export class InventedBench {
  minutes = 0;
  /** true sagitta, mm */
  depth = 0;
  readonly intervals: LogInterval[] = [];
  readonly readings: DepthReading[] = [];
  readonly #draw: ReturnType<typeof random>;
  readonly traits: BenchTraits;

  constructor(seed: number, changes: Partial<BenchTraits> = {}) {
    const draw = this.#draw = random(seed);
    const between = (a: number, b: number): number => a + (b - a) * draw.uniform();
    this.traits = {
      rate: between(7.5, 10.5),
      backShare: between(0.9, 1.1),
      drift: between(-0.15, 0.05),
      fastStart: between(12, 25),
      settling: between(2, 4),
      seating: between(3, 6),
      bracket: 0.01,
      ...changes,
    };
  }

  /** True rate at a minute, mm/min; the charge is new every five minutes and sags by a sixth. */
  rate(minute: number, position: Position): number {
    const { rate, backShare, drift, fastStart, settling } = this.traits;
    const charge = 1 + 0.08 * (1 - 2 * ((minute % 5) / 5));
    const steady = rate * (1 + drift * (minute / 120 - 0.5)) * charge;
    const early = (fastStart / settling) * Math.exp(-minute / settling);
    return (position === "mirror on top" ? steady + early : -backShare * steady) / 1000;
  }

  grind(minutes: number, position: Position): void {
    const step = 0.01;
    for (let i = 0; i < Math.round(minutes / step); i++) {
      this.depth += this.rate(this.minutes + (i + 0.5) * step, position) * step;
    }
    this.minutes += minutes;
    this.intervals.push({
      minutes,
      position,
      abrasive: "F80",
      file: "grinding.csv",
      line: this.intervals.length + 2,
    });
  }

  /** Reads the depth as a bracket of leaves; `slip` is a wrong leaf, mm. */
  read(slip = 0): void {
    const { seating, bracket } = this.traits;
    const seen = this.depth + this.#draw.normal() * seating / 1000 + slip;
    this.readings.push({
      afterMin: this.minutes,
      sagitta: (Math.floor(seen / bracket) + 0.5) * bracket,
      u: bracket / Math.sqrt(12),
      file: "sagitta.csv",
      line: this.readings.length + 2,
    });
  }

  /** Minutes from now, mirror on top, until the true depth is `target`; going on as it does. */
  minutesUntil(target: number, position: Position): number {
    const step = 0.01;
    let depth = this.depth, minutes = 0;
    const rising = position === "mirror on top";
    while (rising ? depth < target : depth > target) {
      depth += this.rate(this.minutes + minutes + step / 2, position) * step;
      minutes += step;
    }
    return minutes;
  }

  /** A number between a and b. */
  between(a: number, b: number): number {
    return a + (b - a) * this.#draw.uniform();
  }
}
