/** What a session should come to, with its range: the profile is not sure, and neither are the hands. */
import { random } from "../../numeric/random.ts";
import { peakToValley } from "../../optics/quality.ts";
import { type Grid, rollOf } from "./figuringChoice.ts";
import type { Hands } from "./figuringHands.ts";

/** What is known before a session. */
export interface Outlook {
  /** heights of the profile at the places, nm, without mean and focus */
  readonly heights: readonly number[];
  /** how they may be off, nm, each entry one standard uncertainty of its own; absent where the profile came without uncertainty */
  readonly unsure?: readonly (readonly number[])[];
  /** rms of what no stroke changes, nm: astigmatism; default 0 */
  readonly besideRms?: number;
  /** glass that the usual hands take at each place, nm, without mean and focus */
  readonly taken: readonly number[];
  /** what they may take amiss, nm, without mean and focus: each entry one standard uncertainty of its own cause; default nothing */
  readonly amiss?: readonly (readonly number[])[];
  /** the places, rising, and the share of the area that each stands for */
  readonly grid: Pick<Grid, "q" | "weights">;
  /** what is known of the maker's hands */
  readonly hands: Pick<Hands, "gain" | "doubt">;
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
  /** heights at the places */
  readonly heights: readonly number[];
  /** 95 %; absent where the profile came without uncertainty */
  readonly rms95?: readonly [number, number];
  /** 95 %; absent where the profile came without uncertainty */
  readonly pv95?: readonly [number, number];
  /** of meeting the goal; absent without goal or uncertainty */
  readonly probability?: number;
}

const draws = 500;
/** One day all is kept well, another nothing: logarithm of how much is taken amiss, standard uncertainty. COMMON PRACTICE */
const FROM_DAY_TO_DAY = 0.4;
/** Enough to choose by. */
const fewDraws = 200;

/**
 * Foretells a surface after a session.
 *
 * Seeded draws of the profile within its covariance, of the hands' gain (its logarithm spread evenly to both sides) and of what
 * may be taken amiss. With work the value is the middle of the draws, for what is left can only be larger than none.
 *
 * @throws {RangeError} where places, heights and glass taken differ in number
 * @example without work and without uncertainty the surface is what it is
 * ```ts
 * import assert from "node:assert/strict";
 * const heights = [30, -10, -20, -10, 30], grid = { q: [0.1, 0.3, 0.5, 0.7, 0.9], weights: [0.2, 0.2, 0.2, 0.2, 0.2] };
 * const taken = heights.map(() => 0), hands = { gain: 1, doubt: 0.3 };
 * const now = expectedAfter({ heights, taken, grid, hands, seed: 1 });
 * assert.equal(now.rms95, undefined);
 * assert.ok(now.rms > 20 && now.rms < 35);
 * ```
 */
