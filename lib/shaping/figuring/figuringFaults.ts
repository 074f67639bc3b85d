/** Faults of a figure by their names: what made them, and what mends them. */
import { modeShape, type ProfileHeight, profileModes } from "./figuringModes.ts";

/** Faults of figure that have a name. */
export type FaultName =
  | "turned-down edge"
  | "turned-up edge"
  | "raised ring"
  | "low ring"
  | "hole in the middle"
  | "raised middle"
  | "astigmatism";

/** Cause and remedy, as the bench knows them. */
export interface Remedy {
  /** where it comes from, in a sentence */
  readonly cause: string;
  /** what to do, in a sentence */
  readonly remedy: string;
}

/** What makes each fault and what mends it. COMMON PRACTICE */
export const remedies: Readonly<Record<FaultName, Remedy>> = {
  "turned-down edge": {
    cause:
      "A lap too soft or pressed too short, too much weight on the rim, or strokes too long with the lap on top.",
    remedy:
      "Harder pitch, a longer cold press, a third of the diameter over the centre with the mirror on top; a wide ring turned down asks for the whole surface to be brought down to it.",
  },
  "turned-up edge": {
    cause: "Mirror on top with strokes too short, or a lap smaller than the mirror.",
    remedy: "Lap on top, over the centre, half long, in short sessions.",
  },
  "raised ring": {
    cause:
      "A grid of channels that stands on the centre, or one stroke of one length for too long.",
    remedy:
      "Move the grid off the centre, blend with strokes that pass a sixth to the side, or take it down with a small lap over that ring.",
  },
  "low ring": {
    cause: "A small lap that stayed too long over one ring, or facets that rub it at every stroke.",
    remedy:
      "Leave the ring alone and bring the rest down: ordinary strokes on a freshly pressed full lap, with the length changed at every turn.",
  },
  "hole in the middle": {
    cause:
      "Overhang and length with the mirror on top for too long, or a facet right in the centre.",
    remedy:
      "A third over the centre, or the lap on top and to the side; the middle mends slowly, for all the rest must come down to it.",
  },
  "raised middle": {
    cause: "The lap does not touch in the middle, or the strokes were short.",
    remedy: "Press, then mirror on top, a quarter to the side, in short sessions.",
  },
  astigmatism: {
    cause:
      "Turns forgotten, a disc held always at one place, a mirror warmed by hands on one side, or a cell that pinches it while it is tested.",
    remedy:
      "Turn the mirror by a quarter in its stand first: if the fault stays where it was, it is the stand. If it goes round with the glass: long polishing with strict turning, never local work.",
  },
};

/** A fault found in a profile. */
export interface Fault extends Remedy {
  /** which fault */
  readonly name: FaultName;
  /** where it stands, mm from the centre */
  readonly radius: number;
  /** nm of glass against its surroundings; below 0 is low */
  readonly nm: number;
  /** standard uncertainty, nm; absent where the profile has none */
  readonly u?: number;
}

/** Smaller than this, nm, no fault is told of: it is within the goal of an eighth of a wave. COMMON PRACTICE */
const least = 10;
/** What lies beside a larger fault and the other way is its flank, as a share of the rim. */
const flank = 0.35;

/**
 * Looks for faults in a profile, the largest first.
 *
 * A place counts where it stands more than twice its uncertainty, and more than 10 nm, above or below its surroundings.
 * What tells a sphere from a paraboloid is taken out first: it is no fault; nor is the flank of a larger fault. A profile of
 * revolution says nothing about astigmatism: that takes a turn of the mirror.
 *
 * @param profile  heights over the wanted curve at best focus, from the centre to the rim, ten radii or more
 * @throws {RangeError} for fewer radii
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const profile = Array.from({ length: 75 }, (_, radius) => (
 *   { radius, surfaceError: radius > 68 ? -6 * (radius - 68) : 0, u: 4 }
 * ));
 * assert.deepEqual(faultsOf(profile).map(({ name }) => name), ["turned-down edge"]);
 * ```
 */
