/** Ten ways to grind, good and bad, for the engines and the judge to agree on; slips are drawn once, the same for both. */
import {
  centreRoutine,
  chordRoutine,
  playRoutine,
  type Routine,
  type StrokeSet,
} from "../../lib/shaping/grinding/routine.ts";

/** Twenty strokes, the upper disc by thirds, the lower by an eighth after three sets: what the judge's kept numbers are of. */
export const thirds: Routine = {
  ...chordRoutine(150),
  strokes: 20,
  upperTurn: 2 * Math.PI / 3,
  lowerTurn: Math.PI / 4,
  setsPerTurn: 3,
};
const usual = thirds;
const degree = Math.PI / 180;

const routines: Readonly<Record<string, Routine>> = {
  "thirds and eighths": usual,
  "the upper disc carried round with the lower": { ...usual, carried: true },
  "the upper disc never turned": { ...usual, upperTurn: 0 },
  "the lower disc never turned": { ...usual, lowerTurn: 0 },
  "neither turned": { ...usual, upperTurn: 0, lowerTurn: 0 },
  "the upper disc turned by half only": { ...usual, upperTurn: Math.PI },
  "twice the strokes at one place in three": { ...usual, strokes: [20, 20, 40] },
  "a third of the turns missed": { ...usual, missedTurns: 1 / 3 },
  "random strokes and turns": { ...usual, strokeScatter: 0.3, turnScatter: 15 * degree },
  "centre strokes, half a diameter long": {
    ...usual,
    offset: centreRoutine(150).offset,
    travel: 75,
  },
};

/** Each routine's name, its sets, and itself. */
export function tenRoutines(
  sets: number,
): readonly (readonly [string, readonly StrokeSet[], Routine])[] {
  return Object.entries(routines).map((
    [name, routine],
  ) => [name, playRoutine(routine, sets, 5), routine]);
}
