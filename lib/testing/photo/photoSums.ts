/** Sums of squares over whole photographs, with their slopes: what a fit goes down. */
import { pixelModel } from "./photoCamera.ts";
import { type Mirror, OWN, OWN_COUNT, TONE_KNOTS } from "./photoModel.ts";
import { BLOCK } from "./photoPhase.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import type { Normal } from "./photoSteps.ts";
import type { Term } from "./photoTerms.ts";
import { isMonotone } from "./photoBrightness.ts";
import { TURN_ALIKE } from "./photoViews.ts";

const lists = new WeakMap<readonly Term[], Term["shapes"]>();

/** All shapes of some terms, in their order; of one list of terms always the same list. */
export function shapesOf(terms: readonly Term[]): Term["shapes"] {
  let found = lists.get(terms);
  if (found === undefined) lists.set(terms, found = terms.flatMap(({ shapes }) => shapes));
  return found;
}

/** Lines that look turned alike are those of a grating that only slid along; how surely it kept its turn, rad. */
const TURN_KEPT = 0.004;

/** No unknown is held. */
export const NONE: ReadonlySet<number> = new Set();

/** Sum of squares over all photographs, in units of the noise, with what is known beforehand. */
export function evaluator(
  photos: readonly PhotoPixels[],
  terms: readonly Term[],
  axes: number,
  noise: number,
  { every = 1, held = NONE }: { every?: number; held?: ReadonlySet<number> } = {},
): (at: Float64Array, slopes: boolean) => Normal {
  const shapes = shapesOf(terms), head = 1 + shapes.length;
  const size = head + OWN_COUNT * photos.length;
  const columns = new Float64Array((head + OWN_COUNT + 1) * BLOCK);
  return (at, slopes) => {
    const right = new Float64Array(slopes ? size : 0);
    const square = new Float64Array(slopes ? size * size : 0);
    const mirror: Mirror = { conic: at[0] as number, shapes, amounts: at.subarray(1, head), axes };
    let cost = prior(photos, terms, at, right, square, slopes);
    photos.forEach((photo, n) => {
      const from = head + n * OWN_COUNT, own = at.subarray(from, from + OWN_COUNT);
      cost += addPhoto(photo, own, mirror, {
        right,
        square,
        size,
        from,
        slopes,
        noise,
        every,
        held,
        columns,
      });
    });
    return { cost: Number.isFinite(cost) ? cost : Infinity, right, square };
  };
}

/** What is thought likely before the picture is looked at. */
function prior(
  photos: readonly PhotoPixels[],
  terms: readonly Term[],
  at: Float64Array,
  right: Float64Array,
  square: Float64Array,
  slopes: boolean,
): number {
  const size = at.length;
  let cost = 0;
  const hold = (i: number, guess: number, u: number): void => {
    if (u === Infinity) return;
    const off = (guess - (at[i] as number)) / u;
    cost += off * off;
    if (!slopes) return;
    right[i] = (right[i] as number) + off / u;
    square[i * size + i] = (square[i * size + i] as number) + 1 / (u * u);
  };
  hold(0, -0.5, 5);
  let i = 1;
  for (const { shapes, usual } of terms) {
    for (let k = 0; k < shapes.length; k++) hold(i++, 0, usual);
  }
  for (const { start, spread } of photos) {
    for (let k = 0; k < OWN_COUNT; k++) hold(i++, start[k] as number, spread[k] as number);
  }
  if (photos.length > 1) {
    const first = size - photos.length * OWN_COUNT + OWN.turn;
    for (let a = first; a < size; a += OWN_COUNT) {
      for (let b = first; b < a; b += OWN_COUNT) {
        const apart = ((at[a] as number) - (at[b] as number)) / TURN_KEPT;
        if (Math.abs(apart) * TURN_KEPT > TURN_ALIKE) continue;
        cost += apart * apart;
        if (!slopes) continue;
        right[a] = (right[a] as number) - apart / TURN_KEPT;
        right[b] = (right[b] as number) + apart / TURN_KEPT;
        const stiff = 1 / (TURN_KEPT * TURN_KEPT);
        for (const [p, q, sign] of [[a, a, 1], [b, b, 1], [a, b, -1], [b, a, -1]] as const) {
          square[p * size + q] = (square[p * size + q] as number) + sign * stiff;
        }
      }
    }
  }
  return cost;
}

interface Sums {
  readonly right: Float64Array;
  readonly square: Float64Array;
  readonly size: number;
  /** place of the photograph's own unknowns */
  readonly from: number;
  readonly slopes: boolean;
  readonly noise: number;
  readonly every: number;
  /** unknowns of a photograph that stay where they are */
  readonly held: ReadonlySet<number>;
  /** work space: `BLOCK` slopes for each unknown of one photograph, then what is left of each pixel */
  readonly columns: Float64Array;
}

