/**
 * The loop of figuring, closed: hidden mirrors, hidden hands, knife readings with noise and drift, the kit's plan, the judge's wear.
 *
 * The judge shares nothing with the planner: `figuringJudge` wears square cells through a layer that gives, on pitch that flows.
 * Hands are 0.6 to 1.6 times the usual, a tenth otherwise in each session; neither side nor length is kept to the millimetre; the
 * lap goes out of fit. The planner is told what was planned, never what was done. INVENTED throughout.
 */
import { random, type RandomSource } from "../../lib/numeric/random.ts";
import {
  type Hands,
  learnHands,
  type TestedSession,
  type TimedStroke,
} from "../../lib/shaping/figuring/figuringHands.ts";
import { profileModes } from "../../lib/shaping/figuring/figuringModes.ts";
import {
  type FiguringPlan,
  figuringPlan,
  glassOf,
} from "../../lib/shaping/figuring/figuringPlan.ts";
import { decision } from "../../lib/record/tables.ts";
import { turning } from "../../lib/shaping/grinding/routine.ts";
import { reduceZones, type ZoneFigure } from "../../lib/testing/zones/zones.ts";
import { JudgedMirror, readZones, workshop } from "./figuringJudge.ts";

export const KINDS = ["central hill", "turned edge", "rings"] as const;
const SIZES = [[150, 8], [150, 7], [200, 6], [200, 5], [250, 5], [180, 6]] as const;

/** Edges of the mask's openings as shares of the judged radius: narrow in the middle and toward the rim. */
const MASK = [0, 0.14, 0.28, 0.41, 0.52, 0.62, 0.71, 0.79, 0.86, 0.93, 1];

/** P-V of an eighth of a wave on the glass at 550 nm. */
export const GOAL = 68.75;

/** One hidden mirror with its hands. */
export interface Hidden {
  readonly aperture: number;
  readonly ratio: number;
  readonly kind: typeof KINDS[number];
  readonly hands: number;
  readonly error: (r: number) => number;
}

/** A mirror and hands by number: sizes and kinds in turn, the rest drawn. */
export function hiddenMirror(seed: number, fresh = 0): Hidden {
  const source = random(7000 + seed), other = random(9000 + seed + 1000 * fresh);
  const [aperture, ratio] = SIZES[seed % SIZES.length] ?? [150, 8];
  const kind = KINDS[seed % 7 % 3] ?? "rings";
  const hands = 0.6 * (1.6 / 0.6) ** source.uniform(), rim = aperture / 2 - 1;
  const radius = 2 * ratio * aperture;
  // a sphere stands above its paraboloid by r^4 / 8 R^3
  const sphere = (r: number): number => r ** 4 / 8 / radius ** 3 * 1e6;
  const drawn = [other.uniform(), other.uniform(), other.uniform()] as const;
  const hill = 1.2 + 0.8 * drawn[0];
  const wide = (0.05 + 0.04 * drawn[1]) * rim, deep = 60 + 60 * drawn[2];
  const ringAt = (0.35 + 0.3 * drawn[0]) * rim, ringWide = (0.14 + 0.08 * drawn[1]) * rim;
  const ring = (50 + 50 * drawn[2]) * (drawn[0] < 0.5 ? 1 : -1);
  return {
    aperture,
    ratio,
    kind,
    hands,
    error: kind === "central hill"
      ? (r) => hill * sphere(r)
      : kind === "turned edge"
      ? (r) => sphere(r) - deep * Math.max(0, (r - rim + wide) / wide) ** 2
      : (r) => 0.7 * sphere(r) + ring * Math.exp(-(((r - ringAt) / ringWide) ** 2)),
  };
}

/** Hidden truth in nm: rms and P-V of the glass at best focus, and the rim against the place a tenth inside it. */
export interface Truth {
  readonly rms: number;
  readonly pv: number;
  readonly edge: number;
}

/** One session as it was foreseen and as it truly came out. */
export interface LoopSession {
  readonly before: Truth;
  readonly after: Truth;
  readonly foreseen: readonly [low: number, middle: number, high: number];
  readonly from: number;
  readonly minutes: number;
  /** the strokes as they were planned */
  readonly plan: readonly TimedStroke[];
  readonly learned: number;
}

/** The straight line nearest to weighed values. */
function straight(
  values: readonly { readonly at: number; readonly value: number; readonly weight: number }[],
): (at: number) => number {
  let w = 0, x = 0, y = 0, xx = 0, xy = 0;
  for (const { at, value, weight } of values) {
    w += weight;
    x += weight * at;
    y += weight * value;
    xx += weight * at * at;
    xy += weight * at * value;
  }
  const slope = (w * xy - x * y) / (w * xx - x * x);
  return (at) => y / w + slope * (at - x / w);
}

export class LoopMirror {
  readonly #mirror: JudgedMirror;
  readonly #source: RandomSource;
  readonly rim: number;
  readonly radius: number;
  #readings: ReturnType<typeof readZones> = [];
  #runs = 0;
  figure: ZoneFigure | undefined;

