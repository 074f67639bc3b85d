/** A plan of figuring: which strokes, how many minutes in the coming session, and what that should come to. */
import {
  chooseStrokes,
  type Column,
  columnOf,
  type Grid,
  leftSquare,
  placesOf,
  SHORTEST,
  timeable,
  type Timed,
  withEnds,
  withoutFocus,
} from "./figuringChoice.ts";
import { type Expected, expectedAfter } from "./figuringExpected.ts";
import {
  type Hands,
  modesTaken,
  shapeDoubtOf,
  takenPerMinute,
  type TimedStroke,
  usualHands,
} from "./figuringHands.ts";
import { modeShape, type ProfileHeight, type ProfileModes, profileModes } from "./figuringModes.ts";
import { type FiguringStroke, figuringStrokes, fullLapStrokes } from "./figuringStrokes.ts";

export type { TimedStroke } from "./figuringHands.ts";

/** What is asked of a plan. */
export interface FiguringTask {
  /** measured profile of the glass, from the centre to the rim of what is judged */
  readonly profile: readonly ProfileHeight[];
  /** of its heights, nm^2 */
  readonly covariance?: readonly ArrayLike<number>[];
  /** RMS of the glass of what is judged, nm, astigmatism in it; default the profile's own */
  readonly rms?: number;
  /** of the disc, mm */
  readonly aperture: number;
  /** what is known of the maker's hands; default the usual ones */
  readonly hands?: Hands;
  /** wanted P-V of the glass, nm */
  readonly goalNm?: number;
  /** what the last test said; "yes" ends it */
  readonly verdict?: "yes" | "no" | "not shown";
  /** to choose from; default those with a full lap, and smaller ones only where a full one cannot do it */
  readonly strokes?: readonly FiguringStroke[];
  /** longest session, min; default 25 */
  readonly longest?: number;
  /** runs that the profile rests on; default 3 */
  readonly runs?: number;
  /** of the draws for the range */
  readonly seed?: number;
}

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
  readonly whole: readonly TimedStroke[];
  /** to do in the coming session: then press, cool, and test */
  readonly next: readonly TimedStroke[];
  /** runs to read before anything is polished, where that is what to do */
  readonly moreRuns?: number;
  /** glass that the coming session takes, nm */
  readonly planned: readonly Removal[];
  /** the surface as it is believed to be now */
  readonly before: Expected;
  /** after the coming session */
  readonly after: Expected;
}

/** Strokes that a session may have: more nobody keeps apart at the bench. */
const MOST_IN_SESSION = 2;
const LONGEST = 25;
/** A change counts where it is so many times its uncertainty. */
const STANDS = 2;
/** More runs than this at once are not asked for. */
const MOST_RUNS = 9;
/** A small lap is worth its rings only where it mends so many times what a full one mends, in mean squares. */
const SMALL_WORTH = 2.5;

