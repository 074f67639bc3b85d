/** A plan of figuring: which strokes, how many minutes in the coming session, and what that should come to. */
import {
  chooseStrokes,
  type Column,
  columnOf,
  emphasised,
  type Grid,
  leftSquare,
  placesOf,
  reweighed,
  SHORTEST,
  timeable,
  type Timed,
  withEnds,
  withoutFocus,
} from "./figuringChoice.ts";
import { choleskyOfCovariance } from "../../numeric/smallMatrix.ts";
import { bearingOn, overSphere } from "./figuringBearing.ts";
import { type Expected, expectedAfter, outcomeOf, type Outlook } from "./figuringExpected.ts";
import {
  amissOf,
  type Glass,
  type Hands,
  takenAt,
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
  /** of curvature, mm: how far the wanted paraboloid is from a sphere; default so flat that they are one */
  readonly radius?: number;
  /** what is known of the maker's hands; default the usual ones */
  readonly hands?: Hands;
  /** wanted P-V of the glass, nm */
  readonly goalNm?: number;
  /** what the last test said; "yes" ends it */
  readonly verdict?: "yes" | "no" | "not shown";
  /** chance of the goal by that test, which knows of glass that no opening sees; default by the profile's own doubt */
  readonly probability?: number;
  /** to choose from; default those with a full lap, and smaller ones only where a full one cannot do it */
  readonly strokes?: readonly FiguringStroke[];
  /** longest session, min; default as long as the error wants and the doubt allows */
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
  /** what stands above the lowest place, at best focus */
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
  /** chance that the coming session makes the edge worse, by more than `EDGE_WORSE` */
  readonly edgeRisk: number;
}

/** Strokes that a session may have: more nobody keeps apart at the bench. */
const MOST_IN_SESSION = 2;
/** A change counts where it is so many times its uncertainty. */
const STANDS = 2;
/** More runs than this at once are not asked for. */
const MOST_RUNS = 9;
/** Where the goal is met by more than this chance, as sure as a yes, no small lap is taken to the glass. */
const LIKELY = 0.95;
/**
 * A full lap cannot do it where its best session leaves more than this share of what is rough: a point in the middle within a
 * hollow ring is narrower than any of its footprints, and session after session would go by. From the closed loop.
 */
const FULL_LAP_DOES = 0.85;
/** A small lap is worth its danger where it leaves less than this share of what a full one leaves. */
const SMALL_LAP_WORTH = 0.9;

/**
 * Plans figuring from a measured profile and from what is known of the hands.
 *
 * Footprints of the strokes, piston and focus taken out, are fitted to what is believed of the profile by least squares with
 * minutes of 0 or more. The coming session has two strokes at the most, each of a minute or more, and is as long as hands one
 * standard uncertainty faster than thought may work without passing the mark: long far from the goal and with hands that are
 * known, short near it. Of several pairs, chosen by where the surface stands out most, that one is taken which should leave the
 * smoothest surface, all doubts drawn, without risk to the edge. A smaller lap is chosen only where no session with a full one
 * should leave much less, and the smaller one should. Turn as `turning` says. Nothing is polished for a change that does not stand out of the readings, is shorter
 * than hands can time, or smaller than what hands take amiss: then more runs are asked for.
 *
 * @throws {RangeError} outside `profileModes`, or for hands, runs or a longest session out of range
 * @see least squares with non-negative unknowns: Lawson and Hanson (judged by tests/trials/figuringLoop.trial.ts); here by coordinate descent
 * @example a sphere that should be a paraboloid is worked most in the middle
 * ```ts
 * import assert from "node:assert/strict";
 * import { modeShape } from "./figuringModes.ts";
 * const profile = Array.from({ length: 60 }, (_, i) => i * 74 / 59).map((radius) => (
 *   { radius, surfaceError: 30 * modeShape(2, (radius / 74) ** 2), u: 4 }
 * ));
 * const plan = figuringPlan({ profile, aperture: 150 });
 * assert.equal(plan.do, "polish");
 * const [middle, , rim] = takenBy(plan.whole, [0, 52, 74], { aperture: 150 }).map(({ nm }) => nm);
 * assert.ok((middle ?? 0) > (rim ?? 0));
 * assert.ok(plan.after.rms < plan.before.rms);
 * ```
 */