  constructor(readonly hidden: Hidden, seed: number) {
    const { aperture, ratio, error } = hidden;
    this.radius = 2 * aperture * ratio;
    this.rim = aperture / 2 - 1;
    this.#source = random(31 + seed);
    this.#mirror = new JudgedMirror(
      aperture,
      workshop.cells,
      (r) => error(r) * 1e-6 + this.#wanted(r),
    );
  }

  #wanted(r: number): number {
    return -(r ** 4) / 8 / this.radius ** 3;
  }

  /**
   * The glass over the wanted paraboloid by distance from the centre, nm, piston and focus out: every cell against the
   * paraboloid in its own place, then the mean by rings a little wider than a cell. Focus, microns of it once a mirror has been
   * worked, goes out before the rings are made: beyond the middle of the last one nothing is known of a slope.
   */
  #left(): (r: number) => number {
    const { disc, aperture } = this.#mirror, count = 22, half = aperture / 2;
    const cells = Array.from(disc.nodes, (node, k) => {
      const r = Math.hypot(disc.x[k] ?? 0, disc.y[k] ?? 0), own = disc.own[k] ?? 0;
      const h = ((disc.height[node] ?? 0) - this.#wanted(Math.min(half, r))) * 1e6;
      return { r, q: (r / this.rim) ** 2, own, h };
    }).filter(({ own }) => own > 0);
    const bowl = straight(cells.map(({ q, h, own }) => ({ at: q, value: h, weight: own })));
    const sum = new Float64Array(count), weight = new Float64Array(count);
    for (const { r, q, own, h } of cells) {
      const across = Math.max(0, Math.min(count - 1, r / half * count - 0.5));
      const i = Math.min(count - 2, Math.floor(across)), t = across - i;
      for (const [ring, share] of [[i, 1 - t], [i + 1, t]] as const) {
        sum[ring] = (sum[ring] ?? 0) + share * own * (h - bowl(q));
        weight[ring] = (weight[ring] ?? 0) + share * own;
      }
    }
    const rings = Array.from(sum, (v, i) => v / (weight[i] ?? 1));
    const raw = (r: number): number => {
      const across = Math.max(0, Math.min(count - 1, r / half * count - 0.5));
      const i = Math.min(count - 2, Math.floor(across)), t = across - i;
      return (rings[i] ?? 0) * (1 - t) + (rings[i + 1] ?? 0) * t;
    };
    const places = Array.from({ length: 200 }, (_, i) => (i + 0.5) / 200);
    const rest = straight(
      places.map((q) => ({ at: q, value: raw(this.rim * Math.sqrt(q)), weight: 1 })),
    );
    return (r) => raw(r) - rest((r / this.rim) ** 2);
  }

  truth(): Truth {
    const radial = this.#left(), count = 120;
    const heights = Array.from(
      { length: count },
      (_, i) => radial(this.rim * Math.sqrt((i + 0.5) / count)),
    );
    const mean = heights.reduce((sum, h) => sum + h, 0) / count;
    const rms = Math.sqrt(heights.reduce((sum, h) => sum + (h - mean) ** 2, 0) / count);
    const ends = [...heights, radial(0), radial(this.rim)];
    return {
      rms,
      pv: Math.max(...ends) - Math.min(...ends),
      edge: radial(this.rim) - radial(0.9 * this.rim),
    };
  }

  /** More runs of the same glass, each with its own drift; all of them are reduced together. */
  read(runs: number): ZoneFigure {
    const { aperture, ratio } = this.hidden, count = MASK.length - 1;
    const edges = MASK.map((share) => share * this.rim);
    const radial = this.#left();
    for (let run = 0; run < runs; run++) {
      this.#runs++;
      const drift = 0.02 * this.#source.normal(), scatter = 0.05 * (ratio / 8) ** 0.5;
      let place = 0;
      const own = readZones(
        radial,
        edges,
        this.radius,
        1,
        () => scatter * this.#source.normal() + drift * (place++ / count - 0.5),
      );
      this.#readings.push(...own.map((row) => ({ ...row, run: `${this.#runs}` })));
    }
    const bench = { aperture, bevel: 1, radius: this.radius, source: "moves", openings: "bands" };
    this.figure = reduceZones({
      readings: this.#readings,
      ...bench as {
        aperture: number;
        bevel: number;
        radius: number;
        source: "moves";
        openings: "bands";
      },
      draws: 2000,
      advise: false,
    });
    return this.figure;
  }

  get runs(): number {
    return this.#runs;
  }

  /** The plan carried out by hidden hands: faster or slower, beside the line, with a lap that does not quite fit. */
  work(strokes: readonly TimedStroke[]): void {
    const d = this.hidden.aperture, normal = (): number => this.#source.normal();
    const gain = this.hidden.hands * Math.exp(0.1 * normal());
    for (const { stroke: { face, lap, travel, offset, press }, minutes } of strokes) {
      const parts = Math.ceil(minutes / 10);
      const length = travel * (1 + 0.05 * normal());
      const side = Math.max(0, offset + 0.015 * normal());
      for (let part = 0; part < parts; part++) {
        this.#mirror.polish({
          face,
          lap: lap * d,
          travel: length * d,
          offset: side * d,
          minutes: minutes / parts,
          press,
          turns: turning,
          misfitUm: 0.2 * normal(),
        }, gain);
      }
    }
    this.#readings = [];
    this.#runs = 0;
  }
}

