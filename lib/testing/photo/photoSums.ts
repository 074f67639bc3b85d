/** Sums of squares over whole photographs, with their slopes: what a fit goes down. */
import { pixelModel } from "./photoCamera.ts";
import { type Mirror, OWN, OWN_COUNT, TONE_KNOTS } from "./photoModel.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import type { Normal } from "./photoSteps.ts";
import type { Term } from "./photoTerms.ts";
import { isMonotone } from "./photoTone.ts";
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

const NONE: ReadonlySet<number> = new Set();

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
}

/** Pixels whose slopes are kept before they are multiplied with one another. */
const BLOCK = 64;

function addPhoto(photo: PhotoPixels, own: Float64Array, mirror: Mirror, sums: Sums): number {
  const { slopes, from, noise, every, held } = sums, { x, y, value, weight } = photo;
  if (!isPossible(own)) return Infinity;
  const head = 1 + mirror.shapes.length, count = head + OWN_COUNT;
  const seen = pixelModel(photo, own, mirror, slopes);
  const row = new Float64Array(count), offs = new Float64Array(BLOCK);
  const columns = Array.from({ length: count }, () => new Float64Array(BLOCK));
  const wanted = columns.map((_, a) => a).filter((a) => !held.has(a - head));
  const used = wanted.map((a) => columns[a] as Float64Array);
  const placed = wanted.map((a) => a < head ? a : from + a - head);
  let cost = 0, filled = 0;
  for (let i = 0; i < value.length; i += every) {
    if (weight[i] === 0) continue;
    const px = x[i] as number, py = y[i] as number, guess = seen.at(px, py);
    const off = ((value[i] as number) - guess) / noise;
    cost += off * off;
    if (!slopes) continue;
    seen.slopes(row);
    offs[filled] = off;
    for (let a = 0; a < count; a++) {
      (columns[a] as Float64Array)[filled] = (row[a] as number) / noise;
    }
    filled++;
    if (filled < BLOCK) continue;
    addBlock(used, offs, filled, placed, sums);
    filled = 0;
  }
  if (slopes) addBlock(used, offs, filled, placed, sums);
  return cost;
}

/** Brightest value of the camera's power that its curve must still rise to. */
const WHITE = 1.05;

function isPossible(own: Float64Array): boolean {
  const power = own[OWN.power] as number;
  return power > 0.05 && power < 3 && (own[OWN.radius] as number) > 5 &&
    isMonotone(own.subarray(OWN.tone, OWN.tone + TONE_KNOTS), WHITE);
}

/** Adds the products of some pixels' slopes with one another and with what is left of the pixels. */
function addBlock(
  columns: readonly Float64Array[],
  offs: Float64Array,
  filled: number,
  placed: readonly number[],
  { right, square, size }: Sums,
): void {
  const put = (a: number, b: number, v: number): void => {
    const p = placed[a] as number, q = placed[b] as number;
    square[p * size + q] = (square[p * size + q] as number) + v;
    if (a !== b) square[q * size + p] = (square[q * size + p] as number) + v;
  };
  // two columns with two others at once: half the reading of one with one
  for (let a = 0; a < columns.length; a += 2) {
    const a0 = columns[a] as Float64Array, a1 = columns[a + 1] ?? offs, hasA = a1 !== offs;
    product(a0, a1, offs, offs, filled);
    const p = placed[a] as number;
    right[p] = (right[p] as number) + (four[0] as number);
    if (hasA) {
      const q = placed[a + 1] as number;
      right[q] = (right[q] as number) + (four[2] as number);
    }
    for (let b = 0; b <= a; b += 2) {
      const b0 = columns[b] as Float64Array, b1 = columns[b + 1] ?? offs, hasB = b1 !== offs;
      product(a0, a1, b0, b1, filled);
      put(a, b, four[0] as number);
      if (hasB && b < a) put(a, b + 1, four[1] as number);
      if (!hasA) continue;
      put(a + 1, b, four[2] as number);
      if (hasB) put(a + 1, b + 1, four[3] as number);
    }
  }
}

const four = new Float64Array(4);

/** Sums of products of each of two columns with each of two others, into `four`. */
function product(
  a0: Float64Array,
  a1: Float64Array,
  b0: Float64Array,
  b1: Float64Array,
  count: number,
): void {
  let s00 = 0, s01 = 0, s10 = 0, s11 = 0;
  for (let k = 0; k < count; k++) {
    const x0 = a0[k] as number, x1 = a1[k] as number, y0 = b0[k] as number, y1 = b1[k] as number;
    s00 += x0 * y0;
    s01 += x0 * y1;
    s10 += x1 * y0;
    s11 += x1 * y1;
  }
  four[0] = s00;
  four[1] = s01;
  four[2] = s10;
  four[3] = s11;
}