function addPhoto(photo: PhotoPixels, own: Float64Array, mirror: Mirror, sums: Sums): number {
  const { slopes, from, noise, every, held, columns } = sums, { x, y, value, weight } = photo;
  if (!isPossible(own)) return Infinity;
  const head = 1 + mirror.shapes.length, count = head + OWN_COUNT;
  const seen = pixelModel(photo, own, mirror, slopes);
  const px = new Float64Array(BLOCK), py = new Float64Array(BLOCK), offs = new Float64Array(BLOCK);
  const wanted = Array.from({ length: count }, (_, a) => a).filter((a) => !held.has(a - head));
  const products = productsOf(columns, wanted, count);
  let cost = 0, filled = 0;
  for (let i = 0; i < value.length; i += every) {
    if (weight[i] === 1) {
      px[filled] = x[i] as number;
      py[filled] = y[i] as number;
      offs[filled++] = value[i] as number;
    }
    if (filled < BLOCK && i + every < value.length) continue;
    seen.look(px, py, filled);
    for (let k = 0; k < filled; k++) {
      const off = ((offs[k] as number) - (seen.value[k] as number)) / noise;
      offs[k] = off;
      cost += off * off;
    }
    if (slopes) {
      seen.slopes(filled, columns);
      columns.set(offs, count * BLOCK);
      products.add(filled);
    }
    filled = 0;
  }
  if (!slopes) return cost;
  const place = (a: number): number => a < head ? a : from + a - head,
    { right, square, size } = sums;
  const once = 1 / noise, twice = once * once, { sum, across } = products;
  wanted.forEach((a, i) => {
    const p = place(a);
    right[p] = (right[p] as number) + once * (sum[wanted.length * across + i] as number);
    wanted.forEach((b, j) => {
      const k = p * size + place(b), low = Math.min(i, j), high = Math.max(i, j);
      square[k] = (square[k] as number) + twice * (sum[high * across + low] as number);
    });
  });
  return cost;
}

/** Brightest value of the camera's power that its curve must still rise to. */
const WHITE = 1.05;

function isPossible(own: Float64Array): boolean {
  const power = own[OWN.power] as number;
  return power > 0.05 && power < 3 && (own[OWN.radius] as number) > 5 &&
    isMonotone(own.subarray(OWN.tone, OWN.tone + TONE_KNOTS), WHITE);
}

/**
 * Sums of products of columns with one another, and with the one that stands after all unknowns.
 *
 * @param columns  `BLOCK` numbers for each unknown, then what is left of each pixel
 * @param wanted   unknowns
 * @param left     place of what is left
 */
function productsOf(
  columns: Float64Array,
  wanted: readonly number[],
  left: number,
): { add(filled: number): void; readonly sum: Float64Array; readonly across: number } {
  // the last ones again, until they go by threes
  const all = [...wanted, left, left, left], across = all.length - all.length % 3;
  const starts = Int32Array.from(all.slice(0, across), (a) => a * BLOCK);
  const sum = new Float64Array(across * across);
  const add = (filled: number): void => {
    // three columns with three others at once: a third of the reading of one with one
    for (let a = 0; a < across; a += 3) {
      for (let b = 0; b <= a; b += 3) addNine(columns, filled, starts, a, b, sum, across);
    }
  };
  return { add, sum, across };
}

/** Adds the products of three columns with three; a function of its own is made fast sooner than a loop within loops. */
function addNine(
  columns: Float64Array,
  count: number,
  starts: Int32Array,
  a: number,
  b: number,
  sum: Float64Array,
  across: number,
): void {
  const a0 = starts[a] as number, a1 = starts[a + 1] as number, a2 = starts[a + 2] as number;
  const b0 = starts[b] as number, b1 = starts[b + 1] as number, b2 = starts[b + 2] as number;
  let s00 = 0, s01 = 0, s02 = 0, s10 = 0, s11 = 0, s12 = 0, s20 = 0, s21 = 0, s22 = 0;
  for (let k = 0; k < count; k++) {
    const x0 = columns[a0 + k] as number, x1 = columns[a1 + k] as number;
    const x2 = columns[a2 + k] as number, y0 = columns[b0 + k] as number;
    const y1 = columns[b1 + k] as number, y2 = columns[b2 + k] as number;
    s00 += x0 * y0;
    s01 += x0 * y1;
    s02 += x0 * y2;
    s10 += x1 * y0;
    s11 += x1 * y1;
    s12 += x1 * y2;
    s20 += x2 * y0;
    s21 += x2 * y1;
    s22 += x2 * y2;
  }
  const low = a * across + b, next = low + across, high = next + across;
  sum[low] = (sum[low] as number) + s00;
  sum[low + 1] = (sum[low + 1] as number) + s01;
  sum[low + 2] = (sum[low + 2] as number) + s02;
  sum[next] = (sum[next] as number) + s10;
  sum[next + 1] = (sum[next + 1] as number) + s11;
  sum[next + 2] = (sum[next + 2] as number) + s12;
  sum[high] = (sum[high] as number) + s20;
  sum[high + 1] = (sum[high + 1] as number) + s21;
  sum[high + 2] = (sum[high + 2] as number) + s22;
}
