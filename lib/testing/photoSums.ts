/** Sums of squares over whole photographs, with their slopes: what a fit goes down. */
import { brightness, LIGHT_TERMS, type Mirror, OWN, OWN_COUNT } from "./photoModel.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import type { Normal } from "./photoSteps.ts";
import type { Term } from "./photoTerms.ts";

/** All shapes of some terms, in their order. */
export const shapesOf = (terms: readonly Term[]): Term["shapes"] =>
  terms.flatMap(({ shapes }) => shapes);

/** Turns this near each other are taken as one turn of a grating that only slid along, each known to `TURN_KEPT`, rad. */
export const MAY_BE_KEPT = 0.12;
const TURN_KEPT = 0.004;

/** Least light left for the logarithm. */
const DARKEST = 1e-5;

/** Sum of squares over all photographs, in units of the noise, with what is known beforehand. */
export function evaluator(
  photos: readonly PhotoPixels[],
  terms: readonly Term[],
  axes: number,
  noise: number,
  { every = 1, discs = false } = {},
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
        discs,
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
    for (let k = 0; k < shapes.length; k++) hold(i++, 0, 4 * usual);
  }
  for (const { start, spread } of photos) {
    for (let k = 0; k < OWN_COUNT; k++) hold(i++, start[k] as number, spread[k] as number);
  }
  if (photos.length > 1) {
    const first = size - photos.length * OWN_COUNT + OWN.turn;
    for (let a = first; a < size; a += OWN_COUNT) {
      for (let b = first; b < a; b += OWN_COUNT) {
        const apart = ((at[a] as number) - (at[b] as number)) / TURN_KEPT;
        if (Math.abs(apart) * TURN_KEPT > MAY_BE_KEPT) continue;
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
  /** whether slopes by place and size of the disc are wanted */
  readonly discs: boolean;
}

/** The unknowns whose slopes are taken by a small step: turn, place and size of the disc. */
const STEPPED = [[OWN.turn, 1e-4], [OWN.x, 1e-3], [OWN.y, 1e-3], [OWN.radius, 1e-3]] as const;

function addPhoto(
  photo: PhotoPixels,
  own: Float64Array,
  mirror: Mirror,
  sums: Sums,
): number {
  const { slopes, size, from, noise, every, discs, right, square } = sums;
  const { x, y, value, weight } = photo, power = own[OWN.power] as number;
  if (!(power > 0.05 && power < 3 && (own[OWN.radius] as number) > 5)) return Infinity;
  const head = 1 + mirror.shapes.length, count = head + OWN_COUNT;
  const seen = pixelModel(photo, own, mirror, slopes);
  const moved = slopes
    ? STEPPED.slice(0, discs ? 4 : 1).map(([k, step]) => {
      const other = own.slice();
      other[k] = (other[k] as number) + step;
      return { k: head + k, step, at: pixelModel(photo, other, mirror, false).at };
    })
    : [];
  const row = new Float64Array(count), block = new Float64Array(count * count);
  const side = new Float64Array(count);
  let cost = 0;
  for (let i = 0; i < value.length; i += every) {
    if (weight[i] === 0) continue;
    const px = x[i] as number, py = y[i] as number, guess = seen.at(px, py);
    const off = ((value[i] as number) - guess) / noise;
    cost += off * off;
    if (!slopes) continue;
    seen.slopes(row);
    for (const { k, step, at } of moved) row[k] = (at(px, py) - guess) / step;
    for (let a = 0; a < count; a++) {
      const ra = (row[a] as number) / noise;
      if (ra === 0) continue;
      side[a] = (side[a] as number) + ra * off;
      const base = a * count, scaled = ra / noise;
      for (let b = 0; b <= a; b++) {
        block[base + b] = (block[base + b] as number) + scaled * (row[b] as number);
      }
    }
  }
  if (!slopes) return cost;
  const place = (a: number): number => a < head ? a : from + a - head;
  for (let a = 0; a < count; a++) {
    right[place(a)] = (right[place(a)] as number) + (side[a] as number);
    for (let b = 0; b <= a; b++) {
      const v = block[a * count + b] as number, p = place(a), q = place(b);
      square[p * size + q] = (square[p * size + q] as number) + v;
      if (a !== b) square[q * size + p] = (square[q * size + p] as number) + v;
    }
  }
  return cost;
}

/** The camera's value of a pixel: light's level over the disc, the mirror's stripes, fog, and the camera's curve. */
export function pixelModel(
  { bench }: PhotoPixels,
  own: Float64Array,
  mirror: Mirror,
  wanted: boolean,
): { at(px: number, py: number): number; slopes(row: Float64Array): void } {
  const face = brightness(bench, own, mirror, wanted), head = 1 + mirror.shapes.length;
  const cx = own[OWN.x] as number, cy = own[OWN.y] as number, radius = own[OWN.radius] as number;
  const level = own.subarray(OWN.light, OWN.light + LIGHT_TERMS),
    over = new Float64Array(LIGHT_TERMS);
  const fog = own[OWN.fog] as number, power = own[OWN.power] as number;
  const veil = own[OWN.veil] as number;
  let light = 0, lamp = 0, all = 0, value = 0;
  return {
    at(px, py): number {
      const u = (px - cx) / radius, v = -(py - cy) / radius;
      light = face.at(u * bench.half, v * bench.half) + fog;
      lightTerms(u, v, over);
      let sum = 0;
      for (let k = 0; k < LIGHT_TERMS; k++) sum += (level[k] as number) * (over[k] as number);
      lamp = Math.exp(sum);
      all = Math.max(DARKEST, lamp * light + veil);
      value = Math.exp(power * Math.log(all));
      return value;
    },
    slopes(row): void {
      const byAll = (value * power) / all, byLight = byAll * lamp;
      for (let j = 0; j < head; j++) row[j] = byLight * (face.byMirror[j] as number);
      row[head + OWN.offset] = byLight * (face.byOwn[0] as number);
      row[head + OWN.phase] = byLight * (face.byOwn[1] as number);
      row[head + OWN.sharpness] = byLight * (face.byOwn[2] as number);
      for (let k = 0; k < LIGHT_TERMS; k++) {
        row[head + OWN.light + k] = byLight * light * (over[k] as number);
      }
      row[head + OWN.fog] = byLight;
      row[head + OWN.veil] = byAll;
      row[head + OWN.power] = value * Math.log(all);
    },
  };
}

/** 1 x y xx xy yy xxx xxy xyy yyy */
function lightTerms(u: number, v: number, out: Float64Array): void {
  out[0] = 1;
  out[1] = u;
  out[2] = v;
  out[3] = u * u;
  out[4] = u * v;
  out[5] = v * v;
  out[6] = u * u * u;
  out[7] = u * u * v;
  out[8] = u * v * v;
  out[9] = v * v * v;
}
