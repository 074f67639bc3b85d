/** A plan of figuring: which strokes, how many minutes, in spells, with what they should come to. */
import {
  chooseStrokes,
  columnOf,
  type FiguringSpell,
  type Grid,
  placesOf,
  shapeDoubt,
  shortest,
  withEdge,
  withoutFocus,
} from "./figuringChoice.ts";
import { type Expected, expectedAfter } from "./figuringExpected.ts";
import { footprintAt, strokeFootprint } from "./figuringFootprint.ts";
import { modeShape, type ProfileHeight, type ProfileModes, profileModes } from "./figuringModes.ts";
import { type FiguringStroke, figuringStrokes } from "./figuringStrokes.ts";

/** What is asked of a plan. */
export interface FiguringTask {
  /** measured profile of the glass, from the centre to the rim of what is judged */
  readonly profile: readonly ProfileHeight[];
  /** of its heights, nm^2 */
  readonly covariance?: readonly ArrayLike<number>[];
  /** of the disc, mm */
  readonly aperture: number;
  /** of ordinary polishing at the centre, um/h; default 1.3 */
  readonly rateUmPerHour?: number;
  /** standard uncertainty of that rate as a share; default 0.3 until a spell has shown it */
  readonly rateDoubt?: number;
  /** wanted P-V of the glass, nm */
  readonly goalNm?: number;
  /** what the last test said; "yes" ends it */
  readonly verdict?: "yes" | "no" | "not shown";
  /** to choose from; default all */
  readonly strokes?: readonly FiguringStroke[];
  /** longest spell, min; default 5 */
  readonly spellMinutes?: number;
  /** of the plan, before the first test; default a half */
  readonly firstShare?: number;
  /** of the draws for the range */
  readonly seed?: number;
}

export type { FiguringSpell } from "./figuringChoice.ts";

/** What to do and what it should come to. */
export interface FiguringPlan {
  /** what comes next */
  readonly do: "stop" | "measure more" | "polish";
  /** in a sentence */
  readonly why: string;
  /** the profile in smooth shapes */
  readonly found: ProfileModes;
  /** what must come off */
  readonly removal: readonly Removal[];
  /** all of it, as far as it can be seen today; nothing once the goal is shown */
  readonly whole: readonly FiguringSpell[];
  /** to do now: then press, cool, and test */
  readonly next: readonly FiguringSpell[];
  /** glass that the next spell takes, nm */
  readonly planned: readonly Removal[];
  /** the surface as it is believed to be now */
  readonly before: Expected;
  /** after the next spell */
  readonly after: Expected;
}

const usualRate = 1.3;
const usualDoubt = 0.3;

/**
 * Plans figuring from a measured profile.
 *
 * Footprints of the strokes, piston and focus taken out, are fitted to what is believed of the profile by least squares with
 * minutes of 0 or more: one stroke to five, each further one only if worth it. Doubt of the rate and of the footprints makes it
 * take less, and spares long work. Turn as `figuringTurns` says.
 * The first spell is half of it and no longer than five minutes: then press the lap, let the mirror cool half an hour, test.
 *
 * @throws {RangeError} outside `profileModes`, or for a rate, doubt, share or spell out of range
 * @see least squares with non-negative unknowns: Lawson and Hanson (from memory); here by coordinate descent
 * @example a sphere that should be a paraboloid is worked most in the middle
 * ```ts
 * import assert from "node:assert/strict";
 * import { modeShape } from "./figuringModes.ts";
 * const profile = Array.from({ length: 60 }, (_, i) => i * 74 / 59).map((radius) => (
 *   { radius, surfaceError: 30 * modeShape(2, (radius / 74) ** 2), u: 4 }
 * ));
 * const plan = figuringPlan({ profile, aperture: 150 });
 * assert.equal(plan.do, "polish");
 * const [middle, , rim] = takenBy(plan.whole, [0, 52, 74], 150).map(({ nm }) => nm);
 * assert.ok((middle ?? 0) > (rim ?? 0));
 * assert.ok(plan.after.rms < plan.before.rms);
 * ```
 */
export function figuringPlan(task: FiguringTask): FiguringPlan {
  requireTask(task);
  const { profile, covariance, aperture, rateUmPerHour = usualRate } = task;
  const found = profileModes(profile, covariance), rim = profile.at(-1)?.radius ?? aperture / 2;
  const grid = placesOf(rim);
  const wanted = withEdge(believedHeights(found, grid.radii, rim), grid.q);
  const columns = (task.strokes ?? figuringStrokes).map((stroke) =>
    columnOf(stroke, grid, aperture, rateUmPerHour)
  );
  const whole = task.verdict === "yes"
    ? []
    : chooseStrokes(columns, wanted, task.rateDoubt ?? usualDoubt);
  const next = nextSpell(whole, task);
  const course = { found, rim, grid, task };
  const before = expect(course, []), after = expect(course, next);
  return {
    ...decideOn(task, found, next),
    found,
    removal: removalWanted(found, rim),
    whole,
    next,
    planned: takenBy(next, grid.radii, aperture, rateUmPerHour),
    before,
    after,
  };
}