export function figuringPlan(task: FiguringTask): FiguringPlan {
  requireTask(task);
  const { profile, covariance, aperture, hands = usualHands, verdict } = task;
  const found = profileModes(profile, covariance), rim = profile.at(-1)?.radius ?? aperture / 2;
  const grid = placesOf(rim), heights = believed(found, grid, task);
  const unsure = unsureOf(found, grid, task);
  const glass = glassOf(task);
  const course: Course = { found, heights, unsure, grid, glass, task, hands };
  const before = asMeasured(expect(course, []), task);
  const { whole, strokes: session } = verdict === "yes"
    ? { whole: [], strokes: [] }
    : chooseLaps(course, withEnds(heights, grid));
  const decided = decideOn(course, whole, session), next = decided.do === "polish" ? session : [];
  return {
    ...decided,
    found,
    removal: standing(heights, grid),
    whole,
    next,
    planned: takenBy(next, grid.radii, glass, hands),
    before,
    after: expect(course, next),
    edgeRisk: next.length === 0 ? 0 : outcomeOf(outlookOf(course, next)).edgeRisk,
  };
}

interface Course {
  readonly found: ProfileModes;
  /** what is believed of the profile at the places, nm, without mean and focus */
  readonly heights: readonly number[];
  /** how that may be off; nothing where nobody knows */
  readonly unsure: readonly (readonly number[])[] | undefined;
  readonly grid: Grid;
  readonly glass: Glass;
  readonly task: FiguringTask;
  readonly hands: Hands;
}

/** The glass under the lap, as it is believed to be: where it stands above its sphere it bears more. */
export function glassOf(
  task: Pick<FiguringTask, "profile" | "covariance" | "aperture" | "radius">,
): Glass {
  const { profile, covariance, aperture, radius } = task;
  const grid = placesOf(profile.at(-1)?.radius ?? aperture / 2);
  const heights = believed(profileModes(profile, covariance), grid, task);
  const glass = grid.radii.map((r, i) => ({ radius: r, surfaceError: heights[i] ?? 0 }));
  return { aperture, bearing: bearingOn(overSphere(glass, radius), aperture) };
}

interface Chosen extends Timed {
  readonly whole: readonly TimedStroke[];
}

/** Strokes for all of it and for the session: with a full lap, or with smaller ones where only they can do it. */
function chooseLaps(course: Course, wanted: readonly number[]): Chosen {
  const { task: { strokes }, hands, grid, glass } = course;
  const choose = (from: readonly FiguringStroke[]): Chosen => {
    const columns = from.map((stroke) => columnOf(stroke, grid, glass, hands));
    const whole = chooseStrokes(columns, wanted, hands.doubt);
    return { whole, ...sessionOf(course, columns, wanted) };
  };
  if (strokes !== undefined) return choose(strokes);
  const full = choose(fullLapStrokes);
  if ((course.task.probability ?? expect(course, []).probability ?? 1) > LIKELY) return full;
  if (full.strokes.length === 0) return choose(figuringStrokes);
  if (course.unsure === undefined) return full;
  const rough = (session: readonly TimedStroke[]): number =>
    outcomeOf(outlookOf(course, session)).rough;
  const byFull = rough(full.strokes);
  if (byFull < FULL_LAP_DOES * rough([])) return full;
  const small = choose(figuringStrokes);
  return rough(small.strokes) < SMALL_LAP_WORTH * byFull ? small : full;
}

