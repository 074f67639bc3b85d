/** When a growing depth meets its target, and how surely: the interval by Fieller's argument. */
import { tQuantile } from "../../numeric/quantiles.ts";
import { type Measured, measured } from "../../quantity/measured.ts";
import type { Position } from "./grindingLog.ts";

/** A depth foreseen some minutes from now, mm, with its standard uncertainty. */
export type Foreseen = (minutes: number) => { readonly value: number; readonly u: number };

/** When the depth meets its target. */
export interface Meeting {
  /** minutes from now */
  readonly minutes: Measured;
  /** every moment at which the target lies inside the depth's own interval; never below 0 */
  readonly interval95: readonly [number, number];
}

/** No forecast reaches farther than this, minutes. */
const farthest = 2000;

/**
 * Finds when the depth meets the target.
 *
 * The interval holds every moment x at which the target is credible:
 *
 *     |target - depth(x)| <= t u(depth(x))
 *
 * For a straight line this is Fieller's interval. It is lopsided, and where the rate is hardly known it has no end: then
 * nothing is returned, and one measures again.
 *
 * @param depth   depth foreseen, mm, minutes from now
 * @param target  mm
 * @param dof     of the uncertainties
 * @param p       coverage, between 0 and 1
 * @returns `undefined` where the depth does not meet the target or the interval has no end within 2000 min
 * @throws {RangeError} where the target is not finite
 * @see E. C. Fieller, J. R. Statist. Soc. B 16 (1954) 175 (reckoned anew in tests/shaping/secondRoute.py)
 * @example 9 um a minute, 90 um to go
 * ```ts
 * import assert from "node:assert/strict";
 * const stop = meet((x) => ({ value: 1.08 + 0.009 * x, u: 0.002 }), 1.17, 4);
 * assert.equal(stop?.minutes.value.toFixed(2), "10.00");
 * ```
 */
export function meet(
  depth: Foreseen,
  target: number,
  dof: number,
  p = 0.95,
): Meeting | undefined {
  if (!Number.isFinite(target)) {
    throw new RangeError(`meet requires a finite target in mm, got ${target}`);
  }
  const t = tQuantile((1 + p) / 2, dof);
  const start = depth(0).value, rising = target > start ? 1 : -1;
  const short = (x: number): number => (target - depth(x).value) * rising;
  const x = start === target ? 0 : crossing(short, 0, 1);
  if (x === undefined) return undefined;
  const outside = (y: number): number => t * depth(y).u - Math.abs(target - depth(y).value);
  const low = crossing(outside, x, -1), high = crossing(outside, x, 1);
  if (low === undefined || high === undefined) return undefined;
  const slope = (depth(x + 0.01).value - depth(x - 0.01).value) / 0.02;
  const minutes = measured(x, depth(x).u / Math.abs(slope), "min", dof);
  return { minutes, interval95: [Math.max(0, low), Math.max(0, high)] };
}

/** Where f, positive at `from`, first falls to 0 in a direction. */
function crossing(
  f: (x: number) => number,
  from: number,
  direction: 1 | -1,
): number | undefined {
  let inside = from;
  for (let step = 0.02; step < farthest; step *= 1.3) {
    const next = inside + direction * step;
    if (f(next) <= 0) return bisect(f, inside, next);
    inside = next;
  }
  return undefined;
}

