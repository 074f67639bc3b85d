/** Places to begin a fit from: offset, conic, turn and the grating's place, tried on a coarse net. */
import { solvePositive } from "../../numeric/positive.ts";
import { radialGrid } from "../../optics/quality.ts";
import { travelFactor } from "../bands/ronchi.ts";
import { brightness } from "./photoBrightness.ts";
import { type Bench, OWN, OWN_COUNT } from "./photoModel.ts";
import { BLOCK } from "./photoPhase.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import type { PhotoFit } from "./photoState.ts";
import type { Shape } from "./photoTerms.ts";

/** A state to begin from. */
export interface FirstState {
  readonly conic: number;
  readonly own: readonly Float64Array[];
}

const CONICS = [-1.6, -1.1, -0.7, -0.3, 0.1, 0.5];
const STARTS = 3;

/** Pixels enough to compare a start with. */
const LOOKED_AT = 150;

/**
 * The most promising states, best first, unlike one another.
 *
 * Stripes turned over (offset and figure of the other sign) look the same behind the same grating; the sign written in
 * the record decides.
 */
export function firstStates(photos: readonly PhotoPixels[]): readonly FirstState[] {
  const turned = photos.map((photo) => {
    const own = photo.start.slice();
    own[OWN.turn] = turnOf(photo);
    return own;
  });
  const perConic = CONICS.map((conic) => {
    const found = photos.map((photo, n) => bestOwn(photo, turned[n] as Float64Array, conic));
    return {
      conic,
      own: found.map(({ own }) => own),
      likeness: found.reduce((sum, f) => sum + f.likeness, 0),
    };
  });
  return perConic.sort((a, b) => b.likeness - a.likeness).slice(0, STARTS);
}

/** Offset and phase whose stripes go best with the picture's. */
function bestOwn(
  photo: PhotoPixels,
  start: Float64Array,
  conic: number,
): { own: Float64Array; likeness: number } {
  const stated = start[OWN.offset] ?? 0;
  const reach = Math.min(3, 0.6 * Math.abs(stated) + 0.5);
  let best = { own: start, likeness: -Infinity };
  for (let k = -6; k <= 6; k++) {
    const own = start.slice();
    own[OWN.offset] = stated + (k * reach) / 6;
    const found = bestPhase(photo, own, conic);
    if (found.likeness > best.likeness) best = found;
  }
  return best;
}

/**
 * The grating's place by one linear fit: stripes at any place are the stripes at two places a quarter apart, mixed.
 * Light and fog follow from the strength of the mixture.
 */
function bestPhase(
  photo: PhotoPixels,
  start: Float64Array,
  conic: number,
): { own: Float64Array; likeness: number } {
  const none = { conic, shapes: [], amounts: [], axes: 0 }, still = start.slice();
  still[OWN.duty] = 0; // a first guess is all but this
  const quarter = still.slice();
  quarter[OWN.phase] = Math.PI / 2;
  const even = brightness(photo.bench, still, none, false);
  const odd = brightness(photo.bench, quarter, none, false);
  const { half } = photo.bench, radius = start[OWN.radius] as number;
  const power = start[OWN.power] as number, every = Math.ceil(photo.x.length / LOOKED_AT);
  const x = new Float64Array(BLOCK), y = new Float64Array(BLOCK), seen = new Float64Array(BLOCK);
  let count = 0, total = 0, sumA = 0, sumB = 0, sumAA = 0, sumAB = 0, sumBB = 0;
  let seen1 = 0, seenA = 0, seenB = 0, filled = 0;
  const add = (): void => {
    even.look(x, y, filled);
    odd.look(x, y, filled);
    for (let i = 0; i < filled; i++) {
      const a = even.light[i] as number, b = odd.light[i] as number, v = seen[i] as number;
      total += v * v;
      sumA += a;
      sumB += b;
      sumAA += a * a;
      sumAB += a * b;
      sumBB += b * b;
      seen1 += v;
      seenA += a * v;
      seenB += b * v;
    }
    count += filled;
    filled = 0;
  };
  for (let i = 0; i < photo.x.length; i += every) {
    x[filled] = (half * ((photo.x[i] as number) - (start[OWN.x] as number))) / radius;
    y[filled] = (-half * ((photo.y[i] as number) - (start[OWN.y] as number))) / radius;
    seen[filled] = Math.pow(Math.max(0, photo.value[i] as number), 1 / power);
    if (++filled === BLOCK) add();
  }
  if (filled > 0) add();
  const m = Float64Array.of(count, sumA, sumB, sumA, sumAA, sumAB, sumB, sumAB, sumBB);
  const right = Float64Array.of(seen1, seenA, seenB);
  const mean = (right[0] as number) / count, spread = total - count * mean * mean;
  const mix = solvePositive(m, right);
  if (mix === undefined) return { own: start, likeness: -Infinity };
  const [level = 0, a = 0, b = 0] = mix, strength = Math.max(1e-4, Math.sqrt(a * a + b * b));
  const own = start.slice();
  own[OWN.phase] = Math.atan2(b, a);
  const base = 0.5 * (a + b - strength); // the unstriped half of the light counts in each of the two
  own[OWN.fog] = Math.min(2, Math.max(-0.05, (level + base) / strength));
  own[OWN.light] = Math.log(strength);
  const explained = level * (right[0] as number) + a * (right[1] as number) +
    b * (right[2] as number) -
    count * mean * mean;
  return { own, likeness: explained / Math.max(spread, 1e-12) };
}