/** What strokes leave of what is believed, by hands as thought, nm. */
function leftBy(
  { heights, grid, glass, hands }: Course,
  strokes: readonly TimedStroke[],
): number[] {
  const taken = takenBy(strokes, grid.radii, glass, hands).map(({ nm }) => nm);
  return withoutFocus(heights.map((h, i) => h - (taken[i] ?? 0)), grid);
}

/**
 * The coming session: of several pairs of strokes, whole and half as long, the one that should leave the least P-V without risk to
 * the edge; where every one risks it, the one that risks least. None where all should leave as much as there is.
 */
function sessionOf(course: Course, columns: readonly Column[], wanted: readonly number[]): Timed {
  const { heights, grid, task: { goalNm, longest = Infinity }, hands: { doubt } } = course;
  const pairBy = (from: readonly Column[], by: readonly number[]): Pair => ({
    best: chooseStrokes(from, by, doubt, MOST_IN_SESSION),
    timed(part): Timed {
      const all = this.best.reduce((sum, { minutes }) => sum + minutes, 0);
      const share = Math.min(part * Math.exp(-doubt), longest / Math.max(all, 1e-9));
      const shorter = this.best.map(({ stroke, minutes }) => ({
        stroke,
        minutes: minutes * share,
      }));
      return timeable(shorter, from, by);
    },
  });
  const first = pairBy(columns, wanted), pairs = [first];
  if (goalNm === undefined || course.unsure === undefined) return first.timed(1);
  for (let weighed = grid, last = first, turn = 0; turn < EMPHASES; turn++) {
    weighed = emphasised(weighed, leftBy(course, last.best));
    last = pairBy(reweighed(columns, weighed), withEnds(heights, weighed));
    pairs.push(last);
  }
  const now = outcomeOf(outlookOf(course, []));
  const timed = pairs.flatMap((pair) => [1, 0.5].map((part) => pair.timed(part)));
  const sessions = distinct(timed, columns)
    .map((session) => ({ session, ...outcomeOf(outlookOf(course, session.strokes)) }))
    .filter(({ rough, chance }) =>
      rough < WORTHWHILE * now.rough || chance > now.chance + CHANCE_COUNTS
    );
  sessions.sort((a, b) =>
    Math.max(EDGE_RISK, a.edgeRisk) - Math.max(EDGE_RISK, b.edgeRisk) || a.rough - b.rough
  );
  const { strokes = [] } = sessions[0]?.session ?? {};
  return { strokes, left: leftSquare(strokes, columns, wanted) };
}

/** Each session once, for rounded to what hands can time many pairs are the same; none that is empty. */
function distinct(sessions: readonly Timed[], columns: readonly Column[]): readonly Timed[] {
  const once = new Map<string, Timed>();
  for (const session of sessions) {
    const mark = session.strokes.map(({ stroke, minutes }) =>
      `${columns.findIndex((one) => one.stroke === stroke)} ${minutes}`
    ).join();
    if (mark !== "" && !once.has(mark)) once.set(mark, session);
  }
  return [...once.values()];
}

interface Pair {
  /** without caution and without regard to what hands can time */
  readonly best: readonly TimedStroke[];
  /** as much of it as the doubt allows, or a part of that */
  timed(part: number): Timed;
}

/** A chance of a worse edge that is taken. */
const EDGE_RISK = 0.05;
/** Pairs of strokes that are chosen by where the last pair left the most. */
const EMPHASES = 5;
/** A session is to make the surface less rough by this share, or the goal likelier by so much. */
const WORTHWHILE = 0.99;
const CHANCE_COUNTS = 0.05;

/**
 * Glass that strokes take, nm, by the footprints of a fresh lap.
 *
 * @param radii  mm from the centre
 * @param hands  default the usual ones
 */
export function takenBy(
  strokes: readonly TimedStroke[],
  radii: readonly number[],
  glass: Glass,
  { gain, width }: Pick<Hands, "gain" | "width"> = usualHands,
): Removal[] {
  const taken = takenAt(strokes, radii, glass, width);
  return radii.map((radius, i) => ({ radius, nm: gain * (taken[i] ?? 0) }));
}

