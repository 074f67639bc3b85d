/** What to do next at the bench, once log and depths have been read. */
import type { Measured } from "../../quantity/measured.ts";
import type { Meeting } from "./forecast.ts";
import type { OvershootPlan } from "./overshoot.ts";

export interface Advice {
  readonly do: "measure" | "grind" | "swap" | "go to the finer grades";
  /** how long, before the next reading, min; for "grind" and "swap" */
  readonly minutes?: number;
  readonly why: string;
}

/** What the advice rests on. */
export interface Standing {
  /** mm */
  readonly sagittaNow: Measured | undefined;
  /** mm */
  readonly target: number;
  /** mm */
  readonly stopAt: number;
  readonly onTarget: boolean;
  /** whether the log has gone on to the finer grades */
  readonly isFine: boolean;
  /** um */
  readonly overshoot?: Measured;
  readonly plan?: OvershootPlan;
  readonly toTarget?: Meeting;
  readonly toStop?: Meeting;
  readonly whyNot?: string;
}

/** mm: depth and target agree within this and within two standard uncertainties. */
export const depthTolerance = 0.01;
/** Grind on for this share of the forecast, then measure. */
const forecastShare = 0.5;
/** Nearer than this the whole forecast is ground at once, min. */
const shortSpell = 5;

/**
 * The next step: measure, grind on for half of the forecast, swap for 60 % of the plan, or go to the finer grades.
 *
 * An overshoot smaller than twice its uncertainty is measured again before anything is done about it. Near the end, or
 * where the forecast is hardly surer than a third of itself, the whole of it is ground.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const sagittaNow = { value: 1.18, u: 0.006, dof: 8, unit: "mm" };
 * const overshoot = { value: 8, u: 6, dof: 8, unit: "um" };
 * const target = 1.172;
 * const next = advise({ sagittaNow, overshoot, target, stopAt: 1.168, onTarget: false, isFine: false });
 * assert.equal(next.do, "measure");
 * ```
 */
export function advise(standing: Standing): Advice {
  const { sagittaNow, stopAt, target, overshoot, plan, isFine, onTarget } = standing;
  if (!sagittaNow) return { do: "measure", why: "no depth has been measured yet" };
  const { value, u } = sagittaNow;
  const isDeepEnough = value >= stopAt - Math.min(2 * u, depthTolerance);
  if (isFine || onTarget || (isDeepEnough && !overshoot)) {
    const side = value > target ? "deeper" : "shallower";
    return {
      do: "go to the finer grades",
      why: `${um(value - target)} µm ${side} than the target`,
    };
  }
  if (overshoot && overshoot.value <= 2 * overshoot.u) {
    return { do: "measure", why: "the overshoot is smaller than twice its uncertainty" };
  }
  if (plan) {
    return { do: "swap", minutes: plan.workMinutes, why: `${um(value - target)} µm too deep` };
  }
  return onwards(standing, stopAt - value);
}

function onwards({ toStop, toTarget, whyNot }: Standing, left: number): Advice {
  const meeting = toStop ?? toTarget;
  if (!meeting) return { do: "measure", why: whyNot ?? "the rate is not known well enough" };
  const { value, u } = meeting.minutes;
  const minutes = value < 3 * u || value < shortSpell ? value : forecastShare * value;
  return { do: "grind", minutes, why: `${um(left)} µm to go` };
}

function um(mm: number): string {
  return Math.round(Math.abs(mm) * 1000).toString();
}
