/** What a spell should come to, with its range: the profile is not sure, and neither is the rate. */
import { choleskyOfCovariance } from "../../numeric/smallMatrix.ts";
import { random } from "../../numeric/random.ts";
import { peakToValley } from "../../optics/quality.ts";
import { modeShape, type ProfileModes } from "./figuringModes.ts";

/** What is known before a spell. */
export interface Outlook {
  /** the profile in smooth shapes, as believed today */
  readonly found: ProfileModes;
  /** glass that the spell takes at each place, nm, without mean and focus */
  readonly taken: readonly number[];
  /** places of equal area: square of the radius over that of the rim */
  readonly q: readonly number[];
  /** standard uncertainty of the rate, as a share */
  readonly rateDoubt: number;
  /** rms by which the shape of what is taken may differ, nm; default 0 */
  readonly shapeDoubtNm?: number;
  /** wanted P-V of the glass, nm */
  readonly goalNm?: number;
  /** of the random draws */
  readonly seed: number;
}

/** A surface as it is expected to be; nm of glass at best focus. */
export interface Expected {
  /** root mean square by area */
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
 * Foretells a surface after a spell.
 *
 * Value: what is believed, less what is planned. Range: seeded draws of the profile within its covariance and of the rate
 * within its doubt (its logarithm spread evenly to both sides) and of the footprint's shape. Rings finer than the shapes of `profileModes` are not seen,
 * and not in it.
 *
 * @throws {RangeError} where places and glass taken differ in number
 * @example without work only the profile's own doubt remains
 * ```ts
 * import assert from "node:assert/strict";
 * const q = [0.1, 0.3, 0.5, 0.7, 0.9];
 * const found = { modes: [{ order: 2, measured: 30, believed: 30 }] };
 * const now = expectedAfter({ found, taken: q.map(() => 0), q, rateDoubt: 0.3, seed: 1 });
 * assert.equal(now.rms95, undefined);
 * assert.ok(now.rms > 20 && now.rms < 35);
 * ```
 */
export function expectedAfter(outlook: Outlook): Expected {
  const { found, taken, q, goalNm } = outlook;
  if (taken.length !== q.length) {
    throw new RangeError(
      `expectedAfter requires as many places as glass taken, got ${q.length} and ${taken.length}`,
    );
  }
  const amounts = found.modes.map(({ believed }) => believed);
  const heights = surface(shapesOf(found, q), amounts, taken, 1);
  const middle = { rms: rmsOf(heights), pv: peakToValley(heights, q), heights };
  if (found.covariance === undefined) return middle;
  const thrown = throwAll(outlook, amounts, found.covariance);
  const rms = thrown.map((h) => rmsOf(h)), pv = thrown.map((h) => peakToValley(h, q));
  return {
    ...middle,
    rms95: ends(rms),
    pv95: ends(pv),
    ...(goalNm === undefined
      ? {}
      : { probability: pv.filter((v) => v <= goalNm).length / pv.length }),
  };
}

function throwAll(
  { found, taken, q, rateDoubt, shapeDoubtNm = 0, seed }: Outlook,
  amounts: readonly number[],
  covariance: readonly (readonly number[])[],
): number[][] {
  const tiny = 1e-9 + 1e-9 * covariance.reduce((s, row, i) => s + (row[i] ?? 0), 0);
  // rounding leaves the two halves apart where readings tell next to nothing
  const even = covariance.map((row, i) =>
    row.map((v, j) => (v + (covariance[j]?.[i] ?? v)) / 2 + (i === j ? tiny : 0))
  );
  const root = choleskyOfCovariance(even);
  const each = shapeDoubtNm / Math.sqrt(amounts.length);
  const shapes = shapesOf(found, q);
  const source = random(seed), spread = Math.sqrt(Math.log(1 + rateDoubt * rateDoubt));
  return Array.from({ length: draws }, () => {
    const z = amounts.map(() => source.normal());
    const drawn = amounts.map((value, i) =>
      value + z.reduce((sum, v, j) => sum + (root[i]?.[j] ?? 0) * v, each * source.normal())
    );
    return surface(shapes, drawn, taken, Math.exp(spread * source.normal()));
  });
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