/**
 * Plans figuring from a measured profile and from what is known of the hands.
 *
 * Footprints of the strokes, piston and focus taken out, are fitted to what is believed of the profile by least squares with
 * minutes of 0 or more. The coming session has two strokes at the most, each of a minute or more, and is as long as hands one
 * standard uncertainty faster than thought may work without passing the mark: long far from the goal and with hands that are
 * known, short near it. A smaller lap is chosen only where full ones leave the goal out of reach and it mends far more. Turn as
 * `turning` says. Nothing is polished for a change that does not stand out of the readings, or is shorter than hands can
 * time: then more runs are asked for.
 *
 * @throws {RangeError} outside `profileModes`, or for hands, runs or a longest session out of range
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
  const { profile, covariance, aperture, hands = usualHands, verdict } = task;
  const found = profileModes(profile, covariance), rim = profile.at(-1)?.radius ?? aperture / 2;
  const grid = placesOf(rim);
  const wanted = withEnds(believedHeights(found, grid.radii, rim), grid.q);
  const course: Course = { found, rim, grid, task, hands };
  const before = expect(course, []);
  const { whole, strokes: session } = verdict === "yes"
    ? { whole: [], strokes: [] }
    : chooseLaps(course, wanted);
  const decided = decideOn(course, whole, session), next = decided.do === "polish" ? session : [];
  return {
    ...decided,
    found,
    removal: removalWanted(found, rim),
    whole,
    next,
    planned: takenBy(next, grid.radii, aperture, hands),
    before,
    after: expect(course, next),
  };
}

interface Course {
  readonly found: ProfileModes;
  readonly rim: number;
  readonly grid: Grid;
  readonly task: FiguringTask;
  readonly hands: Hands;
}

interface Chosen extends Timed {
  readonly whole: readonly TimedStroke[];
}

/** Strokes for all of it and for the session: with a full lap, or with smaller ones where only they can do it. */
function chooseLaps(course: Course, wanted: readonly number[]): Chosen {
  const { task: { strokes, aperture, goalNm }, hands, grid } = course;
  const choose = (from: readonly FiguringStroke[]): Chosen => {
    const columns = from.map((stroke) => columnOf(stroke, grid, aperture, hands));
    const whole = chooseStrokes(columns, wanted, hands.doubt);
    return { whole, ...sessionOf(course, columns, wanted) };
  };
  if (strokes !== undefined) return choose(strokes);
  const full = choose(fullLapStrokes);
  if (goalNm === undefined || leftPv(course, wanted, full.strokes) <= goalNm) return full;
  const small = choose(figuringStrokes);
  const start = leftSquare([], [], wanted);
  return start - small.left >= SMALL_WORTH * (start - full.left) ? small : full;
}

/** P-V of what strokes leave of what is believed, by hands as thought, nm. */
function leftPv(
  { grid: { radii, q }, task: { aperture }, hands }: Course,
  wanted: readonly number[],
  strokes: readonly TimedStroke[],
): number {
  const taken = takenBy(strokes, radii, aperture, hands).map(({ nm }) => nm);
  const left = withoutFocus(radii.map((_, i) => (wanted[i] ?? 0) - (taken[i] ?? 0)), q);
  return Math.max(...left) - Math.min(...left);
}

/** The coming session: the two best strokes, as long as the doubt allows, as hands can time them. */
function sessionOf(
  { task: { longest = LONGEST }, hands: { doubt } }: Course,
  columns: readonly Column[],
  wanted: readonly number[],
): Timed {
  const best = chooseStrokes(columns, wanted, doubt, MOST_IN_SESSION);
  const all = best.reduce((sum, { minutes }) => sum + minutes, 0);
  const share = Math.min(Math.exp(-doubt), longest / Math.max(all, 1e-9));
  return timeable(
    best.map(({ stroke, minutes }) => ({ stroke, minutes: minutes * share })),
    columns,
    wanted,
  );
}

/**
 * Glass that strokes take, nm, by the footprints of a fresh lap.
 *
 * @param radii  mm from the centre
 * @param hands  default the usual ones
 */
export function takenBy(
  strokes: readonly TimedStroke[],
  radii: readonly number[],
  aperture: number,
  { gain, width }: Pick<Hands, "gain" | "width"> = usualHands,
): Removal[] {
  return radii.map((radius) => ({
    radius,
    nm: strokes.reduce(
      (sum, { stroke, minutes }) =>
        sum + gain * minutes * takenPerMinute(stroke, radius * 2 / aperture, width),
      0,
    ),
  }));
}

/**
 * What a session should make of a profile: for one that is planned, and for one that was done.
 *
 * @param strokes  nothing for the surface as it stands
 */
export function foresee(
  task: Pick<FiguringTask, "profile" | "covariance" | "rms" | "aperture" | "goalNm" | "seed">,
  strokes: readonly TimedStroke[],
  hands: Hands,
): Expected {
  const rim = task.profile.at(-1)?.radius ?? task.aperture / 2;
  const found = profileModes(task.profile, task.covariance);
  return expect({ found, rim, grid: placesOf(rim), task, hands }, strokes);
}