/** A surface as it stands, by the rms that was measured of it. */
function asMeasured(now: Expected, { rms }: FiguringTask): Expected {
  const { rms95 } = now;
  if (rms === undefined || rms95 === undefined) return now;
  return { ...now, rms, rms95: [Math.min(rms, rms95[0]), Math.max(rms, rms95[1])] };
}

/**
 * What a session should make of a profile: for one that is planned, and for one that was done.
 *
 * @param strokes  nothing for the surface as it stands
 */
export function foresee(
  task: Omit<FiguringTask, "hands" | "verdict" | "strokes" | "longest" | "runs">,
  strokes: readonly TimedStroke[],
  hands: Hands,
): Expected {
  const rim = task.profile.at(-1)?.radius ?? task.aperture / 2, grid = placesOf(rim);
  const found = profileModes(task.profile, task.covariance);
  const heights = believed(found, grid, task), unsure = unsureOf(found, grid, task);
  return expect({ found, heights, unsure, grid, glass: glassOf(task), task, hands }, strokes);
}

function expect(course: Course, strokes: readonly TimedStroke[]): Expected {
  return expectedAfter(outlookOf(course, strokes));
}

function outlookOf(
  { heights, unsure, grid, glass, task, hands }: Course,
  strokes: readonly TimedStroke[],
): Outlook {
  const { goalNm, rms, seed = 1 } = task, { radii, weights } = grid;
  const bare = (width: number): number[] =>
    withoutFocus(takenBy(strokes, radii, glass, { gain: 1, width }).map(({ nm }) => nm), grid);
  const taken = bare(hands.width), wider = bare(hands.width + hands.widthDoubt);
  const meanSquare = (v: readonly number[]): number =>
    v.reduce((sum, h, i) => sum + (weights[i] ?? 0) * h * h, 0);
  // what the profile and its doubt leave of the measured rms is none of a profile's
  const besideSquare = unsure === undefined || rms === undefined ? 0 : Math.max(
    0,
    rms * rms - meanSquare(heights) - unsure.reduce((sum, own) => sum + meanSquare(own), 0),
  );
  return {
    heights,
    ...(unsure === undefined ? {} : { unsure }),
    besideRms: Math.sqrt(besideSquare),
    taken,
    amiss: strokes.length === 0 ? [] : [
      wider.map((v, i) => v - (taken[i] ?? 0)),
      ...strokes.flatMap((one) => amissOf(one, radii, glass, hands.unsteady))
        .map((pattern) => withoutFocus(pattern, grid)),
    ],
    grid,
    hands,
    seed,
    ...(goalNm === undefined ? {} : { goalNm }),
  };
}

/**
 * What is believed of a profile at the places, nm, without mean and focus.
 *
 * Where its covariance is known the heights are themselves what is believed; else the smooth shapes, each drawn towards nothing
 * by its doubt.
 */
function believed(
  found: ProfileModes,
  { radii, q, weights }: Grid,
  { profile, covariance }: Pick<FiguringTask, "profile" | "covariance">,
): number[] {
  const heights = covariance === undefined ? shapesAt(found, q) : heightsAt(profile, radii);
  return withoutFocus(heights, { q, weights });
}

/** How the heights may be off, each entry one standard uncertainty of its own; nothing where nobody knows. */
function unsureOf(
  found: ProfileModes,
  grid: Grid,
  { profile, covariance }: Pick<FiguringTask, "profile" | "covariance">,
): number[][] | undefined {
  if (found.measuredCovariance === undefined) return undefined;
  const root = rootOf(covariance ?? found.measuredCovariance);
  const shapes = found.modes.map(({ order }) => grid.q.map((q) => modeShape(order, q)));
  const places = grid.radii.map((radius) => placeOf(profile, radius));
  return root.map((_, k) => {
    const column = root.map((row) => row[k] ?? 0);
    const heights = covariance === undefined
      ? grid.q.map((_, place) =>
        shapes.reduce((sum, shape, i) => sum + (column[i] ?? 0) * (shape[place] ?? 0), 0)
      )
      : places.map((place) => heightIn(column, place));
    return withoutFocus(heights, grid);
  });
}