export function faultsOf(profile: readonly ProfileHeight[]): Fault[] {
  if (profile.length < 10) {
    throw new RangeError(`faultsOf requires ten radii or more, got ${profile.length}`);
  }
  const rim = profile.at(-1)?.radius ?? 0, smooth = withoutConic(profile, rim);
  const found = [edgeOf(smooth, rim), middleOf(smooth, rim), ...ringsOf(smooth, rim)];
  const shown = found.flatMap((fault) =>
    fault !== undefined && Math.abs(fault.nm) > Math.max(least, 2 * (fault.u ?? 0)) ? [fault] : []
  ).toSorted((a, b) => Math.abs(b.nm) - Math.abs(a.nm));
  return shown.filter((fault, i) =>
    !shown.slice(0, i).some((larger) =>
      larger.nm * fault.nm < 0 && Math.abs(larger.radius - fault.radius) < flank * rim
    )
  );
}

/** A sphere that should be a paraboloid is no fault of this kind: that shape is taken out first. */
function withoutConic(profile: readonly ProfileHeight[], rim: number): ProfileHeight[] {
  const bare = profile.map(({ radius, surfaceError }) => ({ radius, surfaceError }));
  const amount = profileModes(bare).modes[0]?.measured ?? 0;
  return profile.map((one) => ({
    ...one,
    surfaceError: one.surfaceError - amount * modeShape(2, (one.radius / rim) ** 2),
  }));
}

function at(profile: readonly ProfileHeight[], radius: number): ProfileHeight {
  return profile.reduce((near, one) =>
    Math.abs(one.radius - radius) < Math.abs(near.radius - radius) ? one : near
  );
}

function faultOf(
  name: FaultName,
  here: ProfileHeight,
  around: readonly ProfileHeight[],
): Fault {
  const level = around.reduce((sum, { surfaceError }) => sum + surfaceError, 0) / around.length;
  const us = [here, ...around].map(({ u }) => u);
  const known = us.every((u): u is number => u !== undefined);
  const spread = around.reduce((sum, { u = 0 }) => sum + u * u, 0) / around.length ** 2;
  return {
    name,
    ...remedies[name],
    radius: here.radius,
    nm: here.surfaceError - level,
    ...(known ? { u: Math.sqrt((here.u ?? 0) ** 2 + spread) } : {}),
  };
}

/** The rim against where the curve a little farther in would lead: a straight line from 0.8 to 0.9. */
function edgeOf(profile: readonly ProfileHeight[], rim: number): Fault | undefined {
  const last = at(profile, rim), near = at(profile, 0.9 * rim), far = at(profile, 0.8 * rim);
  const slope = (near.surfaceError - far.surfaceError) / (near.radius - far.radius);
  const led = near.surfaceError + slope * (last.radius - near.radius);
  const name = last.surfaceError < led ? "turned-down edge" : "turned-up edge";
  return faultOf(name, last, [{ ...near, surfaceError: led }]);
}

/** The centre against the ring a fifth out. */
function middleOf(profile: readonly ProfileHeight[], rim: number): Fault | undefined {
  const here = at(profile, 0), around = at(profile, 0.25 * rim);
  const isLow = here.surfaceError < around.surfaceError;
  return faultOf(isLow ? "hole in the middle" : "raised middle", here, [around]);
}

/** Crests and hollows between 0.25 and 0.85 of the rim, against both sides a sixth of it away. */
function ringsOf(profile: readonly ProfileHeight[], rim: number): Fault[] {
  const inside = profile.filter(({ radius }) => radius > 0.25 * rim && radius < 0.85 * rim);
  return inside.flatMap((here, i) => {
    const before = inside[i - 1]?.surfaceError, after = inside[i + 1]?.surfaceError;
    if (before === undefined || after === undefined) return [];
    const isCrest = here.surfaceError > before && here.surfaceError >= after;
    const isHollow = here.surfaceError < before && here.surfaceError <= after;
    if (!isCrest && !isHollow) return [];
    const sides = [here.radius - rim / 6, here.radius + rim / 6].map((r) => at(profile, r));
    return [faultOf(isCrest ? "raised ring" : "low ring", here, sides)];
  });
}
