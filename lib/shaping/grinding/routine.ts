/** A stroke routine as data: what the hands do, set after set, slips included. */
import { random } from "../../numeric/random.ts";
import { overhangSquared, sphereLimit } from "./wearLaws.ts";

/** How the upper disc is moved, and how both are turned. */
export interface Routine {
  /** how far beside the lower disc's centre the upper one's passes, mm; 0 for centre over centre */
  readonly offset: number;
  /** length of the stroke from end to end, one way, mm */
  readonly travel: number;
  /** forward and back is one stroke; one number, or one for each place of the upper disc in turn */
  readonly strokes: number | readonly number[];
  /** turn of the upper disc after each set, rad */
  readonly upperTurn: number;
  /** turn of the lower disc, or the walk round it, after `setsPerTurn` sets, rad */
  readonly lowerTurn: number;
  /** sets of strokes between two turns of the lower disc */
  readonly setsPerTurn: number;
  /** strokes at each place of the lower disc in turn, as a factor; default 1 everywhere */
  readonly lowerFactors?: readonly number[];
  /** whether the lower disc carries the upper one round with it */
  readonly carried?: boolean;
  /** strokes vary at random by up to this share; default 0 */
  readonly strokeScatter?: number;
  /** turns of the upper disc vary at random by up to this, rad; default 0 */
  readonly turnScatter?: number;
  /** share of the turns that are forgotten, either disc's; default 0 */
  readonly missedTurns?: number;
  /** default 40 */
  readonly strokesPerMinute?: number;
}

/** One set of strokes, as it was done. */
export interface StrokeSet {
  /** forward and back is one */
  readonly strokes: number;
  /** mm */
  readonly offset: number;
  /** mm */
  readonly travel: number;
  /** turned after the set, rad */
  readonly upperTurn: number;
  /** the lower disc, turned after the set, rad */
  readonly lowerTurn: number;
}

/** How both discs are turned on the way. */
export interface Turning {
  /** between two turns */
  readonly strokes: number;
  /** of the upper disc, rad */
  readonly upper: number;
  /** of the lower disc, or the walk round it, rad */
  readonly lower: number;
}

/**
 * The one rule of turning, at every stage from F80 to figuring: after eight strokes turn the upper disc by about five hours of a
 * clock face, and the lower one by an hour and a half to two, or walk that far round it. By eye, each always one way.
 *
 * Thirds and eighths of a turn come back to the same places, and each place wears its own hollow: twenty strokes and thirds
 * leave a threefold figure of 17 um at the rim after an hour of F80. These angles leave less than 1 um in every order, whether
 * the lower disc is turned or walked round, and whichever way; hands 20 degrees off that forget one turn in five and miscount,
 * 1.6 um as a rule and under 3 in nine of ten, twenty careful minutes later 0.4 and under 0.9. Other angles, finer steps and
 * turns that are never the same do no better than a quarter less, or worse (tests/evidence/readers.md). 140 degrees with a walk of 50 the same way round adds up to quarters: eightfold, 5 um.
 * The shared facts turn_strokes, turn_upper and turn_lower are these numbers.
 * @see tests/shaping/grinding/turning.test.ts
 */
export const turning: Turning = {
  strokes: 8,
  upper: 150 * Math.PI / 180,
  lower: 50 * Math.PI / 180,
};

/**
 * The usual rough work: a quarter of the diameter to the side, a stroke of a third, turned by the one rule.
 *
 * @param aperture  diameter of the discs, mm, above 0
 * @see COMMON PRACTICE
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { offset, travel } = chordRoutine(150);
 * assert.deepEqual([offset, travel], [37.5, 50]);
 * ```
 */
export function chordRoutine(aperture: number): Routine {
  return { ...centreRoutine(aperture), offset: aperture / 4 };
}

/**
 * The usual fine work: strokes over the centre, a third of the diameter long, turned like the rough ones.
 *
 * @param aperture  diameter of the discs, mm, above 0
 * @see COMMON PRACTICE
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(centreRoutine(150).offset, 0);
 * ```
 */
export function centreRoutine(aperture: number): Routine {
  if (!(aperture > 0 && aperture < Infinity)) {
    throw new RangeError(`centreRoutine requires aperture above 0 mm, got aperture=${aperture}`);
  }
  return {
    offset: 0,
    travel: aperture / 3,
    strokes: turning.strokes,
    upperTurn: turning.upper,
    lowerTurn: turning.lower,
    setsPerTurn: 1,
  };
}

/**
 * Plays a routine: one set after another, with its slips.
 *
 * @param routine  see `Routine`
 * @param sets     how many, a whole number of 0 or more
 * @param seed     of the slips; the same seed gives the same work
 * @throws {RangeError} for a routine that cannot be done
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const sets = playRoutine(chordRoutine(150), 6);
 * assert.ok(sets.every(({ strokes, lowerTurn }) => strokes === 8 && lowerTurn > 0));
 * ```
 */