/** Root of a covariance; rounding leaves its two halves apart where readings tell next to nothing. */
function rootOf(covariance: readonly ArrayLike<number>[]): number[][] {
  const tiny = 1e-9 + 1e-9 * covariance.reduce((sum, row, i) => sum + (row[i] ?? 0), 0);
  return choleskyOfCovariance(covariance.map((row, i) =>
    Array.from(
      row,
      (v, j) => (v + (covariance[j]?.[i] ?? v)) / 2 + (i === j ? tiny : 0),
    )
  ));
}

function heightsAt(profile: readonly ProfileHeight[], radii: readonly number[]): number[] {
  const heights = profile.map(({ surfaceError }) => surfaceError);
  return radii.map((radius) => heightIn(heights, placeOf(profile, radius)));
}

/** Where a radius lies among those of a profile: beyond so many of them, and how far toward the next. */
interface ProfilePlace {
  readonly next: number;
  readonly part: number;
}

function placeOf(profile: readonly ProfileHeight[], radius: number): ProfilePlace {
  const found = profile.findIndex((one) => one.radius >= radius);
  const next = found < 0 ? profile.length : found;
  const above = profile[next]?.radius ?? NaN, below = profile[next - 1]?.radius ?? NaN;
  return { next, part: (radius - below) / (above - below) };
}

/** A height there: straight between the radii, the first and the last beyond them. */
function heightIn(heights: readonly number[], { next, part }: ProfilePlace): number {
  const above = heights[next], below = heights[next - 1];
  if (above === undefined || below === undefined) return above ?? below ?? 0;
  return below + part * (above - below);
}

/** How far what a session works on stands out of the readings: amount over its uncertainty; Infinity where none is known. */
function standsOut(
  { heights, unsure, grid, glass, hands }: Course,
  next: readonly TimedStroke[],
): number {
  if (unsure === undefined) return Infinity;
  const taken = takenBy(next, grid.radii, glass, hands).map(({ nm }) => nm);
  const mended = withEnds(withoutFocus(taken, grid), grid);
  const along = (own: readonly number[]): number =>
    withEnds(own, grid).reduce((sum, v, i) => sum + v * (mended[i] ?? 0), 0);
  return along(heights) / Math.max(1e-9, Math.hypot(...unsure.map(along)));
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
      why: !seen
        ? "nothing in the profile stands above its uncertainty"
        : whole.every(({ minutes }) => minutes < SHORTEST)
        ? `what is too high is less than ${SHORTEST} minute's work, which hands cannot time`
        : "no session that hands can keep should leave less than there is: what it may take amiss is as large as what it would mend",
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
  const { aperture, hands = usualHands, longest = Infinity, runs = 3, profile } = task;
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

/** Glass to take at one place, nm. */
export interface Removal {
  /** mm from the centre */
  readonly radius: number;
  /** above 0 where glass is to come off */
  readonly nm: number;
}

/** What must come off, at best focus: nothing at the lowest place, elsewhere what stands above it. */
function standing(heights: readonly number[], { radii }: Grid): Removal[] {
  const lowest = Math.min(...heights);
  return radii.map((radius, i) => ({ radius, nm: (heights[i] ?? 0) - lowest }));
}

/** Heights of believed shapes along the radius, nm; mean and focus are none of it. */
function shapesAt(
  { modes }: ProfileModes,
  q: readonly number[],
): number[] {
  return q.map((place) =>
    modes.reduce((sum, { order, believed }) => sum + believed * modeShape(order, place), 0)
  );
}