/** Runs of one surface beyond which nobody reads on. */
const MOST_RUNS = 12;

/** What came of one mirror. */
export interface LoopEnd {
  readonly hidden: Hidden;
  readonly sessions: readonly LoopSession[];
  /** sessions until the glass truly met the goal and did at the end; Infinity where it never did */
  readonly toGoal: number;
  readonly verdict: "yes" | "no" | "not shown";
  /** why nothing more was polished, by the last plan */
  readonly why: string;
  readonly start: Truth;
  readonly end: Truth;
  /** foreseen over true gain of a session after three sessions */
  readonly gainRatio: number;
  readonly learned: Hands;
}

/**
 * Figures one mirror as the kit says, session by session.
 *
 * @param most   sessions
 * @param fresh  glass that the same hands go on with, to see what three sessions have taught; 0 for none
 */
export function loop(seed: number, most = 9, fresh = 5): LoopEnd {
  const hidden = hiddenMirror(seed), tested: TestedSession[] = [], sessions: LoopSession[] = [];
  const mirror = new LoopMirror(hidden, seed), start = mirror.truth();
  let toGoal = start.pv <= GOAL ? 0 : Infinity, verdict: LoopEnd["verdict"] = "not shown";
  let why = "";
  for (;;) {
    const step = decide(mirror, tested);
    ({ verdict, why } = step);
    if (step.plan === undefined || sessions.length === most) break;
    sessions.push(session(mirror, step.plan, tested));
    const { pv } = mirror.truth();
    if (pv > GOAL) toGoal = Infinity;
    else if (toGoal === Infinity) toGoal = sessions.length;
  }
  const end = mirror.truth();
  let gainRatio = NaN, learned = learnHands(tested);
  // the same hands on fresh glass until three sessions are learnt, and one more that is looked at
  for (let glass = 1; Number.isNaN(gainRatio) && glass <= fresh; glass++) {
    const next = new LoopMirror(hiddenMirror(seed, glass), seed + 500 * glass);
    const { plan } = decide(next, tested), isLearned = tested.length >= 3;
    if (isLearned) learned = learnHands(tested);
    if (plan === undefined) continue;
    const one = session(next, plan, tested);
    if (isLearned) gainRatio = (one.from - one.foreseen[1]) / (one.before.rms - one.after.rms);
  }
  return { hidden, sessions, toGoal, verdict, why, start, end, gainRatio, learned };
}

/** Reads until the kit says yes, or polish; no plan where the verdict stands or reading on is all that is left. */
function decide(
  mirror: LoopMirror,
  tested: readonly TestedSession[],
): { readonly verdict: LoopEnd["verdict"]; readonly why: string; readonly plan?: FiguringPlan } {
  for (let wanted = 3;;) {
    const figure = mirror.read(wanted), { verdict, probabilityWithinGoal: p } = figure;
    if (verdict === "yes") return { verdict, why: "the goal is shown" };
    const plan = figuringPlan({
      profile: figure.profile,
      covariance: figure.profileCovariance,
      rms: figure.surfaceRms.value,
      aperture: mirror.hidden.aperture,
      radius: mirror.radius,
      longest: decision("session_longest"),
      hands: learnHands(tested),
      goalNm: GOAL,
      verdict,
      probability: p,
      runs: figure.runs,
    });
    const isOpen = verdict === "not shown" && p >= 0.5;
    if (plan.do === "polish" && !(isOpen && mirror.runs < MOST_RUNS)) {
      return { verdict, why: plan.why, plan };
    }
    if (mirror.runs >= MOST_RUNS) return { verdict, why: plan.why };
    wanted = Math.min(MOST_RUNS - mirror.runs, plan.moreRuns ?? 3);
  }
}

function session(mirror: LoopMirror, plan: FiguringPlan, tested: TestedSession[]): LoopSession {
  const { aperture } = mirror.hidden, first = mirror.figure, before = mirror.truth();
  if (first === undefined) throw new Error("a session without a test");
  mirror.work(plan.next);
  const after = mirror.truth(), second = mirror.read(3);
  const [low, high] = plan.after.rms95 ?? [NaN, NaN];
  const learned = tested.length;
  tested.push({
    done: [plan.next],
    before: profileModes(first.profile, first.profileCovariance),
    after: profileModes(second.profile, second.profileCovariance),
    glass: glassOf({
      ...{ profile: first.profile, covariance: first.profileCovariance },
      ...{ aperture, radius: mirror.radius },
    }),
    rim: mirror.rim,
  });
  return {
    before,
    after,
    foreseen: [low, plan.after.rms, high],
    from: plan.before.rms,
    minutes: plan.next.reduce((sum, { minutes }) => sum + minutes, 0),
    plan: plan.next,
    learned,
  };
}