export function playRoutine(routine: Routine, sets: number, seed = 1): StrokeSet[] {
  requireRoutine(routine);
  if (!(Number.isInteger(sets) && sets >= 0)) {
    throw new RangeError(`playRoutine requires a whole number of sets, got sets=${sets}`);
  }
  const draw = random(seed);
  const { setsPerTurn, missedTurns = 0, strokeScatter = 0, turnScatter = 0, carried } = routine;
  const either = (share: number): number => share * (2 * draw.uniform() - 1);
  const done = (turn: number): number => missedTurns > 0 && draw.uniform() < missedTurns ? 0 : turn;
  const played: StrokeSet[] = [];
  for (let i = 0; i < sets; i++) {
    const slip = strokeScatter > 0 ? 1 + either(strokeScatter) : 1;
    const jitter = turnScatter > 0 ? either(turnScatter) : 0;
    const upper = done(routine.upperTurn + jitter);
    const lower = (i + 1) % setsPerTurn === 0 ? done(routine.lowerTurn) : 0;
    played.push({
      strokes: strokesAt(routine, i) * slip,
      offset: routine.offset,
      travel: routine.travel,
      upperTurn: upper + (carried ? lower : 0),
      lowerTurn: lower,
    });
  }
  return played;
}

/** Strokes of the i-th set before any slip. */
export function strokesAt(
  { strokes, lowerFactors = [1], setsPerTurn }: Routine,
  i: number,
): number {
  const list = typeof strokes === "number" ? [strokes] : strokes;
  const factor = lowerFactors[Math.floor(i / setsPerTurn) % lowerFactors.length] ?? 1;
  return (list[i % list.length] ?? 0) * factor;
}

/** Minutes that a set of strokes takes. */
export function minutesOf(strokes: number, { strokesPerMinute = 40 }: Routine): number {
  return strokes / strokesPerMinute;
}

/** Refuses what no hand can do. */
function requireRoutine(routine: Routine): void {
  const { offset, travel, strokes, upperTurn, lowerTurn, setsPerTurn } = routine;
  const { strokeScatter = 0, turnScatter = 0, missedTurns = 0, strokesPerMinute = 40 } = routine;
  const list = typeof strokes === "number" ? [strokes] : strokes;
  const factors = routine.lowerFactors ?? [1];
  const rules: readonly (readonly [boolean, string])[] = [
    [offset >= 0 && offset < Infinity, `an offset of 0 or more in mm, got ${offset}`],
    [travel > 0 && travel < Infinity, `a travel above 0 in mm, got ${travel}`],
    [
      list.length > 0 && list.every((n) => n > 0 && n < Infinity),
      `strokes above 0, got ${strokes}`,
    ],
    [Number.isFinite(upperTurn) && Number.isFinite(lowerTurn), "finite turns in rad"],
    [
      Number.isInteger(setsPerTurn) && setsPerTurn > 0,
      `setsPerTurn of 1 or more, got ${setsPerTurn}`,
    ],
    [factors.length > 0 && factors.every((n) => n >= 0 && n < Infinity), "factors of 0 or more"],
    [
      strokeScatter >= 0 && strokeScatter < 1,
      `strokeScatter from 0 to below 1, got ${strokeScatter}`,
    ],
    [turnScatter >= 0 && turnScatter < Infinity, `turnScatter of 0 or more, got ${turnScatter}`],
    [missedTurns >= 0 && missedTurns <= 1, `missedTurns from 0 to 1, got ${missedTurns}`],
    [strokesPerMinute > 0 && strokesPerMinute < Infinity, "strokesPerMinute above 0"],
  ];
  const broken = rules.find(([holds]) => !holds);
  if (broken) throw new RangeError(`playRoutine requires ${broken[1]}`);
}

// Is a routine even? How its strokes fall round each disc, how far it hangs over, and the routine in words.

/** How unevenly strokes fall round a disc: 0 is even, 1 is all from one side (or two, or three). */
export interface Unevenness {
  /** lopsided: coma */
  readonly one: number;
  /** stronger along one line: astigmatism */
  readonly two: number;
  /** three-cornered: trefoil */
  readonly three: number;
}

/** What a routine does to both discs in the long run. */
export interface RoutineCheck {
  /** different places of each disc under the stroke before all repeats; undefined where it never does */
  readonly upperPlaces: number | undefined;
  /** the same of the lower disc */
  readonly lowerPlaces: number | undefined;
  /** how unevenly strokes fall round the upper disc */
  readonly upper: Unevenness;
  /** how unevenly strokes fall round the lower disc */
  readonly lower: Unevenness;
  /** root of the mean squared distance of the centres, mm */
  readonly overhang: number;
  /** the mean squared overhang over the greatest at which spheres stay spheres */
  readonly limitShare: number;
  /** whether every turn is made and nothing lopsided, astigmatic or three-cornered can grow */
  readonly isEven: boolean;
  /** what is wrong, in sentences; empty where all is well */
  readonly faults: readonly string[];
}

