/** What a session should come to, with its range: the profile is not sure, and neither are the hands. */
import { choleskyOfCovariance } from "../../numeric/smallMatrix.ts";
import { random } from "../../numeric/random.ts";
import { peakToValley } from "../../optics/quality.ts";
import type { Hands } from "./figuringHands.ts";
import { modeShape, type ProfileModes } from "./figuringModes.ts";

/** What is known before a session. */
export interface Outlook {
  /** the profile in smooth shapes, as believed today */
  readonly found: ProfileModes;
  /** heights of the profile at the places, nm, without mean and focus; default those that are believed of the shapes */
  readonly heights?: readonly number[];
  /** rms of what no stroke changes, nm: astigmatism; default 0 */
  readonly besideRms?: number;
  /** glass that the usual hands take at each place, nm, without mean and focus */
  readonly taken: readonly number[];
  /** by how much that changes as footprints widen, nm for one unit of the logarithm; default nothing */
  readonly widening?: readonly number[];
  /** places of equal area: square of the radius over that of the rim */
  readonly q: readonly number[];
  /** what is known of the maker's hands */
  readonly hands: Pick<Hands, "gain" | "doubt" | "widthDoubt">;
  /** rms by which the shape of what is taken may differ, nm; default 0 */
  readonly shapeDoubtNm?: number;
  /** wanted P-V of the glass, nm */
  readonly goalNm?: number;
  /** of the random draws */
  readonly seed: number;
}

/** A surface as it is expected to be; nm of glass at best focus. */
export interface Expected {
  /** the middle of what it may be; of the believed value itself where there is no work or no uncertainty */
  readonly rms: number;
  /** peak to valley */
  readonly pv: number;
  /** heights at the places of equal area */
  readonly heights: readonly number[];
  /** 95 %; absent where the profile came without uncertainty */
  readonly rms95?: readonly [number, number];
  /** 95 %; absent where the profile came without uncertainty */
  readonly pv95?: readonly [number, number];
  /** of meeting the goal; absent without goal or uncertainty */
  readonly probability?: number;
}

const draws = 500;

/**
 * Foretells a surface after a session.
 *
 * Seeded draws of the profile within its covariance, of the hands' gain (its logarithm spread evenly to both sides), of the
 * footprints' width and of their shape. With work the value is the middle of the draws, for what is left can only be larger
 * than none. Rings finer than the shapes of `profileModes` stay as they are.
 *
 * @throws {RangeError} where places and glass taken differ in number
 * @example without work and without uncertainty the surface is what it is
 * ```ts
 * import assert from "node:assert/strict";
 * const q = [0.1, 0.3, 0.5, 0.7, 0.9];
 * const found = { modes: [{ order: 2, measured: 30, believed: 30 }] };
 * const hands = { gain: 1, doubt: 0.3, widthDoubt: 0.05 };
 * const now = expectedAfter({ found, taken: q.map(() => 0), q, hands, seed: 1 });
 * assert.equal(now.rms95, undefined);
 * assert.ok(now.rms > 20 && now.rms < 35);
 * ```
 */
export function expectedAfter(outlook: Outlook): Expected {
  const { found, taken, q, goalNm, hands, besideRms = 0 } = outlook;
  if (taken.length !== q.length) {
    throw new RangeError(
      `expectedAfter requires as many places as glass taken, got ${q.length} and ${taken.length}`,
    );
  }
  const base = outlook.heights ?? surface(
    shapesOf(found, q),
    found.modes.map(({ believed }) => believed),
    q.map(() => 0),
    0,
  );
  const heights = base.map((h, i) => h - hands.gain * (taken[i] ?? 0));
  const rmsWith = (h: readonly number[]): number => Math.hypot(rmsOf(h), besideRms);
  const plain = { rms: rmsWith(heights), pv: peakToValley(heights, q), heights };
  const covariance = found.measuredCovariance ?? found.covariance;
  if (covariance === undefined) return plain;
  const drawn = drawAll(outlook, base, covariance);
  const rms = drawn.map(rmsWith), pv = drawn.map((h) => peakToValley(h, q));
  const isWorked = taken.some((v) => v !== 0);
  return {
    ...(isWorked ? { rms: middleOf(rms), pv: middleOf(pv), heights } : plain),
    rms95: isWorked ? ends(rms) : around(plain.rms, ends(rms)),
    pv95: isWorked ? ends(pv) : around(plain.pv, ends(pv)),
    ...(goalNm === undefined
      ? {}
      : { probability: pv.filter((v) => v <= goalNm).length / pv.length }),
  };
}

/** An interval that its own value lies in. */
function around(value: number, [low, high]: readonly [number, number]): [number, number] {
  return [Math.min(value, low), Math.max(value, high)];
}

function drawAll(
  { found, taken, widening, q, hands, shapeDoubtNm = 0, seed }: Outlook,
  base: readonly number[],
  covariance: readonly (readonly number[])[],
): number[][] {
  const tiny = 1e-9 + 1e-9 * covariance.reduce((s, row, i) => s + (row[i] ?? 0), 0);
  // rounding leaves the two halves apart where readings tell next to nothing
  const even = covariance.map((row, i) =>
    row.map((v, j) => (v + (covariance[j]?.[i] ?? v)) / 2 + (i === j ? tiny : 0))
  );
  const root = choleskyOfCovariance(even);
  const each = shapeDoubtNm / Math.sqrt(found.modes.length);
  const shapes = shapesOf(found, q);
  const source = random(seed);
  return Array.from({ length: draws }, () => {
    const z = found.modes.map(() => source.normal());
    const gain = hands.gain * Math.exp(hands.doubt * source.normal());
    const width = hands.widthDoubt * source.normal();
    const off = found.modes.map((_, i) =>
      z.reduce((sum, v, j) => sum + (root[i]?.[j] ?? 0) * v, each * source.normal())
    );
    const worked = taken.map((v, i) => v + width * (widening?.[i] ?? 0));
    return surface(shapes, off, worked, gain).map((h, i) => h + (base[i] ?? 0));
  });
}

function middleOf(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}

/** Each shape at each place. */
function shapesOf({ modes }: ProfileModes, q: readonly number[]): number[][] {
  return modes.map(({ order }) => q.map((place) => modeShape(order, place)));
}

function surface(
  shapes: readonly (readonly number[])[],
  amounts: readonly number[],
  taken: readonly number[],
  gain: number,
): number[] {
  return taken.map((own, i) =>
    shapes.reduce((sum, shape, k) => sum + (amounts[k] ?? 0) * (shape[i] ?? 0), 0) - gain * own
  );
}

function rmsOf(heights: readonly number[]): number {
  return Math.sqrt(heights.reduce((sum, h) => sum + h * h, 0) / heights.length);
}

function ends(values: readonly number[]): [number, number] {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (p: number): number => sorted[Math.round(p * (sorted.length - 1))] ?? NaN;
  return [at(0.025), at(0.975)];
}