function mean(taken: readonly Removal[]): number {
  return taken.reduce((sum, { nm }) => sum + nm, 0) / taken.length;
}

/** A share of the whole, no longer than a spell may be; to a quarter of a minute. */
function nextSpell(whole: readonly FiguringSpell[], task: FiguringTask): FiguringSpell[] {
  const { spellMinutes = 5, firstShare = 0.5 } = task;
  const all = whole.reduce((sum, { minutes }) => sum + minutes, 0);
  const share = Math.min(firstShare, spellMinutes / Math.max(all, 1e-9));
  return whole.map(({ stroke, minutes }) => (
    { stroke, minutes: Math.round(minutes * share / shortest) * shortest }
  )).filter(({ minutes }) => minutes >= shortest);
}

/**
 * Glass that spells take, nm, by the footprints of a fresh lap.
 *
 * @param radii  mm from the centre
 */
export function takenBy(
  spells: readonly FiguringSpell[],
  radii: readonly number[],
  aperture: number,
  rateUmPerHour: number = usualRate,
): Removal[] {
  const all = spells.map(({ stroke, minutes }) => (
    { minutes, footprint: strokeFootprint(stroke, rateUmPerHour) }
  ));
  return radii.map((radius) => ({
    radius,
    nm: all.reduce(
      (sum, { minutes, footprint }) =>
        sum + minutes * footprintAt(footprint, radius * 2 / aperture),
      0,
    ),
  }));
}

interface Course {
  readonly found: ProfileModes;
  readonly rim: number;
  readonly grid: Grid;
  readonly task: FiguringTask;
}

function expect({ found, grid, task }: Course, spells: readonly FiguringSpell[]): Expected {
  const { aperture, rateUmPerHour = usualRate, rateDoubt = usualDoubt, goalNm, seed = 1 } = task;
  const taken = takenBy(spells, grid.radii, aperture, rateUmPerHour).map(({ nm }) => nm);
  return expectedAfter({
    found,
    taken: withoutFocus(taken, grid.q),
    q: grid.q,
    rateDoubt,
    shapeDoubtNm: Math.hypot(
      ...spells.map((spell) =>
        shapeDoubt * mean(takenBy([spell], grid.radii, aperture, rateUmPerHour))
      ),
    ),
    seed,
    ...(goalNm === undefined ? {} : { goalNm }),
  });
}

function decideOn(
  { verdict, profile }: FiguringTask,
  { modes }: ProfileModes,
  next: readonly FiguringSpell[],
): Pick<FiguringPlan, "do" | "why"> {
  if (verdict === "yes") {
    return { do: "stop", why: "the goal is shown: leave the surface alone" };
  }
  if (next.length === 0) {
    const seen = modes.some(({ believed }) => believed !== 0);
    return {
      do: "measure more",
      why: seen
        ? "what stands up is less than a quarter of a minute's work"
        : "nothing in the profile stands above its uncertainty",
    };
  }
  const known = profile.every(({ u }) => u !== undefined);
  return {
    do: "polish",
    why: known
      ? `${
        modes.filter(({ measured, u = 0 }) => Math.abs(measured) > u).length
      } of ${modes.length} shapes stand above their uncertainty`
      : "nobody knows how sure this profile is: only its coarsest shape is worked on",
  };
}

function requireTask(task: FiguringTask): void {
  const { aperture, rateUmPerHour = usualRate, rateDoubt = usualDoubt } = task;
  const { spellMinutes = 5, firstShare = 0.5, profile } = task;
  const rim = profile.at(-1)?.radius ?? 0;
  if (!(aperture > 0 && rim <= aperture / 2 + 1e-9)) {
    throw new RangeError(
      `figuringPlan requires a profile inside the disc, got a rim at ${rim} mm, aperture=${aperture}`,
    );
  }
  if (
    !(rateUmPerHour > 0 && rateDoubt >= 0 && rateDoubt < 1 && spellMinutes > 0 && firstShare > 0 &&
      firstShare <= 1)
  ) {
    throw new RangeError(
      `figuringPlan requires a rate above 0 um/h, rateDoubt from 0 to 1, spellMinutes above 0, firstShare above 0 to 1, got ${rateUmPerHour}, ${rateDoubt}, ${spellMinutes}, ${firstShare}`,
    );
  }
}

// What must come off where: the glass that stands up once refocusing has taken its share.

/** Glass to take at one place, nm. */
export interface Removal {
  /** mm from the centre */
  readonly radius: number;
  /** above 0 where glass is to come off */
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