/** Sets that are looked at: eight full rounds of the rule of turning, twelve of thirds with eighths. */
const looked = 288;
/** Less than this is even enough: twenty strokes more or less at random come to about as much. */
const evenEnough = 0.05;

/**
 * Checks how evenly a routine goes round.
 *
 * Each set marks both discs in the direction in which the upper one hung over. Strokes that all fall in one direction make
 * coma, in two opposite ones astigmatism, in three trefoil.
 *
 * @param routine   see `Routine`
 * @param aperture  diameter of the discs, mm, above 0
 * @param seed      of its slips
 * @throws {RangeError} for a routine that cannot be done
 * @example the usual routine is even
 * ```ts
 * import assert from "node:assert/strict";
 * import { chordRoutine } from "./routine.ts";
 * const check = checkRoutine(chordRoutine(150), 150);
 * assert.deepEqual([check.upperPlaces, check.lowerPlaces, check.isEven], [12, 36, true]);
 * ```
 */
export function checkRoutine(routine: Routine, aperture: number, seed = 1): RoutineCheck {
  const squared = overhangSquared(routine), limitShare = squared / sphereLimit(aperture);
  const sets = playRoutine(routine, looked, seed);
  const upperMarks: Mark[] = [], lowerMarks: Mark[] = [];
  let upperTurn = 0, lowerTurn = 0;
  for (const set of sets) {
    upperMarks.push({ angle: -upperTurn, strokes: set.strokes });
    lowerMarks.push({ angle: -lowerTurn, strokes: set.strokes });
    upperTurn += set.upperTurn;
    lowerTurn += set.lowerTurn;
  }
  const upper = unevenness(upperMarks), lower = unevenness(lowerMarks);
  const places = { upper: placesOf(upperMarks), lower: placesOf(lowerMarks) };
  const faults = [
    ...turningFaults("upper", upper, places.upper),
    ...turningFaults("lower", lower, places.lower),
    ...overhangFaults(routine, aperture, limitShare),
  ];
  return {
    upperPlaces: places.upper,
    lowerPlaces: places.lower,
    upper,
    lower,
    overhang: Math.sqrt(squared),
    limitShare,
    isEven: [upper, lower].every(({ one, two, three }) => Math.max(one, two, three) < evenEnough),
    faults,
  };
}

interface Mark {
  readonly angle: number;
  readonly strokes: number;
}

function unevenness(marks: readonly Mark[]): Unevenness {
  const whole = marks.reduce((sum, { strokes }) => sum + strokes, 0);
  const share = (order: number): number => {
    const x = marks.reduce((sum, { angle, strokes }) => sum + strokes * Math.cos(order * angle), 0);
    const y = marks.reduce((sum, { angle, strokes }) => sum + strokes * Math.sin(order * angle), 0);
    return Math.hypot(x, y) / whole;
  };
  return { one: share(1), two: share(2), three: share(3) };
}

/** Different directions, to a degree; undefined where a third of the sets or more each have their own. */
function placesOf(marks: readonly Mark[]): number | undefined {
  const seen = new Set(marks.map(({ angle }) => {
    const degrees = Math.round(angle * 180 / Math.PI);
    return ((degrees % 360) + 360) % 360;
  }));
  return seen.size > looked / 3 ? undefined : seen.size;
}

function turningFaults(
  disc: "upper" | "lower",
  { one, two, three }: Unevenness,
  places: number | undefined,
): string[] {
  if (places === 1) return [`the ${disc} disc is never turned: it grows astigmatic`];
  if (places === 2) return [`the ${disc} disc has only two places: it grows astigmatic`];
  if (places === 3) return [`the ${disc} disc has only three places: it grows three-cornered`];
  const faults: string[] = [];
  const percent = (share: number): string => `${Math.round(100 * share)} %`;
  if (two >= evenEnough) {
    faults.push(`strokes on the ${disc} disc are ${percent(two)} stronger along one line`);
  }
  if (one >= evenEnough && two < evenEnough) {
    faults.push(`strokes on the ${disc} disc are ${percent(one)} stronger on one side`);
  }
  if (three >= evenEnough && Math.max(one, two) < evenEnough) {
    faults.push(`strokes on the ${disc} disc are ${percent(three)} stronger in three places`);
  }
  return faults;
}

function overhangFaults({ offset, travel }: Routine, aperture: number, share: number): string[] {
  if (travel > aperture) return ["the stroke is longer than the disc"];
  if (Math.hypot(offset, travel / 2) >= aperture / 2) return ["the upper disc tips over the edge"];
  return share > 1
    ? [`it hangs over too far: ${Math.round(100 * share)} % of what leaves a sphere`]
    : [];
}
