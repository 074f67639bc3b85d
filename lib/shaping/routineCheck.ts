/** Is a routine even? How its strokes fall round each disc, how far it hangs over, and the routine in words. */
import { playRoutine, requireRoutine, type Routine, strokesAt } from "./routine.ts";
import { overhangSquared, sphereLimit } from "./wearLaws.ts";

/** How unevenly strokes fall round a disc: 0 is even, 1 is all from one side (or two, or three). */
export interface Unevenness {
  /** lopsided: coma */
  readonly one: number;
  /** stronger along one line: astigmatism */
  readonly two: number;
  /** three-cornered: trefoil */
  readonly three: number;
}

export interface RoutineCheck {
  /** different places of each disc under the stroke before all repeats; undefined where it never does */
  readonly upperPlaces: number | undefined;
  readonly lowerPlaces: number | undefined;
  readonly upper: Unevenness;
  readonly lower: Unevenness;
  /** root of the mean squared distance of the centres, mm */
  readonly overhang: number;
  /** the mean squared overhang over the greatest at which spheres stay spheres */
  readonly limitShare: number;
  /** whether every turn is made and nothing but trefoil can grow */
  readonly isEven: boolean;
  /** what is wrong, in sentences; empty where all is well */
  readonly faults: readonly string[];
}

/** Sets that are looked at: ten full rounds of the usual routine. */
const looked = 240;
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
 * assert.deepEqual([check.upperPlaces, check.lowerPlaces, check.isEven], [3, 8, true]);
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
    isEven: [upper.one, upper.two, lower.one, lower.two].every((v) => v < evenEnough),
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
  { one, two }: Unevenness,
  places: number | undefined,
): string[] {
  if (places === 1) return [`the ${disc} disc is never turned: it grows astigmatic`];
  if (places === 2) return [`the ${disc} disc has only two places: it grows astigmatic`];
  const faults: string[] = [];
  const percent = (share: number): string => `${Math.round(100 * share)} %`;
  if (two >= evenEnough) {
    faults.push(`strokes on the ${disc} disc are ${percent(two)} stronger along one line`);
  }
  if (one >= evenEnough && two < evenEnough) {
    faults.push(`strokes on the ${disc} disc are ${percent(one)} stronger on one side`);
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

/**
 * A routine in words, as one would read it out at the bench.
 *
 * @param routine   see `Routine`
 * @param aperture  diameter of the discs, mm, above 0
 * @throws {RangeError} for a routine that cannot be done
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { chordRoutine } from "./routine.ts";
 * const words = describeRoutine(chordRoutine(150), 150);
 * assert.match(words, /^20 strokes, passing 38 mm beside the centre, each 50 mm long/);
 * ```
 */
export function describeRoutine(routine: Routine, aperture: number): string {
  requireRoutine(routine);
  const { offset, travel, setsPerTurn, upperTurn, lowerTurn, carried } = routine;
  const counts = Array.from({ length: 24 }, (_, i) => Math.round(strokesAt(routine, i)));
  const list = typeof routine.strokes === "number"
    ? counts.slice(0, 1)
    : counts.slice(0, routine.strokes.length);
  const where = offset === 0 ? "over the centre" : `passing ${mm(offset)} beside the centre`;
  const long = `each ${mm(travel)} long (${share(travel, aperture)} the diameter)`;
  const upper = upperTurn === 0
    ? "Never turn the upper disc"
    : `After every set turn the upper disc by ${degrees(upperTurn)}`;
  const sets = setsPerTurn === 1 ? "every set" : `every ${inWords(setsPerTurn)} sets`;
  const lower = lowerTurn === 0
    ? "never turn the lower disc"
    : `after ${sets} turn the lower disc by ${degrees(lowerTurn)}${
      carried ? " and let it carry the upper one round" : ""
    }`;
  const both = upperTurn === 0 && lowerTurn === 0
    ? "Never turn either disc"
    : `${upper}, and ${lower}`;
  return `${countWords(list)}, ${where}, ${long}. ${both}.${slipWords(routine)}`;
}

function countWords(counts: readonly number[]): string {
  const last = counts.at(-1) ?? 0;
  if (counts.length < 2) return `${last} ${last === 1 ? "stroke" : "strokes"}`;
  return `${counts.slice(0, -1).join(", ")} and ${last} strokes in turn`;
}

function slipWords({ strokeScatter = 0, turnScatter = 0, missedTurns = 0 }: Routine): string {
  const percent = (v: number): string => `${Math.round(100 * v)} %`;
  const slips = [
    ...(strokeScatter > 0 ? [`strokes are miscounted by up to ${percent(strokeScatter)}`] : []),
    ...(turnScatter > 0 ? [`turns are off by up to ${degrees(turnScatter)}`] : []),
    ...(missedTurns > 0 ? [`${percent(missedTurns)} of the turns are forgotten`] : []),
  ];
  if (slips.length === 0) return "";
  const said = slips.length === 1
    ? slips[0]
    : `${slips.slice(0, -1).join(", ")} and ${slips.at(-1)}`;
  return ` By mistake, ${said}.`;
}

function inWords(count: number): string {
  return ["no", "one", "two", "three", "four", "five", "six"][count] ?? `${count}`;
}

function mm(length: number): string {
  return `${Math.round(length)} mm`;
}

function degrees(angle: number): string {
  return `${Math.round(angle * 180 / Math.PI)}°`;
}

function share(length: number, aperture: number): string {
  const ratio = length / aperture;
  const named = [
    [1 / 4, "a quarter of"],
    [1 / 3, "a third of"],
    [1 / 2, "half"],
    [2 / 3, "two thirds of"],
  ] as const;
  const found = named.find(([value]) => Math.abs(value - ratio) < 0.005);
  return found ? found[1] : `${ratio.toFixed(2)} of`;
}
