/** The choice of strokes: those whose footprints, added up, come nearest to what must come off. */
import { amissOf, type Glass, type Hands, takenAt, type TimedStroke } from "./figuringHands.ts";
import { modeShape } from "./figuringModes.ts";
import type { FiguringStroke } from "./figuringStrokes.ts";

/** A further stroke must lessen what is left by this share of its square. */
const worthwhile = 0.005;
/** More kinds of strokes than this nobody keeps apart. */
const mostStrokes = 5;
/** Weight of the edge's roll, squared, beside the mean square of the heights. */
const edgeWorth = 0.1;
/** And that of the middle. */
const middleWorth = 0.05;
/** A minute must lessen it by this share. */
const minuteWorth = 0.001;
const places = 60;
/** Beside the places of equal area: the middle and the rim, which have no area and stand in the P-V; squares of the radius. */
const MIDDLE = [0, 0.001, 0.004];
const RIM = 1;

/** Places along the radius, from the centre to the rim. */
export interface Grid {
  /** mm from the centre */
  readonly radii: readonly number[];
  /** squares of them over that of the rim */
  readonly q: readonly number[];
  /** share of the area that each stands for; nothing for the middle and the rim themselves */
  readonly weights: readonly number[];
  /** what each counts in a choice: a quarter by its area, the rest by its share of the radius, as the P-V does */
  readonly worth: readonly number[];
}

const grids = new Map<number, Grid>();
/** Mirrors of a class are of a few sizes. */
const GRIDS_KEPT = 8;

/** Places of equal area from the centre to the rim, and the middle and the rim themselves; for a rim that was asked for lately the same. */
export function placesOf(rim: number): Grid {
  let grid = grids.get(rim);
  if (grid === undefined) {
    if (grids.size >= GRIDS_KEPT) grids.clear();
    grids.set(rim, grid = placesAnew(rim));
  }
  return grid;
}

function placesAnew(rim: number): Grid {
  const even = Array.from({ length: places }, (_, i) => (i + 0.5) / places);
  const q = [...MIDDLE, ...even, RIM], along = q.map(Math.sqrt);
  const weights = [...MIDDLE.map(() => 0), ...even.map(() => 1 / places), 0];
  const worth = weights.map((w, i) => w / 4 + 3 * ((along[i + 1] ?? 1) - (along[i - 1] ?? 0)) / 8);
  return { q, radii: along.map((v) => rim * v), weights, worth };
}

/** A stroke's footprint as the choice needs it. */
export interface Column {
  readonly stroke: FiguringStroke;
  /** nm a minute at the places, without mean and focus */
  readonly heights: readonly number[];
  /** the same as a choice judges it */
  readonly bare: readonly number[];
  /** what may be taken amiss in a minute, mean square, nm^2 */
  readonly amiss: number;
}

/** What a stroke does to the shape of a mirror. */
export function columnOf(
  stroke: FiguringStroke,
  grid: Grid,
  glass: Glass,
  { gain, width, unsteady }: Pick<Hands, "gain" | "width" | "unsteady">,
): Column {
  const { radii } = grid;
  const taken = takenAt([{ stroke, minutes: gain }], radii, glass, width);
  const amiss = amissOf({ stroke, minutes: gain }, radii, glass, unsteady)
    .reduce((sum, own) => sum + square(withEnds(withoutFocus(own, grid), grid)), 0);
  const heights = withoutFocus(taken, grid);
  return { stroke, heights, bare: withEnds(heights, grid), amiss };
}

/** Values without their mean and focus, which refocusing mends. */
export function withoutFocus(
  values: readonly number[],
  { q, weights }: Pick<Grid, "q" | "weights">,
): number[] {
  const left = [...values];
  for (const shape of plainShapes(q)) {
    let part = 0;
    for (let i = 0; i < shape.length; i++) {
      part += (weights[i] ?? 0) * (left[i] ?? 0) * (shape[i] ?? 0);
    }
    for (let i = 0; i < left.length; i++) left[i] = (left[i] ?? 0) - part * (shape[i] ?? 0);
  }
  return left;
}

const plain = new WeakMap<readonly number[], readonly (readonly number[])[]>();

/** Piston and focus at some places. */
function plainShapes(q: readonly number[]): readonly (readonly number[])[] {
  let shapes = plain.get(q);
  if (shapes === undefined) {
    plain.set(q, shapes = [0, 1].map((order) => q.map((v) => modeShape(order, v))));
  }
  return shapes;
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] ?? 0);
  return sum;
}

function square(values: readonly number[]): number {
  return dot(values, values);
}

/** How far the rim stands above the place a tenth inside it; below 0 it is turned down. */
export function rollOf(heights: ArrayLike<number>, q: readonly number[]): number {
  return (heights[q.length - 1] ?? 0) - (heights[firstBeyond(q, 0.81)] ?? 0);
}

