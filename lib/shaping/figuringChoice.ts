/** The choice of strokes: those whose footprints, added up, come nearest to what must come off. */
import { footprintAt, strokeFootprint } from "./figuringFootprint.ts";
import { modeShape } from "./figuringModes.ts";
import type { FiguringStroke } from "./figuringStrokes.ts";

/** A stroke and its minutes. */
export interface FiguringSpell {
  readonly stroke: FiguringStroke;
  readonly minutes: number;
}

/** A further stroke must lessen what is left by this share of its square. */
const worthwhile = 0.03;
/** Weight of the edge's roll, squared, beside the mean square of the heights. */
const edgeWorth = 0.1;
/** A minute must lessen it by this share. */
const minuteWorth = 0.003;
/**
 * A lap that gives and flows takes otherwise than a footprint says, by this share of the glass it takes, rms: long work that is
 * meant to cancel out is not to be trusted.
 */
export const shapeDoubt = 0.035;
/** Shorter than this is not worth setting up, min. */
export const shortest = 0.25;
const places = 60;

/** Places of equal area along the radius, and the squares of them over that of the rim. */
export interface Grid {
  readonly radii: readonly number[];
  readonly q: readonly number[];
}

/** Places of equal area from the centre to the rim. */
export function placesOf(rim: number): Grid {
  const q = Array.from({ length: places }, (_, i) => (i + 0.5) / places);
  return { q, radii: q.map((v) => rim * Math.sqrt(v)) };
}

/** A stroke's footprint as the choice needs it. */
export interface Column {
  readonly stroke: FiguringStroke;
  /** nm a minute on average */
  readonly mean: number;
  /** nm a minute, without mean and focus */
  readonly bare: readonly number[];
}

/** What a stroke does to the shape of a mirror. */
export function columnOf(
  stroke: FiguringStroke,
  { radii, q }: Grid,
  aperture: number,
  rate: number,
): Column {
  const footprint = strokeFootprint(stroke, rate);
  const taken = radii.map((radius) => footprintAt(footprint, radius / (aperture / 2)));
  const mean = taken.reduce((sum, v) => sum + v, 0) / taken.length;
  return { stroke, mean, bare: withEdge(withoutFocus(taken, q), q) };
}

/** Values without their mean and focus, which refocusing mends. */
export function withoutFocus(values: readonly number[], q: readonly number[]): number[] {
  return [0, 1].reduce<number[]>((left, order) => {
    const part = q.reduce((s, v, i) => s + (left[i] ?? 0) * modeShape(order, v), 0) / q.length;
    return left.map((v, i) => v - part * modeShape(order, q[i] ?? 0));
  }, [...values]);
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, v, i) => sum + v * (b[i] ?? 0), 0) / a.length;
}

function square(values: readonly number[]): number {
  return dot(values, values);
}

/** The rim against the place a tenth inside it, as one more place: an edge once rolled is the hardest to mend. */
export function withEdge(heights: readonly number[], q: readonly number[]): number[] {
  const inside = q.findIndex((v) => v > 0.81);
  const roll = (heights.at(-1) ?? 0) - (heights[inside] ?? 0);
  return [...heights, Math.sqrt(edgeWorth * q.length) * roll];
}

/** The best stroke alone, the best two, the best three: each further one must be worth it. */
export function chooseStrokes(
  columns: readonly Column[],
  wanted: readonly number[],
  doubt: number,
): FiguringSpell[] {
  const start = square(wanted), sums = sumsOf(columns, wanted, doubt);
  const alone = bestOf(columns.map((_, i) => [i]), sums);
  const pairs = columns.flatMap((_, i) => columns.slice(0, i).map((_, j) => [i, j]));
  const pair = bestOf(pairs, sums);
  const threes = pairs.flatMap(([i = 0, j = 0]) => columns.slice(0, j).map((_, k) => [i, j, k]));
  const three = bestOf(threes, sums);
  let best: Trial = { which: [], minutes: [], gain: 0 };
  for (const trial of [alone, pair, three]) {
    if (trial.gain - best.gain > worthwhile * start) best = trial;
  }
  return best.which.flatMap((i, k) => {
    const stroke = columns[i]?.stroke, minutes = best.minutes[k] ?? 0;
    return stroke === undefined || minutes < shortest / 2 ? [] : [{ stroke, minutes }];
  }).toSorted((a, b) => b.minutes - a.minutes);
}

/** Sums that every choice of strokes is judged by. */
interface Sums {
  readonly gram: readonly (readonly number[])[];
  readonly pull: readonly number[];
  /** a minute must lessen the square by this, nm^2 */
  readonly toll: number;
  /** 1 + doubt of the rate, squared */
  readonly more: number;
}

function sumsOf(columns: readonly Column[], wanted: readonly number[], doubt: number): Sums {
  return {
    gram: columns.map((a) =>
      columns.map((b) => dot(a.bare, b.bare) + (a === b ? (shapeDoubt * a.mean) ** 2 : 0))
    ),
    pull: columns.map((a) => dot(a.bare, wanted)),
    toll: minuteWorth * square(wanted),
    more: 1 + doubt * doubt,
  };
}

interface Trial {
  readonly which: readonly number[];
  readonly minutes: readonly number[];
  /** by how much the square of what is left falls, nm^2 */
  readonly gain: number;
}

function bestOf(choices: readonly (readonly number[])[], sums: Sums): Trial {
  let best: Trial = { which: [], minutes: [], gain: 0 };
  for (const which of choices) {
    const trial = nonNegative(which, sums);
    if (trial.gain > best.gain) best = trial;
  }
  return best;
}

/** Minutes of 0 or more that leave the least square, with the doubt of the rate and the toll of time counted in. */
function nonNegative(which: readonly number[], { gram, pull, toll, more }: Sums): Trial {
  const at = (i: number, j: number): number => gram[which[i] ?? 0]?.[which[j] ?? 0] ?? 0;
  const along = which.map((i) => pull[i] ?? 0), minutes = which.map(() => 0);
  const others = (i: number): number =>
    minutes.reduce((sum, m, j) => j === i ? sum : sum + m * at(i, j), 0);
  for (let turn = 0; turn < 100; turn++) {
    let moved = 0;
    which.forEach((_, i) => {
      const next = Math.max(0, (((along[i] ?? 0) - toll / 2) / more - others(i)) / at(i, i));
      moved = Math.max(moved, Math.abs(next - (minutes[i] ?? 0)));
      minutes[i] = next;
    });
    if (moved < 1e-3) break;
  }
  const gain = minutes.reduce(
    (sum, m, i) => sum + m * (2 * (along[i] ?? 0) - toll - more * (others(i) + m * at(i, i))),
    0,
  );
  return { which, minutes, gain };
}