/** Turn of the stripes: the direction across which brightness changes most, over the whole disc. */
function turnOf(photo: PhotoPixels): number {
  const { place, value, across } = photo;
  const at = new Float64Array((place.at(-1) ?? 0) + across + 1).fill(NaN);
  for (let i = 0; i < place.length; i++) at[place[i] as number] = value[i] as number;
  let xx = 0, xy = 0, yy = 0;
  for (let i = 0; i < place.length; i++) {
    const p = place[i] as number, right = at[p + 1] as number, left = at[p - 1] as number;
    const down = at[p + across] as number, up = at[p - across] as number;
    if (!Number.isFinite(right + left + down + up)) continue; // at the rim
    const gx = right - left, gy = up - down;
    xx += gx * gx;
    xy += gx * gy;
    yy += gy * gy;
  }
  return 0.5 * Math.atan2(2 * xy, xx - yy);
}

// Where the centre of curvature lies of the conic that fits a whole figure best: an offset is measured from there.

const AROUND = 16;

/** Share of q = (r/a)^2 in a shape beside piston and q^2, which are a conic's: by area-weighted least squares. */
function focusShare(shape: Shape): number {
  const { q, weights } = radialGrid(20);
  // q freed of 1 and q^2 over the disc, 0 to 1: q^2's share is 15/16 (q^2 - 1/3) at a mean of 1/2
  const pure = q.map((v) => v - 0.5 - (15 / 16) * (v * v - 1 / 3));
  let sum = 0, size = 0;
  q.forEach((v, i) => {
    let mean = 0;
    for (let k = 0; k < AROUND; k++) {
      const t = (2 * Math.PI * (k + 0.5)) / AROUND, rho = Math.sqrt(v);
      mean += shape(rho * Math.cos(t), rho * Math.sin(t)) / AROUND;
    }
    sum += (weights[i] ?? 0) * (pure[i] ?? 0) * mean;
    size += (weights[i] ?? 0) * (pure[i] ?? 0) * v;
  });
  return sum / size;
}

/**
 * Offset of one photograph's grating, mm, and its standard uncertainty, from the centre of curvature of the best single conic.
 *
 * Shapes beside the conic may hold some focus of their own, which is only another offset: d + k R^2 c / a^2 for c mm of
 * glass at the rim, k = 2 where the lamp moves along, 4 where it stays.
 *
 * @param fit    a fitted mirror
 * @param n      which photograph
 * @param bench  of that photograph
 */
export function offsetOf(
  fit: PhotoFit,
  n: number,
  { radius, half, setUp }: Bench,
): { readonly value: number; readonly u: number } {
  const scale = (4e-6 * radius * radius) / (travelFactor(setUp) * half * half);
  const shares = fit.terms.flatMap(({ shapes }) => shapes.map((f) => scale * focusShare(f)));
  const at = fit.size - (fit.own.length - n) * OWN_COUNT + OWN.offset;
  const places = [at, ...shares.map((_, j) => j + 1)], slopes = [1, ...shares];
  let variance = 0;
  places.forEach((p, i) =>
    places.forEach((q, j) =>
      variance += (slopes[i] ?? 0) * (slopes[j] ?? 0) * (fit.covariance[p * fit.size + q] ?? 0)
    )
  );
  const own = fit.own[n]?.[OWN.offset] ?? NaN;
  const value = shares.reduce((sum, share, j) => sum + share * (fit.amounts[j] ?? 0), own);
  return { value, u: Math.sqrt(Math.max(0, variance)) };
}