/** The first of some rising places that lies farther out. */
function firstBeyond(q: readonly number[], place: number): number {
  let i = 0;
  while (i < q.length && !((q[i] as number) > place)) i++;
  return i;
}

/**
 * Heights so that the sum of their squares is what a choice is judged by: each by its area, and two more, the rim against the
 * place a tenth inside it and the middle against the ring a quarter out. An edge once rolled is the hardest to mend, and both
 * stand in the P-V, though they have hardly any area.
 */
export function withEnds(heights: readonly number[], { q, worth }: Grid): number[] {
  const pip = (heights[0] ?? 0) - (heights[firstBeyond(q, 0.0625)] ?? 0), roots = rootsOf(worth);
  const judged = heights.map((h, i) => h * (roots[i] ?? 0));
  judged.push(Math.sqrt(edgeWorth) * rollOf(heights, q), Math.sqrt(middleWorth) * pip);
  return judged;
}

const roots = new WeakMap<readonly number[], readonly number[]>();

function rootsOf(worth: readonly number[]): readonly number[] {
  let found = roots.get(worth);
  if (found === undefined) roots.set(worth, found = worth.map(Math.sqrt));
  return found;
}

/** Columns as a choice judges them where other places count. */
export function reweighed(columns: readonly Column[], grid: Grid): Column[] {
  return columns.map((column) => ({ ...column, bare: withEnds(column.heights, grid) }));
}

/** Share of all weight that goes to the places that stand out. */
const OUTSTANDING = 0.5;

/** A grid whose places count the more the farther they stand out: so the P-V falls, not the mean square alone. */
export function emphasised(grid: Grid, left: readonly number[]): Grid {
  const most = Math.max(1e-9, ...left.map(Math.abs));
  const out = left.map((h) => (h / most) ** 4), all = out.reduce((sum, v) => sum + v, 0) || 1;
  return { ...grid, worth: grid.worth.map((w, i) => w + OUTSTANDING * (out[i] ?? 0) / all) };
}

/** The best stroke alone, then the best to go with it, each in turn exchanged for a better one: a further one must be worth it. */
export function chooseStrokes(
  columns: readonly Column[],
  wanted: readonly number[],
  doubt: number,
  most: number = mostStrokes,
): TimedStroke[] {
  const start = square(wanted), sums = sumsOf(columns, wanted, doubt);
  let best = nothing, now = nothing;
  for (let count = 0; count < most; count++) {
    now = exchanged(withAnother(now, sums), sums);
    if (now.gain - best.gain > worthwhile * start) best = now;
  }
  return timedOf(best, columns);
}

function timedOf({ which, minutes }: Trial, columns: readonly Column[]): TimedStroke[] {
  return which.flatMap((i, k) => {
    const stroke = columns[i]?.stroke, own = minutes[k] ?? 0;
    return stroke === undefined || own < 0.01 ? [] : [{ stroke, minutes: own }];
  }).toSorted((a, b) => b.minutes - a.minutes);
}

/** What hands can time: no stroke shorter than a minute, by halves of one. */
export const SHORTEST = 1;
const STEP = 0.5;

/** Strokes as hands can time them, and what they are expected to leave. */
export interface Timed {
  readonly strokes: readonly TimedStroke[];
  /** mean square of what is left, what the strokes may take amiss in it, nm^2 */
  readonly left: number;
}

/**
 * Minutes as hands can time them, nearest to those wanted: each stroke a minute or more by halves, or left out.
 *
 * Each is rounded down and up; the choice that is expected to leave the least square is taken, nothing where that is best.
 */
export function timeable(
  strokes: readonly TimedStroke[],
  columns: readonly Column[],
  wanted: readonly number[],
): Timed {
  let best: Timed = { strokes: [], left: square(wanted) };
  const options = strokes.map(({ minutes }) => {
    const low = Math.floor(minutes / STEP) * STEP;
    return [...new Set([0, Math.max(SHORTEST, low), Math.max(SHORTEST, low + STEP)])];
  });
  const choices = options.reduce<number[][]>(
    (all, own) => all.flatMap((some) => own.map((minutes) => [...some, minutes])),
    [[]],
  );
  for (const choice of choices) {
    const tried = strokes.flatMap(({ stroke }, k) => {
      const minutes = choice[k] ?? 0;
      return minutes === 0 ? [] : [{ stroke, minutes }];
    });
    const left = leftSquare(tried, columns, wanted);
    if (left < best.left) best = { strokes: tried, left };
  }
  return best;
}

/** Mean square of what strokes leave, with what a lap that gives and flows may take amiss: a share of all they take. */
export function leftSquare(
  strokes: readonly TimedStroke[],
  columns: readonly Column[],
  wanted: readonly number[],
): number {
  let left = wanted, doubt = 0;
  for (const { stroke, minutes } of strokes) {
    const column = columns.find((one) => one.stroke === stroke);
    left = left.map((h, i) => h - minutes * (column?.bare[i] ?? 0));
    doubt += (column?.amiss ?? 0) * minutes ** 2;
  }
  return square(left) + doubt;
}