function bisect(f: (x: number) => number, inside: number, outside: number): number {
  let a = inside, b = outside;
  for (let i = 0; i < 100 && Math.abs(b - a) > 1e-12 * (1 + Math.abs(a)); i++) {
    const middle = (a + b) / 2;
    if (f(middle) > 0) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
}

// Too deep, and how to come back.

/** How to come back from too deep a hollow. */
export interface OvershootPlan {
  /** the position that takes depth away again */
  readonly position: Position;
  /** until the target, min */
  readonly minutes: Measured;
  /** what to grind before the next reading, min */
  readonly workMinutes: number;
}

/** Of the minutes planned after a swap, then one measures: the rate back is not yet one's own. */
const swapShare = 0.6;

/**
 * Plans the way back from an overshoot: discs swapped, 60 % of the minutes, then a reading.
 *
 *     t = o / r        u(t)^2 = (u_o / r)^2 + (o u_r / r^2)^2
 *
 * @param overshootUm  sagitta less target, um, above 0
 * @param rateUm       rate of the other position, um/min, above 0
 * @throws {RangeError} where one of them is not above 0
 * @see JCGM 100:2008, 5.1.2 (reckoned anew in tests/shaping/secondRoute.py)
 * @example 60 um too deep
 * ```ts
 * import assert from "node:assert/strict";
 * const plan = overshootPlan(
 *   { value: 60, u: 4, dof: 6, unit: "um" },
 *   { value: 8.7, u: 0.3, dof: 6, unit: "um/min" },
 * );
 * assert.equal(plan.minutes.value.toFixed(1), "6.9");
 * assert.equal(plan.position, "tool on top");
 * ```
 */
export function overshootPlan(overshootUm: Measured, rateUm: Measured): OvershootPlan {
  const o = overshootUm.value, r = rateUm.value;
  if (!(o > 0 && r > 0)) {
    throw new RangeError(
      `overshootPlan requires an overshoot and a rate above 0, got ${o} um and ${r} um/min`,
    );
  }
  const fromDepth = overshootUm.u / r, fromRate = o * rateUm.u / (r * r);
  const u = Math.hypot(fromDepth, fromRate);
  const spread = fromDepth ** 4 / overshootUm.dof + fromRate ** 4 / rateUm.dof;
  const minutes = measured(o / r, u, "min", spread > 0 ? u ** 4 / spread : Infinity);
  return { position: "tool on top", minutes, workMinutes: swapShare * minutes.value };
}

// Discs that lock: why, how hard they hold, and how to part them without a blow.

/** How two discs came to stick. */
export interface StuckDiscs {
  /** mm */
  readonly aperture: number;
  /** middle grain in use, um; undefined for a polishing lap */
  readonly grainUm?: number;
  /** whether the charge ran dry */
  readonly dry?: boolean;
  /** minutes they stood still on one another */
  readonly stillMinutes?: number;
}

/** What to do with discs that stick together. */
export interface StuckAdvice {
  /** what holds them, the likeliest first */
  readonly causes: readonly string[];
  /** force that the air holds them with where no air gets in between, N: an upper limit */
  readonly airForce: number;
  /** one after another, the gentlest first */
  readonly steps: readonly string[];
  /** what breaks glass, a sentence each */
  readonly never: readonly string[];
  /** how to keep it from happening again */
  readonly nextTime: string;
}

/** Pressure of the air at sea level, N/mm2. */
const air = 0.101325;
/** Below this grain no air finds its way in between, um. COMMON PRACTICE */
const closeFitUm = 15;

/**
 * Why discs are stuck and what to do.
 *
 * @throws {RangeError} where a size is not above 0 or minutes are below 0
 * @see COMMON PRACTICE
 * @example the air alone can hold 150 mm discs with the weight of two people
 * ```ts
 * import assert from "node:assert/strict";
 * const { airForce, never } = whyStuck({ aperture: 150, grainUm: 12.8, dry: true });
 * assert.equal(airForce.toFixed(0), "1791");
 * assert.match(never.join(" "), /blow/);
 * ```
 */
export function whyStuck(discs: StuckDiscs): StuckAdvice {
  const { aperture, grainUm, dry = false, stillMinutes = 0 } = discs;
  if (!(aperture > 0 && aperture < 10000 && (grainUm ?? 1) > 0 && stillMinutes >= 0)) {
    throw new RangeError(
      `whyStuck requires aperture and grain above 0 and minutes of 0 or more, got aperture=${aperture}, grainUm=${grainUm}, stillMinutes=${stillMinutes}`,
    );
  }
  const onLap = grainUm === undefined;
  const causes = [
    ...(dry ? ["the charge ran dry: mud and glass are glued by the last water"] : []),
    ...(onLap ? ["the pitch has flowed to the glass while it stood still"] : []),
    ...(stillMinutes > 1 && !onLap ? ["they stood still, and the water crept out"] : []),
    ...(!onLap && grainUm < closeFitUm
      ? [
        "the discs fit so closely that no air gets in between: the air outside presses them together",
      ]
      : []),
    ...(!onLap && grainUm >= closeFitUm && !dry
      ? ["a chord that is too short has made both spherical alike, with too little grain between"]
      : []),
  ];
  return {
    causes,
    airForce: air * Math.PI * (aperture / 2) ** 2,
    steps: [
      "Leave them in lukewarm water for an hour, so that water creeps in; no warmer than the hand likes.",
      "Slide one off sideways, slowly, on a soft cloth, both thumbs on the rim of the upper disc.",
      onLap
        ? "Cool both together in the refrigerator: cold pitch lets go of glass by itself."
        : "Cool both together for some hours: the one that shrinks first lets go.",
      "Wait. A night costs nothing.",
    ],
    never: [
      "no blow, and no wood or metal against the edge: it chips, or cracks across",
      "no blade in the gap",
      "no flame, no hot water on cold glass: it cracks",
    ],
    nextTime: onLap
      ? "Never leave the mirror on the lap: lift it off at every pause."
      : "Add water before it drags, keep the stroke a third of the diameter, and lift the mirror off at every pause.",
  };
}
