/** What a spell really did: the rate of polishing learned from the profile before and after it. */
import { type Measured, measured } from "../../quantity/measured.ts";
import { type ProfileHeight, profileModes } from "./figuringModes.ts";
import { type FiguringSpell, takenBy } from "./figuringPlan.ts";

/** A profile of one day with how its errors hang together. */
export interface DayProfile {
  readonly profile: readonly ProfileHeight[];
  readonly covariance?: readonly ArrayLike<number>[];
}

/**
 * Rate of ordinary polishing at the centre that explains what changed between two days.
 *
 * The change, shape by shape, is laid against what the footprints take at the rate thought of, each weighed by both days'
 * uncertainty: weighted least squares through nothing.
 *
 * @param before         day before the spells
 * @param after          day after them
 * @param spells         what was done between
 * @param aperture       of the disc, mm
 * @param rateUmPerHour  thought of, default 1.3
 * @returns um/h; its u says whether the spells were long enough to tell
 * @throws {RangeError} where a profile has no uncertainty, or the spells change no shape
 * @example a spell that did twice what it should
 * ```ts
 * import assert from "node:assert/strict";
 * import { takenBy } from "./figuringPlan.ts";
 * import { figuringStroke } from "./figuringStrokes.ts";
 * const spells = [{ stroke: figuringStroke("down", 1, 1 / 2, 1 / 4), minutes: 3 }];
 * const radii = Array.from({ length: 60 }, (_, i) => i * 74 / 59);
 * const taken = takenBy(spells, radii, 150);
 * const day = (times: number) => ({
 *   profile: taken.map(({ radius, nm }) => ({ radius, surfaceError: -times * nm, u: 2 })),
 * });
 * assert.equal(rateFromSpells(day(0), day(2), spells, 150).value.toFixed(1), "2.6");
 * ```
 */
export function rateFromSpells(
  before: DayProfile,
  after: DayProfile,
  spells: readonly FiguringSpell[],
  aperture: number,
  rateUmPerHour = 1.3,
): Measured {
  const [first, last] = [before, after].map((day) => profileModes(day.profile, day.covariance));
  const radii = after.profile.map(({ radius }) => radius);
  const taken = profileModes(
    takenBy(spells, radii, aperture, rateUmPerHour).map(({ radius, nm }) => (
      { radius, surfaceError: nm }
    )),
  );
  let along = 0, weight = 0;
  for (const { order, measured: was, u: wasU } of first?.modes ?? []) {
    const now = last?.modes.find((mode) => mode.order === order);
    if (now?.u === undefined || wasU === undefined) {
      throw new RangeError("rateFromSpells requires profiles with their uncertainty");
    }
    const planned = taken.modes.find((mode) => mode.order === order)?.measured ?? 0;
    const variance = Math.max(now.u ** 2 + wasU ** 2, 1e-12);
    along += planned * (was - now.measured) / variance;
    weight += planned * planned / variance;
  }
  if (!(weight > 0)) {
    throw new RangeError("rateFromSpells requires spells that change the shape, got none");
  }
  const rate = rateUmPerHour * along / weight;
  return measured(rate, rateUmPerHour / Math.sqrt(weight), "um/h");
}