/** Sums that every choice of strokes is judged by. */
interface Sums {
  /** what two strokes do together; on the diagonal with the doubt of the footprint */
  readonly gram: readonly Float64Array[];
  /** what a minute gains at first, half of it; the toll of time is taken off */
  readonly pull: Float64Array;
}

function sumsOf(columns: readonly Column[], wanted: readonly number[], doubt: number): Sums {
  const toll = minuteWorth * square(wanted);
  return {
    gram: gramOf(columns, doubt),
    pull: Float64Array.from(columns, (a) => dot(a.bare, wanted) - toll / 2),
  };
}

const grams = new WeakMap<
  readonly Column[],
  { readonly doubt: number; readonly gram: readonly Float64Array[] }
>();

/** What each two strokes do together: the same for all that is to come off. */
function gramOf(columns: readonly Column[], doubt: number): readonly Float64Array[] {
  const known = grams.get(columns);
  if (known?.doubt === doubt) return known.gram;
  const more = 1 + doubt * doubt, bare = columns.map((one) => Float64Array.from(one.bare));
  const gram = columns.map(() => new Float64Array(columns.length));
  columns.forEach(({ amiss }, i) => {
    const row = gram[i] as Float64Array, own = bare[i] as Float64Array;
    for (let j = 0; j <= i; j++) {
      row[j] = (gram[j] as Float64Array)[i] = more * dot(own, bare[j] as Float64Array);
    }
    row[i] = (row[i] as number) + amiss;
  });
  grams.set(columns, { doubt, gram });
  return gram;
}

interface Trial {
  readonly which: readonly number[];
  readonly minutes: readonly number[];
  /** by how much the square of what is left falls, nm^2 */
  readonly gain: number;
}

const nothing: Trial = { which: [], minutes: [], gain: 0 };
/** So many strokes are tried in earnest, the most promising ones. */
const tried = 12;

/** The best stroke to go with those chosen; one that would gain nothing at first never does. */
function withAnother(now: Trial, { gram, pull }: Sums): Trial {
  const promise = Array.from(pull, (own, i) => {
    const left = now.which.reduce((sum, j, k) => sum - (now.minutes[k] ?? 0) * at(gram, i, j), own);
    return { i, worth: now.which.includes(i) || left <= 0 ? 0 : left * left / at(gram, i, i) };
  }).filter(({ worth }) => worth > 0).toSorted((a, b) => b.worth - a.worth).slice(0, tried);
  return promise.map(({ i }) => nonNegative([...now.which, i], { gram, pull }))
    .reduce((best, trial) => trial.gain > best.gain ? trial : best, now);
}

/** A choice with each of its strokes exchanged for a better one, as long as there is one. */
function exchanged(first: Trial, sums: Sums): Trial {
  let now = first;
  for (let sweep = 0, before = -Infinity; sweep < 3 && now.gain > before; sweep++) {
    before = now.gain;
    for (let place = 0; place < now.which.length && now.which.length > 1; place++) {
      const others = nonNegative(now.which.filter((_, k) => k !== place), sums);
      const next = withAnother(others, sums);
      if (next.gain > now.gain) now = next;
    }
  }
  return now;
}

function at(gram: readonly Float64Array[], i: number, j: number): number {
  return gram[i]?.[j] ?? 0;
}

/** Minutes of 0 or more that leave the least square, with the doubt of the rate and the toll of time counted in. */
function nonNegative(which: readonly number[], { gram, pull }: Sums): Trial {
  const size = which.length, minutes = new Float64Array(size);
  const own = Float64Array.from(which, (i) => pull[i] ?? 0);
  const both = new Float64Array(size * size);
  which.forEach((i, a) => which.forEach((j, b) => both[a * size + b] = at(gram, i, j)));
  for (let turn = 0, moved = 1; turn < 200 && moved > 1e-3; turn++) {
    moved = 0;
    for (let a = 0; a < size; a++) {
      let left = own[a] ?? 0;
      for (let b = 0; b < size; b++) left -= (minutes[b] ?? 0) * (both[a * size + b] ?? 0);
      const was = minutes[a] ?? 0, next = Math.max(0, was + left / (both[a * size + a] ?? 1));
      moved = Math.max(moved, Math.abs(next - was));
      minutes[a] = next;
    }
  }
  let gain = 0;
  for (let a = 0; a < size; a++) {
    let taken = 0;
    for (let b = 0; b < size; b++) taken += (minutes[b] ?? 0) * (both[a * size + b] ?? 0);
    gain += (minutes[a] ?? 0) * (2 * (own[a] ?? 0) - taken);
  }
  return { which, minutes: [...minutes], gain };
}
