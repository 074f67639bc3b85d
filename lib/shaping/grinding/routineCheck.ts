/** Is a routine even? How its strokes fall round each disc, how far it hangs over, and the routine in words. */
import { playRoutine, type Routine } from "./routine.ts";
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