function expect(
  { found, rim, grid, task, hands }: Course,
  strokes: readonly TimedStroke[],
): Expected {
  const { aperture, goalNm, profile, rms, seed = 1 } = task, { radii, q } = grid;
  const bare = (width: number): number[] =>
    withoutFocus(takenBy(strokes, radii, aperture, { gain: 1, width }).map(({ nm }) => nm), q);
  const taken = bare(hands.width), step = 0.02;
  const more = bare(hands.width + step);
  const known = found.covariance !== undefined;
  const heights = known
    ? withoutFocus(radii.map((radius) => heightAt(profile, radius)), q)
    : believedHeights(found, radii, rim);
  const own = Math.sqrt(heights.reduce((sum, h) => sum + h * h, 0) / heights.length);
  return expectedAfter({
    found,
    heights,
    besideRms: known && rms !== undefined ? Math.sqrt(Math.max(0, rms * rms - own * own)) : 0,
    taken,
    widening: more.map((v, i) => (v - (taken[i] ?? 0)) / step),
    q,
    hands,
    shapeDoubtNm: hands.gain * shapeDoubtOf(strokes, aperture, rim, hands.shape),
    seed,
    ...(goalNm === undefined ? {} : { goalNm }),
  });
}

/** A profile's height at a place: straight between its radii. */
function heightAt(profile: readonly ProfileHeight[], radius: number): number {
  const next = profile.findIndex((one) => one.radius >= radius);
  const above = profile[next], below = profile[next - 1];
  if (above === undefined) return profile.at(-1)?.surfaceError ?? 0;
  if (below === undefined) return above.surfaceError;
  const t = (radius - below.radius) / (above.radius - below.radius);
  return below.surfaceError + t * (above.surfaceError - below.surfaceError);
}

/** How far what a session works on stands out of the readings: amount over its uncertainty; Infinity where none is known. */
function standsOut(
  { found, task: { aperture }, rim, hands }: Course,
  next: readonly TimedStroke[],
): number {
  const covariance = found.measuredCovariance;
  if (covariance === undefined) return Infinity;
  const along = modesTaken(next, aperture, rim, hands.width);
  const amount = found.modes.reduce((sum, { measured }, i) => sum + measured * (along[i] ?? 0), 0);
  const doubt = covariance.reduce(
    (sum, row, i) => sum + row.reduce((s, v, j) => s + v * (along[i] ?? 0) * (along[j] ?? 0), 0),
    0,
  );
  return amount / Math.sqrt(Math.max(doubt, 1e-12));
}

function decideOn(
  course: Course,
  whole: readonly TimedStroke[],
  next: readonly TimedStroke[],
): Pick<FiguringPlan, "do" | "why" | "moreRuns"> {
  const { task: { verdict, profile, runs = 3 }, found: { modes } } = course;
  if (verdict === "yes") {
    return { do: "stop", why: "the goal is shown: leave the surface alone" };
  }
  if (next.length === 0) {
    const seen = modes.some(({ believed }) => believed !== 0) && whole.length > 0;
    return {
      do: "measure more",
      moreRuns: runs,
      why: seen
        ? `what stands up is less than ${SHORTEST} minute's work, which hands cannot time`
        : "nothing in the profile stands above its uncertainty",
    };
  }
  const times = standsOut(course, next);
  if (times < STANDS) {
    const wanted = Math.ceil(runs * ((STANDS / Math.max(times, 0.5)) ** 2 - 1));
    return {
      do: "measure more",
      moreRuns: Math.min(MOST_RUNS, Math.max(2, wanted)),
      why: `what a session could mend is ${
        times.toFixed(1)
      } times its uncertainty: it does not stand out of the readings' noise`,
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
  const { aperture, hands = usualHands, longest = LONGEST, runs = 3, profile } = task;
  const rim = profile.at(-1)?.radius ?? 0;
  if (!(aperture > 0 && rim <= aperture / 2 + 1e-9)) {
    throw new RangeError(
      `figuringPlan requires a profile inside the disc, got a rim at ${rim} mm, aperture=${aperture}`,
    );
  }
  if (
    !(hands.gain > 0 && hands.doubt >= 0 && hands.doubt < 2 && longest >= SHORTEST && runs >= 1)
  ) {
    throw new RangeError(
      `figuringPlan requires hands with a gain above 0 and a doubt from 0 to 2, a session of ${SHORTEST} min or more, a run or more, got ${hands.gain}, ${hands.doubt}, ${longest}, ${runs}`,
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
