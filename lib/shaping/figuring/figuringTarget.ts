/** What must come off where: the glass that stands up once refocusing has taken its share. */
import { modeShape, type ProfileModes } from "./figuringModes.ts";

/** Glass to take at one place, nm. */
export interface Removal {
  /** mm from the centre */
  readonly radius: number;
  readonly nm: number;
}

/** Heights of believed shapes along the radius, nm; mean and focus are none of it. */
export function believedHeights(
  { modes }: ProfileModes,
  radii: readonly number[],
  rim: number,
): number[] {
  return radii.map((radius) =>
    modes.reduce(
      (sum, { order, believed }) => sum + believed * modeShape(order, (radius / rim) ** 2),
      0,
    )
  );
}

/**
 * What must come off, at best focus: nothing at the lowest place, elsewhere what stands above it.
 *
 * Only what is believed of the profile counts: `profileModes` says how much that is.
 *
 * @param found  from `profileModes`
 * @param rim    of what is judged, mm
 * @param count  places from the centre to the rim; default 50
 * @throws {RangeError} for a rim not above 0 or fewer than two places
 * @example sphere to paraboloid, 150 mm f/8 on the clear 148: 68 nm in the middle and at the rim, nothing at 0.7
 * ```ts
 * import assert from "node:assert/strict";
 * import { profileModes } from "./figuringModes.ts";
 * const heights = Array.from({ length: 60 }, (_, i) => i * 74 / 59).map((radius) => (
 *   { radius, surfaceError: (radius ** 4 - radius ** 2 * 74 ** 2) / (8 * 2400 ** 3) * 1e6, u: 1 }
 * ));
 * const removal = removalWanted(profileModes(heights), 74);
 * assert.ok(Math.abs((removal[0]?.nm ?? 0) - 68) < 1);
 * assert.ok(Math.abs((removal.at(-1)?.nm ?? 0) - 68) < 1);
 * ```
 */
export function removalWanted(found: ProfileModes, rim: number, count = 50): Removal[] {
  if (!(rim > 0 && rim < 10000 && Number.isInteger(count) && count >= 2)) {
    throw new RangeError(
      `removalWanted requires a rim above 0 mm and two places or more, got rim=${rim}, count=${count}`,
    );
  }
  const radii = Array.from({ length: count }, (_, i) => i * rim / (count - 1));
  const heights = believedHeights(found, radii, rim), lowest = Math.min(...heights);
  return radii.map((radius, i) => ({ radius, nm: (heights[i] ?? 0) - lowest }));
}
