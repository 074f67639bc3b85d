/** The next spell of figuring in words: which strokes, how long, what it should come to. */
import type { Expected } from "../shaping/figuring/figuringExpected.ts";
import type { ProfileHeight } from "../shaping/figuring/figuringModes.ts";
import {
  type FiguringPlan,
  figuringPlan,
  type FiguringSpell,
} from "../shaping/figuring/figuringPlan.ts";
import { figuringTurns, fullLapStrokes } from "../shaping/figuring/figuringStrokes.ts";
import type { Settings } from "../record/types.ts";

/** What a plan is made from: a measured profile and what was said of it. */
export interface Judged {
  readonly profile: readonly ProfileHeight[];
  /** of its heights, nm^2 */
  readonly covariance?: readonly ArrayLike<number>[];
  readonly verdict: "yes" | "no" | "not shown";
}

/**
 * The plan for a measured surface; with a full lap only, as most makers have no other.
 *
 * @param spellMin  longest spell, min
 * @throws {RangeError} as `figuringPlan`
 */
export function planFor(judged: Judged, settings: Settings, spellMin: number): FiguringPlan {
  const { aperture, goal } = settings;
  return figuringPlan({
    ...judged,
    aperture,
    goalNm: goal.surfaceWaves * goal.wavelength,
    strokes: fullLapStrokes,
    spellMinutes: spellMin,
  });
}

/**
 * Whether the last so many spells brought nothing: none came below the rms that stood before them.
 *
 * @param rms     of each day, in the order of time
 * @param spells  1 or more
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(withoutGain([20, 21, 20, 22], 3), true);
 * assert.equal(withoutGain([20, 21, 19, 22], 3), false);
 * assert.equal(withoutGain([20, 21], 3), false);
 * ```
 */
export function withoutGain(rms: readonly number[], spells: number): boolean {
  const [first = 0, ...after] = rms.slice(-spells - 1);
  return after.length === spells && after.every((one) => one >= first);
}

/** Minutes as they are said: "45 seconds", "1 minute", "2.5 minutes". */
export function minutesSaid(minutes: number): string {
  if (minutes < 1) return `${(60 * minutes).toFixed(0)} seconds`;
  return `${Number(minutes.toFixed(2))} ${minutes === 1 ? "minute" : "minutes"}`;
}

/** One stroke at the bench: "1.5 minutes with the mirror on top, 38 mm to the side, strokes 75 mm long". */
export function strokeSaid({ stroke, minutes }: FiguringSpell, aperture: number): string {
  const { face, lap, offset, travel } = stroke,
    mm = (share: number): string => `${(share * aperture).toFixed(0)} mm`;
  const top = face === "down" ? "the mirror" : lap === 1 ? "the lap" : `a lap of ${mm(lap)}`;
  const aside = offset === 0 ? "over the centre" : `${mm(offset)} to the side`;
  return `${minutesSaid(minutes)} with ${top} on top, ${aside}, strokes ${mm(travel)} long`;
}

/** How to turn both discs: "after every 8 strokes turn the upper disc by about 140° and the lower one by about 50°". */
export function turnsSaid(): string {
  const degrees = (rad: number): string => `${5 * Math.round(rad * 180 / Math.PI / 5)}°`;
  const { strokes, upper, lower } = figuringTurns;
  return `after every ${strokes} strokes turn the upper disc by about ${
    degrees(upper)
  } and the lower one by about ${degrees(lower)}`;
}

/** What to do: press, the strokes in turn, how to turn the discs, cool, measure. */
export function spellSaid({ next }: FiguringPlan, aperture: number, coolMin: number): string {
  const strokes = next.map((one) => strokeSaid(one, aperture)).join("; then ");
  const turns = turnsSaid();
  return `Press the lap, then polish ${strokes}. ${turns[0]?.toUpperCase()}${
    turns.slice(1)
  }. Let the mirror cool ${coolMin} minutes, and measure the zones again.`;
}

/** What the spell should come to, with its range where the profile's own uncertainty is known. */
export function changeSaid({ before, after, found }: FiguringPlan): string {
  const rms = (one: Expected): string => one.rms.toFixed(0);
  const unsure = found.covariance === undefined
    ? "; nobody can say how surely, for the profile came without its uncertainty"
    : "";
  const range = after.rms95 === undefined
    ? unsure
    : ` (95 %: ${after.rms95.map((end) => end.toFixed(0)).join(" to ")})`;
  const chance = after.probability === undefined
    ? ""
    : `, and the chance of the goal to ${after.probability.toFixed(2)}`;
  return `This spell should bring the RMS of the glass from ${rms(before)} to ${
    rms(after)
  } nm${range}${chance}.`;
}