export function expectedAfter(outlook: Outlook): Expected {
  const { heights: base, unsure, taken, grid, goalNm, hands, besideRms = 0 } = outlook;
  const { q, weights } = grid;
  if (taken.length !== q.length || base.length !== q.length) {
    throw new RangeError(
      `expectedAfter requires as many places as heights and glass taken, got ${q.length}, ${base.length} and ${taken.length}`,
    );
  }
  const heights = base.map((h, i) => h - hands.gain * (taken[i] ?? 0));
  const rmsWith = (h: ArrayLike<number>): number => Math.hypot(rmsOf(h, weights), besideRms);
  const plain = { rms: rmsWith(heights), pv: peakToValley(heights, q), heights };
  if (unsure === undefined) return plain;
  const drawn = drawAll(outlook, unsure).map(({ after }) => after);
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

/** What a session is chosen by, with everything in doubt. */
export interface Outcome {
  /** P-V and four times the rms, as likely exceeded as not, nm: the one counts at the goal, the other on the way */
  readonly rough: number;
  /** chance of the goal; 0 without one */
  readonly chance: number;
  /** chance that the rim rolls farther away, up or down, than it does today, by more than `EDGE_WORSE` */
  readonly edgeRisk: number;
}

/** An edge is worse, nm of glass: a third of an eighth of a wave. COMMON PRACTICE */
export const EDGE_WORSE = 20;

/** P-V over rms of a smooth surface. */
const RMS_COUNTS = 4;

/** What a session is chosen by, from fewer draws; without uncertainty that of the heights. */
export function outcomeOf(outlook: Outlook): Outcome {
  const { heights, taken, unsure = [], hands, grid: { q, weights }, goalNm = 0 } = outlook;
  const drawn = outlook.unsure === undefined
    ? [{ before: heights, after: heights.map((h, i) => h - hands.gain * (taken[i] ?? 0)) }]
    : drawAll(outlook, unsure, fewDraws);
  const worse = drawn.filter(({ before, after }) =>
    Math.abs(rollOf(after, q)) > Math.abs(rollOf(before, q)) + EDGE_WORSE
  );
  const pv = drawn.map(({ after }) => peakToValley(after, q));
  return {
    rough: middleOf(
      drawn.map(({ after }, i) => (pv[i] ?? NaN) + RMS_COUNTS * rmsOf(after, weights)),
    ),
    chance: pv.filter((v) => v <= goalNm).length / drawn.length,
    edgeRisk: worse.length / drawn.length,
  };
}

/** An interval that its own value lies in. */
function around(value: number, [low, high]: readonly [number, number]): [number, number] {
  return [Math.min(value, low), Math.max(value, high)];
}

/** A draw's part that no session changes: surface before, and the numbers drawn for hands and for what goes amiss. */
interface BeforeSession {
  readonly before: Float64Array;
  readonly gain: number;
  readonly amissToday: number;
  readonly amiss: readonly number[];
}

/** Draws so far, and one more. */
interface Begun {
  readonly drawn: BeforeSession[];
  readonly next: () => BeforeSession;
}

/** Draws of one surface, by how many causes go amiss: every session of a plan begins with the same, and the few are the first of the many. */
const begun = new WeakMap<readonly (readonly number[])[], Map<string, Begun>>();

function drawBefore(
  { heights, amiss = [], seed }: Outlook,
  unsure: readonly (readonly number[])[],
  count: number,
): readonly BeforeSession[] {
  const known = begun.get(unsure) ?? new Map<string, Begun>();
  begun.set(unsure, known);
  const under = `${seed} ${amiss.length} ${heights.join()}`;
  let begin = known.get(under);
  if (begin === undefined) {
    const source = random(seed), all = unsure.map((own) => Float64Array.from(own));
    const causes = amiss.length, start = Float64Array.from(heights);
    // no entry makes the number of rows a multiple of four
    while (all.length % 4 !== 0) all.push(new Float64Array(start.length));
    const normals = new Float64Array(all.length), rowOf = rowsOf(start.length);
    const next = (): BeforeSession => {
      const gain = source.normal(), before = rowOf();
      before.set(start);
      for (let k = 0; k < unsure.length; k++) normals[k] = source.normal();
      for (let k = 0; k < all.length; k += 4) addFour(before, all, normals, k);
      const amissToday = source.normal();
      return { before, gain, amissToday, amiss: Array.from({ length: causes }, source.normal) };
    };
    known.set(under, begin = { drawn: [], next });
  }
  const { drawn, next } = begin;
  while (drawn.length < count) drawn.push(next());
  return drawn.length === count ? drawn : drawn.slice(0, count);
}

function drawAll(
  outlook: Outlook,
  unsure: readonly (readonly number[])[],
  count = draws,
): { readonly before: Float64Array; readonly after: Float64Array }[] {
  const { hands } = outlook, taken = Float64Array.from(outlook.taken);
  const amiss = (outlook.amiss ?? []).map((own) => Float64Array.from(own));
  const rowOf = rowsOf(taken.length);
  return drawBefore(outlook, unsure, count).map((drawn) => {
    const { before } = drawn;
    const gain = hands.gain * Math.exp(hands.doubt * drawn.gain);
    const after = rowOf();
    after.set(before);
    add(after, taken, -gain);
    const amissToday = gain * Math.exp(FROM_DAY_TO_DAY * drawn.amissToday);
    amiss.forEach((own, i) => add(after, own, amissToday * (drawn.amiss[i] ?? 0)));
    return { before, after };
  });
}

/** Rows of so many numbers, a hundred in one piece of memory. */
function rowsOf(length: number): () => Float64Array {
  let room = new Float64Array(0), at = 0;
  return () => {
    if (at >= room.length) [room, at] = [new Float64Array(100 * length), 0];
    return room.subarray(at, at += length);
  };
}

function add(to: Float64Array, own: Float64Array, times: number): void {
  for (let i = 0; i < to.length; i++) to[i] = (to[i] as number) + times * (own[i] as number);
}

/** The same of four rows, one after the other at each place: their sums are read and written once. */
function addFour(
  to: Float64Array,
  rows: readonly Float64Array[],
  times: Float64Array,
  first: number,
): void {
  const a = rows[first] as Float64Array, b = rows[first + 1] as Float64Array;
  const c = rows[first + 2] as Float64Array, d = rows[first + 3] as Float64Array;
  const ta = times[first] as number, tb = times[first + 1] as number;
  const tc = times[first + 2] as number, td = times[first + 3] as number;
  for (let i = 0; i < to.length; i++) {
    let sum = to[i] as number;
    sum += ta * (a[i] as number);
    sum += tb * (b[i] as number);
    sum += tc * (c[i] as number);
    sum += td * (d[i] as number);
    to[i] = sum;
  }
}

function middleOf(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}

function rmsOf(heights: ArrayLike<number>, weights: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < weights.length; i++) {
    sum += (weights[i] as number) * (heights[i] ?? 0) ** 2;
  }
  return Math.sqrt(sum);
}

function ends(values: readonly number[]): [number, number] {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (p: number): number => sorted[Math.round(p * (sorted.length - 1))] ?? NaN;
  return [at(0.025), at(0.975)];
}
